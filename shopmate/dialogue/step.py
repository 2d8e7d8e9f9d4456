"""The step in hand on every bench: what is said of it, in its order, and what each key means there."""

from __future__ import annotations

from typing import assert_never

from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.result import Figure
from shopmate.session import (
    CautionView,
    ChooseView,
    DoView,
    EndView,
    EnterView,
    FinishedView,
    GateView,
    Option,
    SectionEndView,
    StartView,
    View,
    WaitView,
    WorkOutView,
)


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
    """What to do while it is closed, or what comes of not waiting."""
    figures: tuple[Figure, ...] = ()
    advice: str = ""
    """The note of a clock, when to stop repeating, what to do about the steps left for later."""
    warnings: tuple[str, ...] = ()
    """What is odd about the figures a calculator was given, then what it warns of."""


def said(view: View) -> Said:
    """Return what is said at a place."""
    frame = view.frame
    match view:
        case CautionView() | FinishedView():
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
            if_no = "" if go else view.if_no
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


def enter_word(view: View) -> str:
    """Return what Enter does to the step, '' where it does nothing; what it takes where a value is typed is not said here."""
    match view:
        case CautionView() | EnterView() | FinishedView():
            return ""
        case DoView():
            return phrase("done")
        case ChooseView():
            return phrase("take it") if view.offered is not None else ""
        case WorkOutView():
            return phrase("take it") if not view.problems else ""
        case GateView() | WaitView():
            return phrase("go on") if view.go else ""
        case StartView():
            return phrase("start clock")
        case SectionEndView():
            return phrase("go on")
        case EndView():
            return phrase("finish") if not view.frame.for_later else ""
        case _:
            assert_never(view)


def answers(view: View) -> tuple[Option, ...]:
    """Return what a number chooses here, in their order: the answers, then the steps for later that may be taken up."""
    match view:
        case CautionView() | DoView() | EnterView() | WorkOutView() | StartView() | WaitView() | FinishedView():
            return ()
        case ChooseView(options=options) | GateView(options=options):
            return options
        case SectionEndView(options=options, later=later):
            return (*options, *_now(later))
        case EndView(later=later):
            return _now(later)
        case _:
            assert_never(view)


def alone(view: View) -> Option | None:
    """Return the answer that is the only one beside what Enter does: its key says it, and no list does."""
    return view.options[0] if isinstance(view, SectionEndView) and view.options and not view.later else None


def _now(later: tuple[Option, ...]) -> tuple[Option, ...]:
    return tuple(Option(option.key, phrase("do now: {label}", option.label)) for option in later)


def reasons(view: View) -> tuple[str, ...]:
    """Return the reasons for which a step is passed that passes only with one; none where it is open, or not judged yet."""
    match view:
        case WorkOutView(reasons=reasons):
            return reasons
        case GateView(go=False, reasons=reasons) | WaitView(go=False, reasons=reasons):
            return reasons
        case CautionView() | DoView() | ChooseView() | EnterView() | GateView() | StartView() | WaitView():
            return ()
        case SectionEndView() | EndView() | FinishedView():
            return ()
        case _:
            assert_never(view)
