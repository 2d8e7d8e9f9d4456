"""The step in hand on every bench: what is said of it, in its order, and what each key means there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Literal, TypeAlias, assert_never

from shopmate.dialogue.asking import Confirm, Dialogue, Item, attempt, choose, confirm, name, say, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import Doubt, EntryError
from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.result import Figure
from shopmate.session import (
    NOT_NEEDED,
    CautionView,
    ChooseView,
    DoView,
    EndView,
    EnterView,
    FinishedView,
    GateView,
    NotNow,
    Option,
    Row,
    RowsView,
    SectionEndView,
    StartView,
    View,
    WaitView,
    WorkOutView,
    free_name,
    write_own,
)
from shopmate.session.own import run_text


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of a step under its headline and details; a bench only lays it out, in this order."""

    late: str = ""
    problems: tuple[str, ...] = ()
    go: bool | None = None
    """Whether a hold point is open."""
    judged: str = ""
    """Its verdict, '' where GO or NO GO says all of it."""
    if_no: str = ""
    """What to do once it is judged and closed, or what comes of not waiting."""
    figures: tuple[Figure, ...] = ()
    advice: str = ""
    """The note of a clock, when to stop repeating, what to do about the steps left for later."""
    warnings: tuple[str, ...] = ()
    """What is odd about the figures a calculator was given, then what it warns of."""


def said(view: View) -> Said:
    """Return what is said at a place."""
    frame = view.frame
    match view:
        case CautionView() | FinishedView() | RowsView():
            return Said()
        case DoView():
            return Said(frame.late, figures=frame.figures)
        case ChooseView(problems=problems):
            return Said(frame.late, problems, figures=frame.figures)
        case EnterView(problems=problems, note=note):
            return Said(frame.late, problems, figures=frame.figures, advice=note)
        case WorkOutView(problems=problems, result=result):
            warnings = result.warnings if result is not None else ()
            return Said(frame.late, problems, figures=frame.figures, warnings=warnings)
        case GateView(go=go, problems=problems, result=result):
            warnings = result.warnings if result is not None else ()
            if_no = view.if_no if go is False else ""
            return Said(frame.late, problems, go, _judged(view.verdict), if_no, frame.figures, warnings=warnings)
        case StartView(note=note):
            return Said(frame.late, figures=frame.figures, advice=note)
        case WaitView(go=go, verdict=verdict, consequence=consequence):
            return Said(frame.late, (), go, _judged(verdict), consequence, frame.figures)
        case SectionEndView(until=until):
            return Said(advice=until)
        case EndView(advice=advice):
            return Said(advice=advice)
        case _:
            assert_never(view)


def _judged(verdict: str) -> str:
    return "" if verdict in ("go", "no go") else verdict


def answers(view: View) -> tuple[Option, ...]:
    """Return what a number chooses here, in their order: the answers, more or no more turns, steps for later to be taken up."""
    turns = view.frame.turns if not view.frame.rows else ()
    match view:
        case CautionView() | RowsView() | EnterView() | FinishedView():
            return ()
        case DoView() | WorkOutView() | StartView() | WaitView():
            return turns
        case ChooseView(options=options) | GateView(options=options):
            return (*options, *turns)
        case SectionEndView(later=later):
            return (*turns, *_now(later))
        case EndView(later=later):
            return _now(later)
        case _:
            assert_never(view)


def alone(view: View) -> Option | None:
    """Return the answer that is the only one beside what Enter does: its key says it, and no list does."""
    found = answers(view)
    return found[0] if len(found) == 1 and found == view.frame.turns else None


def _now(later: tuple[Option, ...]) -> tuple[Option, ...]:
    return tuple(Option(option.key, phrase("do now: {label}", option.label)) for option in later)


# Keys


@dataclass(frozen=True, slots=True)
class AtOnce:
    """A key that does something to the step in hand at once."""

    key: Literal["enter", "0", "1", "5", "."]
    word: str
    """What it does, for beside the key."""
    act: Callable[[], str]
    """Does it, and returns what was done in the words of the face; raises ShopmateError where it cannot be done."""


@dataclass(frozen=True, slots=True)
class Asking:
    """A key that asks for something before it does anything."""

    key: Literal["0"]
    word: str
    ask: Callable[[], Dialogue[None]]


StepKey: TypeAlias = AtOnce | Asking


def keys(desk: Desk, view: View) -> list[StepKey]:
    """Return the keys that do something to the step in hand, beside the numbers of its answers and a value that is typed."""
    return [*_of_step(desk, view), *_spilled(desk, view)]


