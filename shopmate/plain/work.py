"""What lies beside the step, in lines: projects, parts and recipes, clocks, shop temperature, settings, leaving."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from shopmate import clock as clocks_
from shopmate.calculator import Measure
from shopmate.dialogue import look_up, question, temperature
from shopmate.dialogue import shelf as shelf_
from shopmate.dialogue.asking import Item
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.plain.lines import BACK, Left
from shopmate.plain.talk import talk
from shopmate.session import (
    CLOCK_LENGTH,
    PARTS,
    READING_HOLDS,
    Session,
    curve,
    events_of,
    free_project_name,
    project_path,
    projects,
    recipe_files,
    shelf,
)
from shopmate.settings import MOST
from shopmate.units import System

if TYPE_CHECKING:
    from shopmate.plain.bench import Plain

_HOLD = Measure("s", low=0, high=MOST["hold_ms"] / 1000)
"""How long Enter may be set to wait."""

_LAST_EVENTS = 20
"""Events of the log that are told at once; `shopmate log` tells all."""


# Projects


def welcome(plain: Plain) -> None:
    """Ask, the first time, for a new project or the demo."""
    items = [
        Item("new", phrase("New project")),
        Item("demo", phrase("Demo"), phrase("a bird hide on a trailer; all its data is invented")),
    ]
    title = phrase("No project yet. Numbers choose; everything is recorded as it is done.")
    chosen = plain.lines.choose(title, items, leave="leave")
    if chosen is None:
        raise Left
    if chosen == "demo":
        open_demo(plain)
    else:
        new_project(plain)


def open_project(plain: Plain, path: Path) -> None:
    """Open a project file and say where the work was left; what stands in the way is said, and another asked for."""
    try:
        session = Session.open(path, plain.now(), shelf(), plain.steady())
    except ShopmateError as error:
        plain.lines.say(str(error))
        choose_project(plain)
        return
    plain.use(session)
    plain.lines.say(phrase("Project opened: {name}.", session.project.name))
    plain.say_where_left(session.left_at)
    if session.project.run is None:
        plain.anywhere(BACK, None)


def open_demo(plain: Plain) -> None:
    """Open the demo project."""
    from shopmate.session.demo import demo_project

    try:
        path = demo_project(plain.now())
    except ShopmateError as error:
        plain.lines.say(str(error))
        choose_project(plain)
    else:
        open_project(plain, path)


def new_project(plain: Plain) -> None:
    """Ask for the name and the units of a new project and open it."""
    name = plain.lines.name(phrase("Name of the project"), free_project_name())
    if name is None:
        choose_project(plain)
        return
    units = [Item("metric", phrase("Metric"), "mm, g, °C"), Item("inch", phrase("Inch"), "in, oz, °F")]
    system = plain.lines.choose(phrase("Units to show; both are understood when typed"), units)
    try:
        path = project_path(name)
        shown: System = "inch" if system == "inch" else "metric"
        session = Session.create(path, name, plain.now(), shelf(), shown, plain.steady())
    except ShopmateError as error:
        plain.lines.say(str(error))
        choose_project(plain)
        return
    plain.use(session)
    inch = session.project.system == "inch"
    plain.lines.say(phrase("Project made: {name}, inch units." if inch else "Project made: {name}, metric units.", name))
    plain.anywhere(BACK, None)


def choose_project(plain: Plain) -> None:
    """Ask which project to work on."""
    items = [Item(str(path), path.stem) for path in projects()]
    items += [Item("new", phrase("New project")), Item("demo", phrase("Demo"), phrase("invented data"))]
    chosen = plain.lines.choose(phrase("Project"), items, leave="back" if plain.has_session else "leave")
    if chosen is None and not plain.has_session:
        raise Left
    if chosen == "new":
        new_project(plain)
    elif chosen == "demo":
        open_demo(plain)
    elif chosen is not None:
        open_project(plain, Path(chosen))


# Other work


def more(plain: Plain) -> None:
    """Ask what to do beside the step: look up, another run, a recipe to begin, another project, the settings."""
    session, now = plain.session, plain.now()
    # What is always there keeps its number; runs come after it.
    items = [
        Item("calculators", phrase("Calculators")),
        Item("where", phrase("Where"), phrase("the steps of this section")),
        Item("begin", phrase("Begin a recipe on a part")),
        Item("clocks", phrase("Clocks")),
        Item("temperature", phrase("Shop temperature"), session.last_reading(now)),
        Item("shelf", phrase("Shelf"), phrase("materials and the figures of their sheets")),
        Item("tables", phrase("Tables"), phrase("screws, drills, woods, fillers")),
        Item("log", phrase("Log"), phrase("what was done last")),
        Item("project", phrase("Another project")),
        Item("settings", phrase("Settings"), phrase("units, signs, decimal mark, how long a reading holds, sound")),
        Item("leave", phrase("Leave shopmate")),
        Item("give_up", phrase("Give up the run on the bench"), phrase("it ends before its end")),
    ]
    for run in session.under_way:
        if run.key == session.project.current:
            continue
        section = run.section.name if run.section is not None else phrase("complete")
        note = f"{section}, {clocks_.ago(run.last_at, now)}"
        items.append(Item(f"run:{run.key}", phrase("{recipe} on {part}", run.recipe.title, run.part), note))
    chosen = plain.lines.choose(phrase("What next?"), items, leave="bench")
    if chosen is None:
        plain.say_again()
    elif chosen.startswith("run:"):
        session.choose(chosen.removeprefix("run:"), plain.now())
    else:
        do = {
            "calculators": _calculators, "begin": begin, "clocks": clocks, "temperature": _temperature, "shelf": _shelf,
            "tables": _tables, "log": say_log, "project": choose_project, "settings": change_settings, "leave": leave,
            "give_up": give_up,
        }  # fmt: skip
        plain.say_section() if chosen == "where" else do[chosen](plain)


def begin(plain: Plain) -> None:
    """Ask for a part and a recipe and begin it."""
    session = plain.session
    items = [Item(f"part:{name}", name) for name in session.project.parts]
    items += [Item(f"new:{kind}", phrase("New: {part}", phrase(kind))) for kind in PARTS]
    items.append(Item("name", phrase("New: with a name of its own")))
    chosen = plain.lines.choose(phrase("Which part?"), items)
    if chosen is None:
        return
    found = recipe_files()
    for file in found:
        if file.recipe is None:
            plain.lines.say(phrase("{recipe} has {problem}", file.name, file.problem))
    recipes = {file.name: file.recipe for file in found if file.recipe is not None}
    name = plain.lines.choose(phrase("Which recipe?"), [Item(name, recipe.title) for name, recipe in recipes.items()])
    if name is None:
        return
    part = _part(plain, chosen)
    if part is None:
        return
    session.begin(part, recipes[name], plain.now())
    recipe = recipes[name]
    plain.lines.say(
        phrase("Begun on {part}: {recipe}, version {version} of {date}.", part, recipe.title, recipe.version, recipe.date)
    )
    plain.lines.say(recipe.about, 2)


def _part(plain: Plain, chosen: str) -> str | None:
    """Return the part that was chosen, adding a new one."""
    session = plain.session
    how, _, name = chosen.partition(":")
    if how == "part":
        return name
    if how == "name":
        typed = plain.lines.name(phrase("Name of the part"), session.free_part(phrase("Part")))
        if typed is None or typed in session.project.parts:
            return typed
        return session.add_part(typed, plain.now())
    return session.add_part(session.free_part(phrase(name)), plain.now())


def give_up(plain: Plain) -> None:
    """End the run on the bench before its end, once that is confirmed."""
    if plain.lines.confirm(question.give_up(plain.session.run)):
        plain.attempt(lambda: plain.session.give_up(plain.now()))


def say_log(plain: Plain) -> None:
    """Say the last events of the log."""
    from shopmate.session.export import export

    for line in export(events_of(plain.session.log.path), plain.session.project.name, "lines").splitlines()[-_LAST_EVENTS:]:
        plain.lines.say(line, as_written=True)


def leave(plain: Plain) -> None:
    """Leave; while a clock runs, only after asking."""
    if words := plain.session.leaving:
        items = [Item("stay", phrase("Stay")), Item("leave", phrase("Leave, everything is recorded"))]
        if plain.lines.choose(words, items, leave="stay") != "leave":
            return
    raise Left


# Clocks and settings


def clocks(plain: Plain) -> None:
    """Say all clocks; a number asks to end one, 0 starts one of the user's own."""
    session, say = plain.session, plain.lines.say
    while True:
        now, running = plain.now(), session.clocks
        say(phrase("Clocks" if running else "No clock is running."))
        for number, clock in enumerate(running, 1):
            line = clocks_.line(clock, now)
            say(phrase("{number} {clock}. {action}. If late: {if_late}", number, line, clock.action, clock.if_late))
        seen = [curve.shop(session.project.readings, session.project.clocks.values(), now, session.project.system)]
        seen += [curve.pot_now(clock, drawn, now) for clock, drawn in curve.pots(session.project, session.shelf, now)]
        for picture in seen:
            if picture is not None:
                say(picture.words, 2)
        count = len(running)
        end = [phrase("[1 to {count}] end one", count) if count > 1 else phrase("[1] end it")] if running else []
        keys = ", ".join([*end, phrase("[0] own clock"), phrase("[/] back")])
        text = plain.lines.ask(lambda keys=keys: keys)  # type: ignore[misc]
        if text in (BACK, "", "+"):
            plain.say_again()
            return
        if text == "0":
            _start_own(plain)
        elif text.isdecimal() and len(text) < 6 and 0 < int(text) <= count:
            _end(plain, running[int(text) - 1])
        else:
            say(phrase("'{text}' is none of them.", text))


