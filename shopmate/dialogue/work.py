"""What lies beside the step in hand: another run, a recipe begun on a part, clocks, the shelf, another project, leaving."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from functools import cache, partial
from pathlib import Path

from shopmate import paths, times
from shopmate.dialogue import answers, before, projects, settings, shelf, temperature
from shopmate.dialogue.asking import UNUSED, Confirm, Dialogue, Item, Recall, attempt, choose, confirm, name, show
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.look_up import calculators, read_guide, tables
from shopmate.phrases import phrase
from shopmate.project.export import export
from shopmate.recipe import Recipe, operation_state
from shopmate.session import (
    PARTS,
    WHERE,
    Run,
    build_order,
    events_of,
    in_place_of_shipped,
    last_project,
    missing,
    next_for,
    recipe_file,
    recipe_paths,
)

TO_TRY = (
    "Type a scale reading, say 391.5, and see how it compares",
    "+ shows a clamp clock that moved as the shop warmed up",
    "Close the window mid-number, then run shopmate demo again",
)
"""What the demo invites to."""

_RECALLED = 300
"""Lines of the log that can be looked back on at the bench; `shopmate log` tells all."""

_RUNS = 2
"""Runs under way in the list of a screen: with the rest of it they are chosen by one digit."""


def start(desk: Desk, path: Path | None) -> Dialogue[None]:
    """Open the project asked for, or the last one, or ask which; ask what to work on where no run is on its bench.

    One that is open by then is the one asked for.
    """
    if desk.has_session:
        yield from projects.tell_trouble(desk)
    else:
        yield from projects.begin(desk, path or last_project())
    if desk.has_session and desk.session.log.path.parent == paths.demo():
        yield from choose(phrase("A demo with invented data. Things to try:"), [Item(words, phrase(words)) for words in TO_TRY])
    if desk.has_session and desk.session.project.run is None:
        yield from other(desk)


def other(desk: Desk) -> Dialogue[None]:
    """Ask what to work on; in another project without a run on its bench that is asked too."""
    while True:
        was = desk.session
        yield from _other(desk)
        if not desk.has_session or desk.session is was or desk.session.project.run is not None:
            return


def look_up(desk: Desk) -> Dialogue[None]:
    """Ask for a calculator, or for other work beside them."""
    if (yield from calculators(desk, Item("other work", phrase("other work")))) is not None:
        yield from other(desk)


def _other(desk: Desk) -> Dialogue[None]:
    session, draws = desk.session, desk.face.draws
    apart = session.told_apart(desk.now())
    runs = [_run(desk, run, apart) for run in session.under_way if draws or run.key != session.project.current]
    runs += [
        Item(f"plan:{plan.key}", _named(desk, plan.title, plan.part), phrase("planned"))
        for plan in session.project.plans.values()
    ]
    # What is always there keeps its number; what comes and goes stands after it.
    works = list(_works(desk))
    items = [item for item, _ in works]
    if draws:
        first, rest = _parted(runs)
        chosen = yield from choose(session.project.name, [*items, *first], leave="bench")
        if chosen == "runs":
            chosen = yield from choose(phrase("Runs under way"), rest)
    else:
        works += list(_of_the_run(desk))
        chosen = yield from choose(phrase("What next?"), [*items, *_held(desk, bool(runs)), *runs], leave="bench")
    if chosen is not None and chosen.startswith("run:"):
        yield from _take_up(desk, chosen.removeprefix("run:"))
    elif chosen is not None and chosen.startswith("plan:"):
        yield from before.take_up(desk, session.project.plans[chosen.removeprefix("plan:")])
    else:
        yield from _do(chosen, works)


def _works(desk: Desk) -> Iterator[tuple[Item, Dialogue[object]]]:
    """Yield all other work in the order of its list; what a screen draws, or reaches by a key of its own, is for lines alone."""
    draws = desk.face.draws
    if not draws:
        yield Item("calculators", phrase("Calculators")), calculators(desk)
        yield Item("where", phrase("Where"), phrase("the steps of this section")), show("section")
    yield Item("begin", phrase("Start a recipe on a part")), begin(desk)
    yield Item("clocks", phrase("Clocks")), show("clocks")
    reading = desk.session.last_reading(desk.now())
    yield Item("temperature", phrase("Shop temperature"), reading), temperature.read(desk)
    if draws:
        note = phrase("data-sheet figures; screws, drills, woods; how it works")
        yield Item("materials", phrase("Shelf, tables, guide"), note), _materials(desk)
    else:
        yield from _shelf_and_tables(desk)
        yield _recalled(desk)
    yield Item("project", phrase("Another project")), projects.another(desk)
    note = phrase("units, characters, decimal mark, age of readings, sound")
    yield Item("settings", phrase("Settings"), note), settings.change(desk)
    yield Item("leave", phrase("Leave shopmate")), leave(desk)
    if not draws:
        yield _guide()


def _of_the_run(desk: Desk) -> Iterator[tuple[Item, Dialogue[object]]]:
    """Yield what can be done to the run on the bench beside its steps."""
    yield Item("give_up", phrase("Give up this run (the one on the bench)"), phrase("the log is kept")), give_up(desk)
    yield from _answers(desk)


def _held(desk: Desk, is_followed: bool) -> list[Item]:
    """Return what can be done to the run on the bench; while there is none, its numbers are kept for it if any follow."""
    items, run = [item for item, _ in _of_the_run(desk)], desk.session.project.run
    if run is not None and run.finished_at is None:
        return items
    return [UNUSED] * len(items) if is_followed else []


def _answers(desk: Desk) -> Iterator[tuple[Item, Dialogue[object]]]:
    """Yield what is added to what was done in the run on the bench."""
    yield Item("correct", phrase("Correct an answer")), answers.correct(desk)
    yield Item("note", phrase("Write a note"), phrase("a line of text, or the file name of a photo")), answers.note(desk)


def _recalled(desk: Desk) -> tuple[Item, Dialogue[object]]:
    """Return the look back on what was done last."""
    return Item("log", phrase("Log"), phrase("what was done last")), _log(desk)


def _shelf_and_tables(desk: Desk) -> Iterator[tuple[Item, Dialogue[object]]]:
    yield Item("shelf", phrase("Shelf"), phrase("materials and their data-sheet figures")), shelf.keep(desk)
    yield Item("tables", phrase("Tables"), phrase("screws, drills, woods, fillers")), tables()


def _guide() -> tuple[Item, Dialogue[object]]:
    return Item("guide", phrase("Guide"), phrase("keys, alarms, recipes of your own, backups")), read_guide()


def _materials(desk: Desk) -> Dialogue[None]:
    """Ask for the shelf, where figures are changed, the tables, where they are looked up, or the guide."""
    works = [*_shelf_and_tables(desk), _guide()]
    chosen = yield from choose(phrase("Shelf, tables, guide"), [item for item, _ in works])
    yield from _do(chosen, works)


def _do(chosen: str | None, works: Iterable[tuple[Item, Dialogue[object]]]) -> Dialogue[None]:
    for item, dialogue in works:
        if item.key == chosen:
            yield from dialogue


def _run(desk: Desk, run: Run, apart: Mapping[str, str]) -> Item:
    section = run.section.name if run.section is not None else phrase("complete")
    return Item(f"run:{run.key}", _title(desk, run, apart), f"{section} · {times.ago(run.last_at, desk.now())}")


def _title(desk: Desk, run: Run, apart: Mapping[str, str]) -> str:
    """Return the recipe and the part of a run, and what tells it from another one of both."""
    named = _named(desk, run.recipe.title, run.part)
    if not (told := apart.get(run.key)):
        return named
    return f"{named} · {told}" if desk.face.draws else f"{named}, {told}"


def _named(desk: Desk, recipe: str, part: str) -> str:
    return f"{recipe} · {part}" if desk.face.draws else phrase("{recipe} on {part}", recipe, part)


def _parted(runs: list[Item]) -> tuple[list[Item], list[Item]]:
    """Return the runs that are listed at once, the last item standing for the rest where there are more, and that rest."""
    if len(runs) <= _RUNS:
        return runs, []
    first, rest = runs[: _RUNS - 1], runs[_RUNS - 1 :]
    planned = any(item.key.startswith("plan:") for item in rest)
    words = "{count} more runs, under way or planned" if planned else "{count} more runs under way"
    return [*first, Item("runs", phrase(words, len(rest)))], rest


# Runs


def _take_up(desk: Desk, key: str) -> Dialogue[None]:
    """Put a run on the bench; the one that is there is gone on with, or ended before its end."""
    session = desk.session
    if key != session.project.current:
        session.choose(key, desk.now())
        return
    run = session.run
    works: list[tuple[Item, Dialogue[object]]] = [
        *_answers(desk),
        _recalled(desk),
        (Item("up", phrase("Give up this run"), phrase("the log is kept")), give_up(desk)),
    ]
    title = _title(desk, run, session.told_apart(desk.now()))
    chosen = yield from choose(title, [Item("on", phrase("Continue this run")), *(item for item, _ in works)])
    yield from _do(chosen, works)


def _log(desk: Desk) -> Dialogue[None]:
    """Show what was done last in the project."""
    session = desk.session
    lines = export(events_of(session.log.path), session.project.name, "lines").splitlines()
    yield Recall(session.project.name, tuple(lines[-_RECALLED:]))


def give_up(desk: Desk) -> Dialogue[None]:
    """End the run on the bench before its end, once that is confirmed."""
    session, run = desk.session, desk.session.run
    text = phrase("Give up '{recipe}' on {part}?", run.recipe.title, run.part)
    explain = phrase("What was done stays in the log. The clocks keep running: a pot keeps heating. End them one by one under +.")
    if (yield from confirm(Confirm(text, explain, phrase("give up run"), phrase("keep it")))):
        yield from attempt(lambda: session.give_up(desk.now()))


def begin(desk: Desk) -> Dialogue[None]:
    """Ask for a part and a recipe, and begin it or plan it once what it needs is read."""
    session = desk.session
    parts = [Item(f"part:{part}", part) for part in session.project.parts]
    new = [Item(f"new:{kind}", phrase("New: {part}", phrase(kind))) for kind in PARTS]
    chosen = yield from choose(
        phrase("Which part?"),
        [*new, Item("words", phrase("New: pick a name from a list")), Item("name", phrase("New: type a name")), *parts],
    )
    if chosen is None:
        return
    recipe = yield from _recipe(desk, chosen.removeprefix("part:"))
    if recipe is None:
        return
    part = yield from _part(desk, chosen)
    if part is None:
        return
    yield from before.begin(desk, part, recipe)


def _recipe(desk: Desk, part: str) -> Dialogue[Recipe | None]:
    """Ask for a recipe: first the next one that the part is ready for, then all in the order of the build."""
    had, now, found = desk.session.project.had(part), desk.now(), recipe_paths()
    recipes: dict[str, Recipe] = {}

    @cache
    def items() -> list[Item | str]:
        """Return all that is listed, read by the first of the threads that asks, beside the screen."""
        operations = operation_state()
        files = [recipe_file(name, path, operations) for name, path in found.items()]
        recipes.update((file.name, file.recipe) for file in files if file.recipe is not None)
        in_order = build_order([*recipes.values()])
        coming = next(iter(next_for(in_order, had)), None)
        first = Item(coming.name, phrase("Next: {recipe}", coming.title)) if coming is not None else UNUSED
        standing = [_standing(found[recipe.name], recipe, had, now) for recipe in in_order]
        return [first, *standing, *(phrase("{recipe} has {problem}", file.name, file.problem) for file in files if file.problem)]

    filling = [partial(lambda number: items()[number], number) for number in range(len(found) + 1)]
    chosen = yield from choose(phrase("Which recipe?"), (), filling=filling)
    return recipes[chosen] if chosen is not None else None


def _standing(path: Path, recipe: Recipe, had: Mapping[str, datetime], now: datetime) -> Item:
    """Return a recipe with how it stands to a part in these states: done, ready, or after what it comes."""
    words = [phrase("Your own recipe, used in place of the shipped one.")] if in_place_of_shipped(path) else []
    if recipe.makes in had:
        words.append(phrase("done {at}", times.wall(had[recipe.makes], now)))
    elif lacking := missing(recipe, had):
        words.append(phrase("once it is {states}", ", ".join(lacking)))
    elif recipe.after:
        words.append(phrase("ready"))
    return Item(recipe.name, recipe.title, " ".join(words))


def _part(desk: Desk, chosen: str) -> Dialogue[str | None]:
    """Return the name of the part that was chosen, which may be new; None where it is not given."""
    session = desk.session
    how, _, part = chosen.partition(":")
    if how == "part":
        return part
    if how == "new":
        return session.free_part(phrase(part))
    if how == "words":
        return (yield from _named_by_words(desk))
    return (yield from name(phrase("Name of the part"), session.free_part(phrase("Part")), "part"))


def _named_by_words(desk: Desk) -> Dialogue[str | None]:
    """Put the name of a part together from words, so that it needs no letters: where it is, and what it is."""
    where = yield from choose(phrase("Where is it?"), [Item(word, phrase(word)) for word in WHERE])
    if where is None:
        return None
    what = yield from choose(phrase("What is it?"), [Item(word, phrase(word)) for word in PARTS])
    if what is None:
        return None
    return desk.session.free_part(phrase("{where}, {what}", phrase(where), phrase(what).lower()))


# Leaving


def leave(desk: Desk) -> Dialogue[None]:
    """Leave the program; while a clock runs, only after asking."""
    if desk.has_session and (words := desk.session.leaving):
        items = [Item("stay", phrase("Stay")), Item("leave", phrase("Leave; everything is recorded"))]
        if (yield from choose(words, items, leave="stay")) != "leave":
            return
    desk.face.leave()