def _of_step(desk: Desk, view: View) -> list[StepKey]:
    match view:
        case CautionView() | EnterView():
            return []
        case FinishedView():
            return [Asking("0", phrase("save as recipe"), lambda: _keep(desk))] if not desk.session.run.given_up else []
        case DoView():
            return [_enter(desk, view, phrase("done")), *_left_for_later(desk, view), *_by_section(desk)]
        case RowsView(is_list=is_list):
            return [_enter(desk, view, phrase("all done") if is_list else phrase("use all")), *_step_by_step(desk)]
        case ChooseView(offered=offered):
            if offered is None:
                return []
            return [AtOnce("enter", phrase("use it"), lambda: take(desk, view, offered, is_offered=True))]
        case WorkOutView():
            return [*_passes(desk, view)] if view.problems else [_enter(desk, view, phrase("use it"))]
        case GateView() | WaitView():
            return [_enter(desk, view, phrase("continue"))] if view.go else [*_passes(desk, view)]
        case StartView():
            return [_enter(desk, view, phrase("start clock"))]
        case SectionEndView():
            return [_enter(desk, view, phrase("continue"))]
        case EndView():
            return [_enter(desk, view, phrase("finish"))] if not view.frame.for_later else []
        case _:
            assert_never(view)


def _spilled(desk: Desk, view: View) -> Iterator[StepKey]:
    """Yield the key that says of the pot in hand that it was spilled, while no alarm is put off by it."""
    if view.frame.may_spill and desk.session.may_shelve(desk.now()) is None:
        yield AtOnce(".", phrase("spilled"), lambda: desk.session.spill(desk.now()))


def parted(found: Sequence[StepKey]) -> tuple[list[StepKey], list[StepKey]]:
    """Return Enter and the other keys apart, for the numbers of the answers to be named between them."""
    return [key for key in found if key.key == "enter"], [key for key in found if key.key != "enter"]


def _enter(desk: Desk, view: View, word: str) -> AtOnce:
    return AtOnce("enter", word, lambda: do(desk, view))


def _left_for_later(desk: Desk, view: DoView) -> Iterator[StepKey]:
    """Yield the keys by which a step is left for later, or said not to be needed once it was."""
    if view.can_wait:
        yield AtOnce("0", phrase("do later"), lambda: _about(desk, view, desk.session.defer(desk.now())))
    if view.taken_up:
        yield Asking("0", phrase("not needed"), lambda: _drop(desk, view))


def _by_section(desk: Desk) -> Iterator[StepKey]:
    """Yield the key that lets plain steps be confirmed together, for who followed the recipe to its end before."""
    session = desk.session
    if not session.run.by_section and session.may_follow_by_section():
        yield AtOnce("5", phrase("by section"), lambda: session.follow_run(desk.now(), by_section=True))


def _step_by_step(desk: Desk) -> Iterator[StepKey]:
    """Yield the key that shows plain steps one by one again."""
    session = desk.session
    section = session.run.section
    if session.run.by_section and section is not None and section.mode == "read-do":
        yield AtOnce("0", phrase("step by step"), lambda: session.follow_run(desk.now(), by_section=False))


def _passes(desk: Desk, view: View) -> Iterator[StepKey]:
    """Yield the keys by which a step is passed that passes only with a reason."""
    if offered := reasons(view):
        yield Asking("0", phrase("override"), lambda: _pass(desk, view, offered))
        if desk.session.may_measure_again() and not answers(view):
            yield AtOnce("1", phrase("measure again"), lambda: _measure_again(desk))


def reasons(view: View) -> tuple[str, ...]:
    """Return the reasons for which a step is passed that passes only with one; none where it is open, or not judged yet."""
    match view:
        case WorkOutView(reasons=offered):
            return offered
        case GateView(go=False, reasons=offered) | WaitView(go=False, reasons=offered):
            return offered
        case CautionView() | DoView() | RowsView() | ChooseView() | EnterView() | GateView() | StartView() | WaitView():
            return ()
        case SectionEndView() | EndView() | FinishedView():
            return ()
        case _:
            assert_never(view)


# What they do


def do(desk: Desk, view: View) -> str:
    """Do what Enter does at this place; NotNow, which says why, where it does nothing."""
    return _about(desk, view, desk.session.done(desk.now()))


def row(view: View, number: str) -> Row | None:
    """Return the row that a digit chooses among several steps taken together; None where it chooses none."""
    rows = view.frame.rows if isinstance(view, RowsView) else ()
    return next((one for one in rows if number == str(one.number)), None) if number != "0" else None


def digits(view: RowsView) -> str:
    """Return what the digits do where several steps are taken together."""
    numbers = [one.number for one in view.frame.rows if one.number]
    if not numbers:
        return ""
    found = f"[{numbers[0]}]" if len(numbers) == 1 else f"[{numbers[0]}-{numbers[-1]}]"
    return f"{found} {phrase('do later') if view.is_list else phrase('change one')}"


