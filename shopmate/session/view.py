"""What a bench shows at a place of a run: a class for each kind of place, with what is shown there; a view decides nothing."""

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
"""Steps left for later that are listed at once; further ones are counted."""


@dataclass(frozen=True, slots=True)
class Line:
    """A step in the outline of its section."""

    mark: Literal["not started", "started", "done", "not applicable", "for later"]
    text: str
    shown: str = ""
    """Value and time recorded with it, or the reason why it does not apply."""
    condition: str = ""
    """On what it hangs whether the step applies, in words."""


RowMark: TypeAlias = Literal["item", "offered", "asked", "done", "waits", "go", "closed"]
"""What becomes of one of several steps: to be done, an answer to be taken, asked now, done, waiting, or judged."""


@dataclass(frozen=True, slots=True)
class Row:
    """One of several steps that are taken together."""

    place: Place
    number: int
    """The digit that chooses it, 0 where none does."""
    mark: RowMark
    label: str
    value: str = ""
    """Its answer, or how it is judged."""
    note: str = ""
    """How old the answer is, and within which limits it lies."""
    detail: tuple[str, ...] = ()
    is_question: bool = False

    @property
    def verdict(self) -> str:
        """How it is judged, '' where it is not or not yet."""
        return {"go": phrase("GO"), "closed": phrase("NO GO")}.get(self.mark, "")


@dataclass(frozen=True, slots=True)
class WhereLeft:
    """Where somebody was who comes back: the step done last, the one begun, and how long ago that was."""

    last: str
    """Headline of the step done last."""
    shown: str
    """Value recorded with it and its time."""
    begun: str
    """Headline of the step begun."""
    away: str
    """How long ago, in words."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What is shown at every place of a run."""

    place: Place
    headline: str
    places: tuple[str, ...]
    """The place in words: step of steps, turn of turns, section of sections."""
    section: str = ""
    detail: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    """What is to be read from afar."""
    task: str = ""
    """What kind of step it is: do, choose, record, work out, check, start or wait; '' where there is no step."""
    condition: str = ""
    """On what it hangs that the step applies, in words."""
    late: str = ""
    """What to do because the clock this step ends is over its time."""
    outline: tuple[Line, ...] = ()
    """The steps of the section with what became of them."""
    at: int = 0
    """Which line of the outline is in hand."""
    for_later: int = 0
    """How many steps of the run are left for later."""
    rows: tuple[Row, ...] = ()
    """The steps that are taken together here, in place of the outline; none where the step is alone."""
    notices: tuple[str, ...] = ()
    """What the step warns of that hurts nobody."""
    turns: tuple[Option, ...] = ()
    """What can be chosen about the turns of a repeated section here: one more, or no more."""
    may_spill: bool = False
    """Whether a pot is in hand, of which a key says that it was spilled."""
    ahead: str = ""
    """How long hands are still on the run, and how long it waits; '' where its recipe does not say."""

    @property
    def where(self) -> str:
        """The place in one row."""
        return " · ".join(self.places)


@dataclass(frozen=True, slots=True)
class _Framed:
    frame: Frame

    @property
    def headline(self) -> str:
        """What is done here, in the words of the recipe."""
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
    """A step that is done and ticked."""

    can_wait: bool
    """Whether it may be left for later."""
    taken_up: bool
    """Whether it was left for later before and is taken up now."""


@dataclass(frozen=True, slots=True)
class RowsView(_Framed):
    """Several steps that Enter takes together, none of them open."""

    is_list: bool
    """Whether they are things to be done, not answers alone."""


@dataclass(frozen=True, slots=True)
class ChooseView(_Framed):
    """A question with its answers."""

    options: tuple[Option, ...]
    default: str
    """Key of the answer offered, '' where none is."""
    problems: tuple[str, ...] = ()
    """Why there is nothing to choose."""

    @property
    def offered(self) -> Option | None:
        """The answer that Enter takes, where one is offered."""
        return next((option for option in self.options if option.key == self.default), None)


@dataclass(frozen=True, slots=True)
class EnterView(_Framed):
    """A question answered with a number."""

    entry: Measure | Count
    """What a typed answer must be."""
    unit: str
    """Unit that the question is asked in."""
    begins_in: str
    """Unit of a number typed without one: the project's, or within a pot the one that was typed before."""
    default: str = ""
    """Answer offered."""
    expected: str = ""
    """Answer that a measurement is likely to give; among the figures only where it was worked out."""
    target: Shown | None = None
    """What it is to come to, where that was worked out."""
    window: tuple[Quantity, Quantity] | None = None
    """Within which limits a hold point takes it, where both are known."""
    problems: tuple[str, ...] = ()
    """Why it has to be asked: the shelf has no such figure."""
    note: str = ""
    """The note of the clock whose time is asked for."""
    default_read: str = ""
    """The answer offered as it is read in the project's system; what is taken is `default`."""


@dataclass(frozen=True, slots=True)
class WorkOutView(_Framed):
    """What a calculator worked out, or what it lacks for that."""

    result: Presentation | None
    problems: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    """Reasons offered for going on without it."""


@dataclass(frozen=True, slots=True)
class GateView(_Framed):
    """A hold point with its verdict."""

    go: bool | None
    """Whether it may be passed; None while it is not judged yet."""
    verdict: str
    """How it was judged, with its figures."""
    if_no: str
    """What to do at a no-go."""
    reasons: tuple[str, ...]
    """Reasons offered for passing it all the same."""
    options: tuple[Option, ...] = ()
    """The states that it is judged by."""
    problems: tuple[str, ...] = ()
    result: Presentation | None = None


@dataclass(frozen=True, slots=True)
class StartView(_Framed):
    """The start of a clock, whose time is the last of the figures."""

    note: str
    """What counts as its start, and whether too many alarms would come together."""


@dataclass(frozen=True, slots=True)
class WaitView(_Framed):
    """A hold point that opens with a clock."""

    go: bool
    verdict: str
    consequence: str
    """What comes of not waiting, '' once it is open."""
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SectionEndView(_Framed):
    """The end of a section, or of a turn of it, that is to be confirmed."""

    until: str
    """When to stop repeating, and how many more steps are left for later than are listed."""
    later: tuple[Option, ...]
    """The steps left for later that may be taken up here, the first MOST_LATER of them: place, headline."""


@dataclass(frozen=True, slots=True)
class EndView(_Framed):
    """The end of the recipe, that is to be confirmed once no step is left for later."""

    advice: str
    later: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class FinishedView(_Framed):
    """A run that is over."""


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
