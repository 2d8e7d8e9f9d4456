"""Before a run: what it needs and how long it takes is read, then it is begun, or planned with its answers given ahead."""

from __future__ import annotations

from typing import assert_never

from shopmate.dialogue.asking import Dialogue, Item, attempt, choose, enter, ready, say
from shopmate.dialogue.desk import Desk
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.project.project import Plan
from shopmate.recipe import Ask, ChoiceAnswer, CountAnswer, MeasureAnswer, Recipe, ShelfAnswer, of_kind
from shopmate.session import find_recipe
from shopmate.session.draft import Draft
from shopmate.session.values import unit_of
from shopmate.units import in_system, own_unit


def begin(desk: Desk, part: str, recipe: Recipe) -> Dialogue[None]:
    """Tell what a recipe needs on a part, and begin it or plan it; a part that is new is added only then."""
    title = phrase("{recipe} on {part}", recipe.title, part)
    lines = desk.session.before(part, recipe, {}, desk.now())
    chosen = yield from ready(title, lines, Item("begin", phrase("start")), Item("plan", phrase("plan it")))
    if chosen == "begin":
        yield from _begun(desk, part, recipe)
    elif chosen == "plan":
        yield from _plan(desk, part, recipe)


def take_up(desk: Desk, plan: Plan) -> Dialogue[None]:
    """Tell what a planned run needs by the answers given ahead, and begin it or drop it."""
    recipe = find_recipe(plan.recipe)
    title = phrase("{recipe} on {part}", recipe.title, plan.part)
    lines = desk.session.before(plan.part, recipe, plan.answers, desk.now())
    chosen = yield from ready(title, lines, Item("begin", phrase("start")), Item("drop", phrase("cancel plan")))
    if chosen == "begin":
        yield from _begun(desk, plan.part, recipe, plan.key)
    elif chosen == "drop":
        yield from attempt(lambda: desk.session.drop_plan(plan.key, desk.now()))


def _begun(desk: Desk, part: str, recipe: Recipe, plan: str | None = None) -> Dialogue[None]:
    part = _added(desk, part)
    desk.session.begin(part, recipe, desk.now(), plan)
    words = phrase("Started on {part}: {recipe}, version {version} of {date}.", part, recipe.title, recipe.version, recipe.date)
    yield from say(words, drawn=True)
    yield from say(in_system(recipe.about, desk.session.project.system), drawn=True)


def _added(desk: Desk, part: str) -> str:
    """Return a part of the project, added where it is new."""
    return part if part in desk.session.project.parts else desk.session.add_part(part, desk.now())


def _plan(desk: Desk, part: str, recipe: Recipe) -> Dialogue[None]:
    """Ask what the recipe asks at its start, and keep it as a planned run; nothing is planned where a question is left."""
    session = desk.session
    draft = Draft(recipe, {}, session.shelf, desk.now(), session.project.system)
    answers: dict[str, str] = {}
    for step in recipe.sections[0].steps:
        if not isinstance(step.act, Ask) or not draft.applies(step):
            continue
        text = yield from _answer(desk, draft, step.headline, step.act)
        if text is None:
            return
        answers[step.act.into] = text
    yield from attempt(lambda: session.plan(_added(desk, part), recipe, answers, desk.now()))


def _answer(desk: Desk, draft: Draft, headline: str, ask: Ask) -> Dialogue[str | None]:
    """Ask until there is an answer that can be taken, and take it into the draft; None where the question is left."""
    while True:
        text = yield from _asked(desk, draft, headline, ask)
        if text is None:
            return None
        try:
            draft.answer(ask.into, ask.answer, text)
        except EntryError as error:
            yield from say(str(error))
        else:
            return text


def _asked(desk: Desk, draft: Draft, headline: str, ask: Ask) -> Dialogue[str | None]:
    answer, system = ask.answer, desk.session.project.system
    match answer:
        case ChoiceAnswer():
            items = [Item(key, words) for key, words in draft.values.choices(answer).items()]
            return (yield from choose(headline, _usual_first(items, ask.default)))
        case ShelfAnswer(kind):
            found = [Item(name, material.title) for name, material in of_kind(draft.materials, kind).items()]
            return (yield from choose(headline, _usual_first(found, ask.default)))
        case MeasureAnswer() | CountAnswer():
            unit = own_unit(unit_of(answer), system)
            return (yield from enter(headline, draft.values.kind(answer), unit, f"plan:{ask.into}"))
        case _:
            assert_never(answer)


def _usual_first(items: list[Item], usual: str | None) -> list[Item]:
    """Return the items with the usual one first, which is marked."""
    first = [Item(item.key, item.title, phrase("usual choice")) for item in items if item.key == usual]
    return [*first, *(item for item in items if item.key != usual)]
