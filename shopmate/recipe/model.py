"""What a recipe is made of: sections of steps, each step one action of one kind."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Literal

from shopmate.errors import Problem
from shopmate.models.due import ClockKind
from shopmate.records import dataclass, field

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
"""Signal words of ANSI Z535: by consequence alone; NOTICE never stands for an injury."""
SIGNALS: tuple[Signal, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")

Stands = Literal["running", "over", "none"]
"""How a clock stands that a step hangs on: before its time, past it, or not started or ended."""

Mode = Literal["read-do", "do-confirm"]
"""Whether a section is followed step by step, or done from skill and confirmed."""

TURN = "turn"
"""Reference to the number of the turn, from 1; known inside of repeated sections alone."""

_REFERENCE = re.compile(r"\{([a-z][a-z0-9_.]*)\}")


@dataclass(frozen=True, slots=True)
class Template:
    """A text with places `{value}` or `{value.part}` that are filled when it is shown or used."""

    text: str

    @property
    def references(self) -> tuple[str, ...]:
        """The names referred to, in order."""
        return tuple(_REFERENCE.findall(self.text))

    @property
    def lone_reference(self) -> str | None:
        """The name referred to when the text is nothing but one reference."""
        match = _REFERENCE.fullmatch(self.text)
        return match[1] if match else None

    def fill(self, value_of: Callable[[str], str | None], gap: str) -> str:
        """Return the text with each reference filled in, `gap` where there is no value."""
        return _REFERENCE.sub(lambda match: value if (value := value_of(match[1])) is not None else gap, self.text)


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard with its consequence, shown alone before its step and acknowledged."""

    signal: Signal
    text: Template
    reason: str = ""
    """Why DANGER: what makes death or serious injury certain rather than possible."""


@dataclass(frozen=True, slots=True)
class WhenValue:
    """The step applies only if a choice was answered with one of some keys, or a calculator's output is one of some words."""

    value: str
    among: tuple[str, ...]

    @property
    def into(self) -> str:
        """The name of the answer, or of the working whose output it is."""
        return self.value.partition(".")[0]


@dataclass(frozen=True, slots=True)
class WhenClock:
    """The step applies only if a clock stands so: running (before its time), over (past it), none."""

    clock: str
    stands: Stands


When = WhenValue | WhenClock
"""On what it hangs whether a step applies."""


@dataclass(frozen=True, slots=True)
class Near:
    """What an answer is expected to be; further off than `percent` it is asked about."""

    value: Template
    percent: float


@dataclass(frozen=True, slots=True)
class MeasureAnswer:
    """A question answered with a quantity."""

    unit: str
    low: Template | None = None
    """Least answer taken."""
    high: Template | None = None
    """Greatest answer taken."""
    usual: tuple[Template, Template] | None = None
    """Outside of these the answer is asked about."""
    near: Near | None = None


@dataclass(frozen=True, slots=True)
class CountAnswer:
    """A question answered with a whole number."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class ChoiceAnswer:
    """A question answered with a digit: key -> what is shown."""

    choices: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ShelfAnswer:
    """A question answered with a material of the shelf."""

    kind: str


AnswerKind = MeasureAnswer | CountAnswer | ChoiceAnswer | ShelfAnswer


@dataclass(frozen=True, slots=True)
class Fact:
    """What is known beyond a run: asked once, and offered as the answer wherever it is asked again while it holds."""

    name: str
    """A reading of READINGS, else the name of the value."""
    of: Template
    """What it is of: 'shop', 'part' (the one worked on), or the value that names a material."""
    is_reading: bool
    """Whether it was measured and grows old; else it holds until it is answered otherwise."""


@dataclass(frozen=True, slots=True)
class Do:
    """An action that is done and ticked."""

    timer: Template | None = None
    """How long it takes where that is to be timed; it is counted from when the step is in hand."""


@dataclass(frozen=True, slots=True)
class Ask:
    """A question; its answer becomes the value `into`."""

    into: str
    answer: AnswerKind
    default: str | None = None
    is_shop_temperature: bool = False
    """Whether the answer is also a reading of the shop temperature, by which clocks go."""
    pace_of: str | None = None
    """Clock whose pots the project has timed: the mass or the minutes of the middle one is offered as the answer, and takes
    its place as soon as the run has finished such a pot."""
    adds_to: str | None = None
    """Value that is the sum of the answers given here over the turns of the section."""
    fact: Fact | None = None
    """What the answer tells beyond the run; None where it is of this run alone."""


@dataclass(frozen=True, slots=True)
class WorkOut:
    """A calculator run on values; its outputs become `into.output`."""

    calculator: str
    given: Mapping[str, Template]
    into: str
    show: tuple[str, ...]
    """Outputs shown large."""


@dataclass(frozen=True, slots=True)
class Gate:
    """A hold point: passed by a verdict, a value within limits or a named state, else only with a reason."""

    if_no: str
    reasons: tuple[str, ...]
    by: JudgedBy
    go: Mapping[str, tuple[str, ...]]
    """Output -> values that pass, for a calculator; {"": keys} for a named state; empty for limits."""
    more: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Output -> values that pass too in a turn more than planned, which somebody has chosen."""


@dataclass(frozen=True, slots=True)
class Between:
    """A value and the limits it must be within."""

    value: Template
    low: Template | None
    high: Template | None


JudgedBy = WorkOut | Between | ChoiceAnswer
"""What judges a hold point: a calculator, limits, or a state that is seen."""