def leave(desk: Desk, chosen: Row) -> str:
    """Leave an item of several for later; NotNow where it cannot wait."""
    done = desk.session.defer(desk.now(), chosen.place)
    return done if desk.face.draws else f"{done}: {chosen.label}"


def take(desk: Desk, view: View, option: Option, *, is_offered: bool = False) -> str:
    """Choose one of the answers; one taken as it `is_offered` is no new one for other parts and runs."""
    if is_offered or view.frame.rows:
        word = desk.session.answer(option.key, desk.now(), at=view.place, is_offered=is_offered)
    else:
        word = desk.session.pick(option.key, desk.now())
    if desk.face.draws:
        return word
    recorded = isinstance(view, ChooseView | GateView) and option not in view.frame.turns
    return phrase("RECORDED: {step}, {answer}", view.headline, word) if recorded else phrase("NOW: {what}", word)


@dataclass(frozen=True, slots=True)
class Taken:
    """The value is recorded."""

    word: str


@dataclass(frozen=True, slots=True)
class Odd:
    """The value looks odd; given again it is taken."""

    question: str


@dataclass(frozen=True, slots=True)
class Wrong:
    """The text is no answer."""

    problem: EntryError


def give(desk: Desk, view: EnterView, typed: str, *, sure: bool) -> Taken | Odd | Wrong:
    """Give the value typed, or where nothing is the one offered; `sure` where it was asked about before.

    Any other ShopmateError is left to the face.
    """
    text = typed or view.default
    try:
        word = desk.session.answer(text, desk.now(), sure=sure, at=view.place, is_offered=not typed)
    except Doubt as doubt:
        return Odd(str(doubt))
    except EntryError as error:
        return Wrong(error)
    return Taken(word if desk.face.draws else phrase("RECORDED: {step}, {answer}", view.headline, word))


def take_back(desk: Desk) -> Dialogue[None]:
    """Take back the last thing done, once it was named and that is confirmed."""
    try:
        what = desk.session.last_done(desk.now())
    except NotNow as why:
        yield from say(str(why))
        return
    text, explain = phrase("Undo: {what}?", what), phrase("The log keeps what was done, and that it was undone.")
    if (yield from confirm(Confirm(text, explain, phrase("undo it"), phrase("leave it")))):
        yield from attempt(lambda: _taken_back(desk))


def _taken_back(desk: Desk) -> str:
    what = desk.session.take_back(desk.now())
    return phrase("UNDONE {step}", what) if desk.face.draws else phrase("UNDONE: {what}", what)


def _measure_again(desk: Desk) -> str:
    done = desk.session.measure_again(desk.now())
    return done if desk.face.draws else f"{done}: {phrase('measure it again')}"


def _pass(desk: Desk, view: View, offered: Sequence[str]) -> Dialogue[None]:
    """Pass the step in hand for a reason, which the log keeps, once that is confirmed."""
    items = [Item(reason, reason) for reason in offered]
    reason = yield from choose(phrase("Why override '{step}'?", view.headline), items, leave="stay on hold")
    if reason is None:
        return
    text, explain = phrase("Override '{step}'?", view.headline), phrase("Reason: {reason}. The log keeps it.", reason)
    if (yield from confirm(Confirm(text, explain, phrase("override it"), phrase("stay on hold")))):
        yield from attempt(lambda: _about(desk, view, desk.session.override(reason, desk.now()), reason))


def _drop(desk: Desk, view: View) -> Dialogue[None]:
    """Say of a step left for later why it is not needed after all."""
    items = [Item(phrase(reason), phrase(reason)) for reason in NOT_NEEDED]
    reason = yield from choose(phrase("Why is '{step}' not needed?", view.headline), items, leave="do it after all")
    if reason is not None:
        yield from attempt(lambda: _about(desk, view, desk.session.drop(reason, desk.now()), reason))


def _keep(desk: Desk) -> Dialogue[None]:
    """Write the run that is over out as a recipe of the user's own."""
    run = desk.session.run
    typed = yield from name(phrase("Name of the recipe"), free_name(run.recipe.name))
    if typed is not None:
        path = write_own(typed, run_text(run, typed, desk.now()))
        yield from tell(phrase("Written to {path}: change it there, then run 'shopmate check' on it.", path))


def _about(desk: Desk, view: View, done: str, *more: str) -> str:
    """Return what was done, with what it was done to where nothing shows that."""
    return done if desk.face.draws else f"{done}: {', '.join((view.headline, *more))}"