def _end(plain: Plain, clock: clocks_.Clock) -> None:
    """End a clock, once that is confirmed where it still rules something."""
    asked = question.end_clock(clock, plain.now())
    if asked is None or plain.lines.confirm(asked):
        plain.attempt(lambda: plain.session.end_clock(clock.key, plain.now()))


def _start_own(plain: Plain) -> None:
    text = plain.lines.value(phrase("Own clock: how long? It counts down to DO BEFORE."), CLOCK_LENGTH, "min")
    if text is None:
        return
    plain.attempt(lambda: plain.session.start_own(text, plain.now()))


def _calculators(plain: Plain) -> None:
    talk(plain.lines, look_up.calculators(plain))
    plain.say_again()


def _shelf(plain: Plain) -> None:
    talk(plain.lines, shelf_.keep(plain))
    plain.say_again()


def _tables(plain: Plain) -> None:
    talk(plain.lines, look_up.tables())
    plain.say_again()


def _temperature(plain: Plain) -> None:
    talk(plain.lines, temperature.read(plain))


def change_settings(plain: Plain) -> None:
    """Ask which setting of the project or of this machine, or what of the sound, to change, until none is left to."""
    session = plain.session
    while True:
        metric = session.project.system == "metric"
        other = "inch" if metric else "metric"
        hours = session.project.reading_holds / timedelta(hours=1)
        own = plain.lines.settings
        comma = own.decimal_mark == ","
        items = [
            Item("system", phrase("Show inch units" if metric else "Show metric units")),
            Item(
                "reading_holds",
                phrase("A reading holds for {hours:g} h", hours),
                phrase("of the shop temperature; then the clocks ask anew"),
            ),
            Item(
                "signs",
                phrase("All signs again" if own.plain_signs else "Plain signs only"),
                phrase("7 bits, for old terminals"),
            ),
            Item(
                "mark",
                phrase("Decimal point" if comma else "Decimal comma"),
                phrase("both are understood; working and tables keep the point"),
            ),
            Item(
                "hold",
                phrase("Enter waits {seconds:g} s", own.hold_ms / 1000),
                phrase("after another line, so that a key held down counts once"),
            ),
        ]
        if plain.watching.can_sound:
            items.append(Item("sound", phrase("Sound test"), _channels(plain)))
            if plain.may_pause:
                items.append(Item("quiet", phrase("Quiet for 2 minutes"), phrase("a new alarm sounds all the same")))
        chosen = plain.lines.choose(phrase("Settings"), items)
        if chosen is None:
            plain.say_again()
            return
        if chosen == "sound":
            test_sound(plain)
            continue
        if chosen == "quiet":
            plain.lines.say(plain.watching.pause(plain.now()))
            continue
        if chosen == "signs":
            plain.change(plain_signs=not own.plain_signs)
            continue
        if chosen == "mark":
            plain.change(decimal_mark="." if comma else ",")
            continue
        if chosen == "hold":
            text = plain.lines.value(phrase("How long Enter waits after another line"), _HOLD, "s")
            if text is not None:
                plain.change(hold_ms=round(_HOLD.read(text).value_in("s") * 1000))
            continue
        value: str | None = other
        if chosen == "reading_holds":
            value = plain.lines.value(phrase("How long a shop temperature holds"), READING_HOLDS, "h")
        if value is not None:
            session.set(chosen, value, plain.now())
            if chosen == "reading_holds":
                plain.lines.say(phrase("A reading holds for {time} now.", value))
            else:
                plain.lines.say(phrase("Shown in inch units now." if metric else "Shown in metric units now."))


def _channels(plain: Plain) -> str:
    """Return what a sound test sounds."""
    if plain.sounder.has_bell and plain.lines.settings.alarm_command:
        return phrase("3 beeps and the alarm command")
    return phrase("3 beeps" if plain.sounder.has_bell else "the alarm command")


def test_sound(plain: Plain) -> None:
    """Sound every channel and ask whether the beeps were heard; the answer is recorded."""
    plain.lines.say(phrase("Stand where you work, with fan and respirator on, ears as they will be."))
    plain.watching.try_sound()
    if not plain.sounder.has_bell:
        plain.lines.say(phrase("The alarm command is started. The output is no terminal, so no bell rings here."))
        return
    items = [Item("yes", phrase("Yes")), Item("no", phrase("No"))]
    answer = plain.lines.choose(phrase("Did you hear 3 beeps?"), items, leave="later")
    if answer is None:
        return
    heard = answer == "yes"

    def record() -> str:
        plain.watching.log_heard(heard, plain.now())
        return phrase("RECORDED: 3 beeps heard" if heard else "RECORDED: 3 beeps not heard")

    plain.attempt(record)
