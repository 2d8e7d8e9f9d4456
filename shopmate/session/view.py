"""What the bench shows at a place of a run: one class per kind of place. A view decides nothing."""

from __future__ import annotations

from typing import Literal, TypeAlias

from shopmate.calculator import Count, Measure
from shopmate.phrases import phrase
from shopmate.project.place import Place
from shopmate.recipe import Signal
from shopmate.records import dataclass
from shopmate.result import Figure, Presentation
from shopmate.session.judging import Option
from shopmate.units import Quantity, Shown

MOST_LATER = 5
"""Maximum steps left for later that are listed; the others are counted."""


@dataclass(frozen=True, slots=True)
class Line:
    """A step in the outline of its section."""

    mark: Literal["not started", "started", "done", "not applicable", "for later"]
    text: str
    shown: str = ""
    """Value and time recorded with the step, or the reason why it does not apply."""
    condition: str = ""
    """What decides whether the step applies, in words."""


RowMark: TypeAlias = Literal["item", "offered", "asked", "done", "waits", "go", "closed"]
"""Mark of one of several steps: an item to do, an answer offered, asked now, done, waiting, open, or shut."""


@dataclass(frozen=True, slots=True)
class Row:
    """One of several steps done together."""

    place: Place
    number: int
    """The digit that selects it, 0 if none does."""
    mark: RowMark
    label: str
    value: str = ""
    """Its answer, or its verdict."""
    note: str = ""
    """How old the answer is, and the limits for it."""
    detail: tuple[str, ...] = ()
    is_question: bool = False

    @property
    def verdict(self) -> str:
        """Its verdict, '' if there is none, or none yet."""
        return {"go": phrase("GO"), "closed": phrase("NO GO")}.get(self.mark, "")


@dataclass(frozen=True, slots=True)
class WhereLeft:
    """Where you were, for when you come back: the step done last, the one begun, and how long ago."""

    last: str
    """Headline of the step done last."""
    shown: str
    """Value recorded with that step, and its time."""
    begun: str
    """Headline of the step begun."""
    away: str
    """How long ago, in words."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What every place of a run shows."""

    place: Place
    headline: str
    places: tuple[str, ...]
    """The place in words: number of the step, the turn and the section."""
    section: str = ""
    detail: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    """Figures to read from across the shop."""
    task: str = ""
    """Kind of step: do, choose, record, work out, check, start or wait; '' if there is no step."""
    condition: str = ""
    """Why the step applies, in words."""
    late: str = ""
    """What to do because the clock this step ends has run out."""
    outline: tuple[Line, ...] = ()
    """The steps of the section, each with its state."""
    at: int = 0
    """Line of the outline for the current step."""
    for_later: int = 0
    """How many steps of the run are left for later."""
    rows: tuple[Row, ...] = ()
    """The steps done together here, in place of the outline; none if the step is alone."""
    notices: tuple[str, ...] = ()
    """Warnings of the step about things that hurt nobody."""
    turns: tuple[Option, ...] = ()
    """Choices for repeating a section here: one more turn, or no more."""
    may_spill: bool = False
    """Whether there is a current pot, so that a key can record it as spilled."""
    ahead: str = ""
    """Hands-on time and waiting time still to come; '' if the recipe does not say."""

    @property
    def where(self) -> str:
        """The place in one line."""
        return " · ".join(self.places)


@dataclass(frozen=True, slots=True)
class _Framed:
    frame: Frame

    @property
    def headline(self) -> str:
        """What to do here, in the words of the recipe."""
        return self.frame.headline

    @property
    def place(self) -> Place:
        """The place of the run that is shown."""
        return self.frame.place


@dataclass(frozen=True, slots=True)
class CautionView(_Framed):
    """A caution alone, before its step."""

    signal: Signal


@dataclass(frozen=True, slots=True)
class DoView(_Framed):
    """A step to do and tick off."""

    can_wait: bool
    """Whether it may be left for later."""
    taken_up: bool
    """Whether it was left for later before and is taken up now."""


@dataclass(frozen=True, slots=True)
class RowsView(_Framed):
    """Several steps that Enter does together, none with an open question."""

    is_list: bool
    """Whether they include things to do, not only answers."""


@dataclass(frozen=True, slots=True)
class ChooseView(_Framed):
    """A question with a choice of answers."""

    options: tuple[Option, ...]
    default: str
    """Key of the answer offered, '' if there is none."""
    problems: tuple[str, ...] = ()
    """Why there is nothing to choose."""

    @property
    def offered(self) -> Option | None:
        """The answer that Enter accepts, if one is offered."""
        return next((option for option in self.options if option.key == self.default), None)


@dataclass(frozen=True, slots=True)
class EnterView(_Framed):
    """A question answered with a number."""

    entry: Measure | Count
    """What may be typed as an answer."""
    unit: str
    """Unit of the question."""
    begins_in: str
    """Unit of a number typed without one: that of the project or, within a pot, the one typed before."""
    default: str = ""
    """The answer offered."""
    expected: str = ""
    """The likely result of a measurement; among the figures only if it was worked out."""
    target: Shown | None = None
    """The figure to reach, if that was worked out."""
    window: tuple[Quantity, Quantity] | None = None
    """The limits a hold point sets for it, if both are known."""
    problems: tuple[str, ...] = ()
    """Why the question has to be asked: the shelf has no such figure."""
    note: str = ""
    """Note of the clock whose time is asked for."""
    default_read: str = ""
    """The answer offered, shown in the project's system; `default` is what is recorded."""


@dataclass(frozen=True, slots=True)
class WorkOutView(_Framed):
    """What a calculator worked out, or what it lacks to do so."""

    result: Presentation | None
    problems: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    """Reasons offered for continuing without it."""


@dataclass(frozen=True, slots=True)
class GateView(_Framed):
    """A hold point with its verdict."""

    go: bool | None
    """Whether it is open; None if it is not judged yet."""
    verdict: str
    """How it was judged, with its figures."""
    if_no: str
    """What to do at a NO GO."""
    reasons: tuple[str, ...]
    """Reasons offered for overriding it."""
    options: tuple[Option, ...] = ()
    """The states to choose from to judge it."""
    problems: tuple[str, ...] = ()
    result: Presentation | None = None


@dataclass(frozen=True, slots=True)
class StartView(_Framed):
    """The start of a clock; its time is the last of the figures."""

    note: str
    """When the clock starts, and whether too many alarms would come at once."""


@dataclass(frozen=True, slots=True)
class WaitView(_Framed):
    """A hold point that opens with a clock."""

    go: bool
    verdict: str
    consequence: str
    """What happens if you don't wait, '' once it is open."""
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SectionEndView(_Framed):
    """The end of a section, or of one turn of it, to confirm."""

    until: str
    """When to stop repeating, and how many more steps are left for later than are listed."""
    later: tuple[Option, ...]
    """The first MOST_LATER of the steps left for later that may be taken up here: place and headline."""


@dataclass(frozen=True, slots=True)
class EndView(_Framed):
    """The end of the recipe, to confirm once no step is left for later."""

    advice: str
    later: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class FinishedView(_Framed):
    """A run that is finished or was given up."""


View: TypeAlias = (
    CautionView
    | DoView
    | RowsView
    | ChooseView
    | EnterView
    | WorkOutView
    | GateView
    | StartView
    | WaitView
    | SectionEndView
    | EndView
    | FinishedView
)
