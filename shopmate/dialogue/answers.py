"""An answer given before is corrected where it stands, and a note is put to the step in hand."""

from __future__ import annotations

from collections.abc import Callable

from shopmate.dialogue.asking import Confirm, Dialogue, Item, attempt, choose, confirm, enter, name, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import Doubt, ShopmateError
from shopmate.phrases import phrase
from shopmate.recipe import Ask, ChoiceAnswer, CountAnswer, MeasureAnswer, ShelfAnswer, Step
from shopmate.session import Judge, Place
from shopmate.units import own_unit


def correct(desk: Desk) -> Dialogue[None]:
    """Ask which answer was wrong and what it is, and tell what has to be looked at since."""
    run = desk.session.run
    given = {str(place): (place, step, judge) for place, step, judge in desk.session.given(desk.now())}
    items = [Item(key, step.headline, run.marks[place].shown) for key, (place, step, _) in given.items()]
    if not items:
        yield from tell(phrase("No answers in this run yet."))
        return
    chosen = yield from choose(phrase("Which answer was wrong?"), items)
    if chosen is None:
        return
    place, step, judge = given[chosen]
    text = yield from _answer(desk, step, judge)
    if text is not None:
        yield from _corrected(desk, place, step, text)


def _answer(desk: Desk, step: Step, judge: Judge) -> Dialogue[str | None]:
    """Ask for the answer as it should have been."""
    act = step.act
    assert isinstance(act, Ask)
    answer = act.answer
    if isinstance(answer, ChoiceAnswer | ShelfAnswer):
        options = [Item(option.key, option.label) for option in judge.options(answer)]
        return (yield from choose(step.headline, options))
    assert isinstance(answer, MeasureAnswer | CountAnswer)
    kind = judge.values.kind(answer)
    if isinstance(answer, CountAnswer):
        counts = [Item(str(count), str(count)) for count in range(answer.low, answer.high + 1)]
        return (yield from choose(step.headline, counts))
    return (yield from enter(step.headline, kind, own_unit(answer.unit, judge.values.system), "correct"))


def _corrected(desk: Desk, place: Place, step: Step, text: str) -> Dialogue[None]:
    def do(sure: bool) -> Callable[[], list[str]]:
        return lambda: desk.session.correct(place, text, desk.now(), sure=sure)

    try:
        told = do(False)()
    except Doubt as doubt:
        if not (yield from confirm(Confirm(step.headline, str(doubt), phrase("yes, it's right"), phrase("leave it")))):
            return
        told = do(True)()
    except ShopmateError as error:
        yield from tell(str(error))
        return
    if told:
        yield from tell(phrase("Corrected. Check: {steps}", "; ".join(told)))
    else:
        yield from tell(phrase("Corrected. Nothing done since depends on it."))


def note(desk: Desk) -> Dialogue[None]:
    """Ask for a line of text and the name of a photo's file, either of which may be left out."""
    text = yield from name(phrase("Note on this step"), "", "note")
    if text is None:
        return
    photo = yield from name(phrase("File name of a photo, or leave blank"), "", "photo")
    yield from attempt(lambda: desk.session.note(text, photo or "", desk.now()))