@dataclass(frozen=True, slots=True)
class Start:
    """The start of a clock."""

    clock: str
    title: str
    kind: ClockKind
    time: Template
    note: str
    action: str
    if_late: str
    time_to_act: Template
    consequence: str
    ages_at: Template | None = None
    """Temperature for which the time is given; the clock then goes by the temperature of the shop."""
    at_once: bool = False
    """Whether it starts with the step before, without a key, as far as its time is known."""
    goes_on: bool = False
    """Whether it counts from when the clock of its name began that runs now."""
    spilled: Caution | None = None
    """What to read once the pot whose life it is was spilled; None where it is no pot's, or the pot is in no repeated section."""


@dataclass(frozen=True, slots=True)
class Wait:
    """A hold point that opens when a NOT BEFORE clock is due."""

    clock: str
    reasons: tuple[str, ...]


Act = Do | Ask | WorkOut | Gate | Start | Wait


@dataclass(frozen=True, slots=True)
class Step:
    """One action of a recipe."""

    id: str
    """Unique within the recipe."""
    headline: str
    act: Act
    detail: tuple[Template, ...] = ()
    figures: Mapping[str, Template] = field(default_factory=dict)
    """Label -> template, to be read from afar."""
    cautions: tuple[Caution, ...] = ()
    when: tuple[When, ...] = ()
    """On what it hangs that it applies: all of it."""
    ends: str | None = None
    """Clock that doing this step closes."""
    can_wait: bool = True
    """Whether the recipe lets the step be left for later, as far as nothing else forbids it."""
    is_quiet: bool = False
    """Whether what its calculator warns of stops nobody, since the recipe says it where it counts."""
    line: int = 0
    """Where it stands in the file."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """A section, or several in a row, done several times, once each of something."""

    each: str
    """What it is done for each time: pot, coat."""
    times: Template
    until: str
    """When to stop."""
    sections: int
    """How many sections make one turn, this one counted."""


@dataclass(frozen=True, slots=True)
class Section:
    """A named part of a recipe: up to 9 steps worked by hand, followed one by one or done from skill and confirmed."""

    name: str
    mode: Mode
    steps: tuple[Step, ...]
    repeat: Repeat | None = None
    takes: Template | None = None
    """How long hands are on it, of a repeated section each turn; None where the recipe does not say."""


@dataclass(frozen=True, slots=True)
class Use:
    """A material that a recipe consumes, and how much of it by the figures of the run."""

    material: Template
    """A reference to a choice, or a text."""
    amount: Template
    """A reference to a figure, or a quantity."""
    times: Template | None = None
    """How many times that amount; None for once."""
    waste: Fraction = Fraction(0)
    """What is lost of it, in % of the amount."""
    when: tuple[WhenValue, ...] = ()
    weighed: tuple[str, ...] = ()
    """Names of the sums of what is weighed of it; none where it is not weighed."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """A procedure: what it needs, what it asks, its sections and its sources."""

    name: str
    title: str
    version: str
    date: str
    about: str
    needs: tuple[str, ...]
    sections: tuple[Section, ...]
    """The first one, 'Start', holds what the recipe asks."""
    sources: tuple[str, ...]
    text: str
    """The file as it was read; a run keeps it, so that a later edit changes no run under way."""
    notes: tuple[Problem, ...] = ()
    """What is noted of its style."""
    uses: tuple[Use, ...] = ()
    """What it consumes."""
    makes: str = ""
    """The state it leaves a part in; '' where it names none."""
    after: tuple[str, ...] = ()
    """The states that a part should have before."""

    @property
    def steps(self) -> list[Step]:
        """The steps of all its sections, in their order."""
        return [step for section in self.sections for step in section.steps]

    @property
    def acts(self) -> list[Act]:
        """What its steps do, in their order."""
        return [step.act for section in self.sections for step in section.steps]

    def repeated(self, section: int) -> tuple[range, Repeat] | None:
        """Return the sections that make one turn together with the section of that index; None if it is done once."""
        for first in range(section, 0, -1):
            repeat = self.sections[first].repeat
            if repeat is not None:
                together = range(first, first + repeat.sections)
                return (together, repeat) if section in together else None
        return None

    def pot_life(self, section: int) -> Start | None:
        """Return the start of the life of the pot that is worked in a turn with the section of that index; None without one."""
        found = self.repeated(section)
        steps = (step for one in found[0] for step in self.sections[one].steps) if found is not None else ()
        return next((step.act for step in steps if isinstance(step.act, Start) and step.act.spilled is not None), None)

    def counts_turns(self, name: str, section: int) -> bool:
        """Return whether a name is that of the number of the turn, in the section of that index."""
        return name == TURN and section < len(self.sections) and self.repeated(section) is not None

    def question(self, section: int, step: int) -> Ask | None:
        """Return what is asked at a place; None where nothing is."""
        act = self.sections[section].steps[step].act
        return act if isinstance(act, Ask) else None

    def on_pace(self, clock: str) -> list[tuple[str, str]]:
        """Return what is asked of the pots under a clock: the value that each answer becomes, and the unit it is asked in."""
        asked = [act for act in self.acts if isinstance(act, Ask) and act.pace_of == clock]
        return [(ask.into, ask.answer.unit) for ask in asked if isinstance(ask.answer, MeasureAnswer)]

    def step(self, step_id: str) -> Step:
        """Return the step of that id; KeyError if there is none."""
        for step in self.steps:
            if step.id == step_id:
                return step
        raise KeyError(step_id)


@dataclass(frozen=True, slots=True)
class Material:
    """Something on the shelf with the figures of its data sheet, as texts."""

    name: str
    kind: str
    title: str
    sheet: str
    """Where the figures are from: the sheet and its date, or 'typical'."""
    figures: Mapping[str, str]
    borrowed: Mapping[str, str] = field(default_factory=dict)
    """Of each figure, and 'sheet', copied and neither changed nor confirmed since: the name of the material it is from."""
    left: str = ""
    """How much of it is left, as a quantity; '' where nobody keeps count."""
