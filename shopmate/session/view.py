"""What the bench shows at a place of a run: one step with its words, figures, choices and whether it may be passed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import datetime, timedelta
from typing import Literal

from shopmate import calc, units
from shopmate import clock as clocks_
from shopmate.calculator import Count, Kind, Measure
from shopmate.errors import FieldProblem, InputError
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.recipe import (
    FIGURES,
    Ask,
    Between,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    Section,
    ShelfAnswer,
    Start,
    Step,
    Template,
    Wait,
    WhenValue,
    WorkOut,
)
from shopmate.records import dataclass
from shopmate.result import LEAD, Figure, Presentation, Result, present
from shopmate.session.place import Mark, Place
from shopmate.session.project import Project
from shopmate.session.run import Held, Run
from shopmate.session.way import applicable
from shopmate.units import Quantity, Shown

ViewKind = Literal["caution", "do", "choose", "enter", "work out", "gate", "start", "wait", "section", "end", "finished"]

CLOCK_LENGTH = Measure("min", above=0, high=14 * 24 * 60)
"""What may be typed as the length of a clock: up to two weeks."""

WITHOUT_FIGURES = ("Worked out by hand", "The data sheet gives it", "Not needed for this job")
"""Reasons offered for going on where a calculator lacks a figure."""

NOT_NEEDED = ("Not needed on this part", "Done in another way", "Done by somebody else", "Cannot be done any more")
"""Reasons offered for a step left for later that is not done after all."""

PUT_OFF = {1: "1 minute", 5: "5 minutes", 10: "10 minutes"}
"""For how many minutes an alarm can be put off, with their words."""

MOST_LATER = 5
"""Steps left for later that are listed at once; further ones are counted."""

GAP = "—"
"""Stands where a text refers to a value that was not asked, since its step did not apply."""


@dataclass(frozen=True, slots=True)
class Option:
    """One of the answers a digit chooses."""

    key: str
    label: str


@dataclass(frozen=True, slots=True)
class Line:
    """A step in the outline of its section."""

    mark: Literal["not begun", "begun", "done", "not applicable", "for later"]
    text: str
    shown: str = ""
    """Value and time recorded with it, or the reason why it does not apply."""
    condition: str = ""
    """On what it hangs whether the step applies, in words."""


@dataclass(frozen=True, slots=True)
class Here:
    """Where somebody was who comes back: the step done last, the one begun, and how long ago that was."""

    last: str
    """Headline of the step done last."""
    shown: str
    """Value recorded with it and its time."""
    begun: str
    """Headline of the step begun."""
    away: str
    """How long ago, in words."""


@dataclass(slots=True)
class View:
    """Everything the bench shows of the step in hand."""

    kind: ViewKind
    place: Place
    headline: str
    section: str = ""
    places: tuple[str, ...] = ()
    """The place in words: step of steps, turn of turns, section of sections."""
    detail: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    options: tuple[Option, ...] = ()
    entry: Kind | None = None
    """What a typed answer must be."""
    unit: str | None = None
    """Unit of a number typed without one."""
    default: str = ""
    """Answer offered."""
    expected: str = ""
    """Answer that a measurement is likely to give; shown only where it was worked out."""
    signal: str = ""
    """Signal word of a caution."""
    go: bool | None = None
    """Whether a hold point may be passed."""
    verdict: str = ""
    """How a hold point was judged, with its figures."""
    advice: str = ""
    """What to do at a no-go, the note of a clock, when to stop repeating."""
    reasons: tuple[str, ...] = ()
    """Reasons offered for passing a hold point all the same."""
    problems: tuple[str, ...] = ()
    """Why a calculator could not be run."""
    result: Result | None = None
    presented: Presentation | None = None
    """The result as it is read."""
    outline: tuple[Line, ...] = ()
    """The steps of the section with what became of them."""
    at: int = 0
    """Which line of the outline is in hand."""
    late: str = ""
    """What to do because the clock this step ends is over its time."""
    task: str = ""
    """What kind of step it is: do, choose, record, work out, check, start or wait."""
    condition: str = ""
    """On what it hangs that the step applies, in words."""
    can_wait: bool = False
    """Whether the step may be left for later."""
    taken_up: bool = False
    """Whether the step was left for later before and is taken up now."""
    drop_reasons: tuple[str, ...] = ()
    """Reasons offered for not doing a step taken up after all."""
    for_later: int = 0
    """How many steps of the run are left for later."""
    later: tuple[Option, ...] = ()
    """The steps left for later that may be taken up here, the first MOST_LATER of them: place, headline."""

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is odd about the figures the calculator of the step was given, then what it warns of, in its order."""
        return self.presented.warnings if self.presented is not None else ()

    @property
    def answers(self) -> tuple[Option, ...]:
        """What a number chooses here, in their order: the answers, then the steps for later that may be taken up."""
        return (*self.options, *(Option(option.key, phrase("do now: {label}", option.label)) for option in self.later))

    @property
    def offered(self) -> Option | None:
        """The answer that Enter takes, where one of several is offered."""
        return next((option for option in self.options if option.key == self.default), None)

    @property
    def is_shut(self) -> bool:
        """Whether the step passes only with a reason."""
        return bool(self.reasons) and not self.go and (self.kind == "work out" or self.go is False)

    @property
    def where(self) -> str:
        """The place in one row."""
        return " · ".join(self.places)

    @property
    def judged(self) -> str:
        """The verdict in words, '' where GO or NO GO says all of it."""
        return "" if self.verdict in ("go", "no go") else self.verdict

    @property
    def enter_word(self) -> str:
        """What Enter does to the step, '' where it does nothing; what it takes where a value is asked for is not said here."""
        if self.kind == "choose":
            return phrase("take it") if self.offered is not None else ""
        if self.kind in ("gate", "wait"):
            return phrase("go on") if self.go else ""
        if self.problems or (self.kind == "end" and self.for_later):
            return ""
        words = {"do": "done", "start": "start clock", "section": "go on", "end": "finish", "work out": "take it"}
        return phrase(words[self.kind]) if self.kind in words else ""


@dataclass(frozen=True, slots=True)
class Viewer:
    """Builds the view of a run; pure, `now` is an argument."""

    project: Project
    run: Run
    shelf: Mapping[str, Material]
    now: datetime
    results: dict[tuple[str, tuple[tuple[str, str], ...]], Result] = field(default_factory=dict)
    """Results already worked out, by calculator and texts."""

    def view(self) -> View:
        """Return what the bench shows now."""
        run = self.run
        section = run.section
        if section is None or run.given_up:
            return self.end()
        turns = run.turns(run.place.section)
        repeated = run.recipe.repeated(run.place.section)
        step = run.step
        parts = [
            phrase("step {number} of {count}", run.place.step + 1, len(section.steps))
            if step is not None
            else phrase("section done")
        ]
        if repeated is not None:
            parts.append(phrase("{each} {turn} of {turns}", repeated[1].each, run.place.turn, turns))
        parts.append(phrase("section {number} of {count}", run.place.section + 1, len(run.recipe.sections)))
        view = self.section_end(section, turns) if step is None else self.caution(step) or self.step(step)
        view.section, view.places = section.name, tuple(parts)
        view.outline, view.at = self.outline(run.place), run.place.step
        view.for_later = len(run.for_later)
        if not run.marks and view.kind != "caution":
            recipe = run.recipe
            view.detail = (
                phrase("Recipe {name}, version {version}, {date}", recipe.name, recipe.version, recipe.date),
                *view.detail,
            )
        return view

    def caution(self, step: Step) -> View | None:
        """Return the first caution of a step that was not seen, alone on the screen."""
        for index, caution in enumerate(step.cautions):
            if (self.run.place, index) not in self.run.seen:
                return View("caution", self.run.place, caution.signal, detail=(self.fill(caution.text),), signal=caution.signal)
        return None

    def step(self, step: Step) -> View:
        """Return the view of a step whose cautions have been seen."""
        view = View("do", self.run.place, step.headline, task=task(step), condition=condition(self.run.recipe, step))
        view.taken_up, view.can_wait = self.run.goes_back_to is not None, self.can_wait(step)
        view.drop_reasons = tuple(map(phrase, NOT_NEEDED)) if view.taken_up else ()
        view.detail, view.figures, view.late = tuple(map(self.fill, step.detail)), tuple(self.figures(step)), self.late(step)
        act = step.act
        if isinstance(act, Ask):
            self.ask(act, view)
        elif isinstance(act, WorkOut):
            view.kind = "work out"
            self.work_out(act, view)
        elif isinstance(act, Gate):
            self.gate(act, view)
        elif isinstance(act, Start):
            self.start(act, view)
        elif isinstance(act, Wait):
            self.wait(act, view)
        return view

    def can_wait(self, step: Step) -> bool:
        """Return whether a step may be left for later: nothing hangs on when it is done, and no pot of the run is going off."""
        run = self.run
        section = run.section
        if section is None or run.recipe.repeated(run.place.section) is not None or run.goes_back_to is not None:
            return False
        timed = any(isinstance(other.act, Start) and closes(other.act.kind) for other in section.steps)
        guarded = any(caution.signal != "NOTICE" for caution in step.cautions)
        clocks = [self.project.clocks[key] for key in run.clocks.values()]
        hurried = any(clock.closes and clock.ended_at is None for clock in clocks)
        return isinstance(step.act, Do) and step.ends is None and step.can_wait and not (timed or guarded or hurried)

    def list_later(self, view: View) -> None:
        """List the steps left for later as answers to choose from, as many as are listed at once."""
        run = self.run
        left = run.for_later
        steps = ((place, run.recipe.sections[place.section].steps[place.step]) for place in left[:MOST_LATER])
        view.later = tuple(Option(str(place), step.headline) for place, step in steps)
        if len(left) > MOST_LATER:
            more = phrase("{count} more come after these.", len(left) - MOST_LATER)
            view.advice = f"{view.advice} {more}".strip()

    def start(self, act: Start, view: View) -> None:
        """Show the clock that is about to start, or ask for its time where nothing gave it."""
        view.kind, view.advice = "start", act.note
        length = self.quantity(act.time, "min")
        if length is not None:
            view.figures = (*view.figures, Figure(phrase(act.kind), self.display(length)))
            view.advice = " ".join(filter(None, (act.note, self.crowd(act, length))))
        else:
            view.kind, view.entry, view.unit = "enter", CLOCK_LENGTH, "min"
            view.problems = (phrase("No time for '{title}' on the shelf: type the one of the data sheet", act.title),)

    def crowd(self, act: Start, length: Quantity) -> str:
        """Return whether the clock about to start makes more alarms than one person can serve, '' where it does not."""
        step = self.run.step
        ends = {self.run.clocks.get(name) for name in (act.clock, step.ends if step is not None else None) if name is not None}
        running = [clock for key, clock in self.project.clocks.items() if key not in ends]
        to_act = self.quantity(act.time_to_act, "min")
        planned = clocks_.Clock(
            key="", name=act.clock, title=act.title, kind=act.kind, started_at=self.now,
            due_at=self.now + timedelta(minutes=length.value_in("min")), action=act.action, if_late=act.if_late,
            time_to_act=timedelta(minutes=to_act.value_in("min")) if to_act is not None else clocks_.AT_ONCE,
            consequence=act.consequence,
        )  # fmt: skip
        return clocks_.crowd([*running, planned], self.now)

    def ask(self, act: Ask, view: View) -> None:
        """Show a question with its choices or what may be typed."""
        answer = act.answer
        view.kind, view.default = "choose", act.default or ""
        if isinstance(answer, ChoiceAnswer):
            view.options = tuple(Option(key, label) for key, label in answer.choices.items())
        elif isinstance(answer, ShelfAnswer):
            materials = [material for material in self.shelf.values() if material.kind == answer.kind]
            view.options = tuple(Option(material.name, material.title) for material in materials)
            if not materials:
                view.problems = (
                    phrase("The shelf has no {kind}; add one to the shelf file (see 'shopmate where')", answer.kind),
                )
        else:
            view.kind, (view.entry, view.unit) = "enter", self.limits(answer)
            self.own_pace(act, view)
            near = answer.near if isinstance(answer, MeasureAnswer) else None
            if near is not None and (expected := self.quantity(near.value, view.unit)) is not None:
                view.expected = str(self.display(expected))
                # What an instrument or a sheet should say is not shown beside it, or it would be copied: only what was worked
                # out is.
                if self.is_worked_out(near.value) and not view.figures:
                    view.figures = (Figure("expected", self.display(expected)),)

    def own_pace(self, act: Ask, view: View) -> None:
        """Offer the mass or the minutes of the user's own middle pot, where pots of that kind were timed."""
        pot = self.project.middle_pot(act.pace_of) if act.pace_of is not None else None
        if act.pace_of is None or pot is None or view.unit is None:
            return
        own = pot.answers(view.unit)
        view.default = units.show(own)
        view.detail = (*view.detail, own_so_far(self.display(own), len(self.project.pots[act.pace_of])))

    def own_pace_used(self, act: WorkOut, view: View) -> None:
        """Say so where a calculator goes by the middle pot, which took the place of what was answered."""
        names = {reference for template in act.given.values() for reference in template.references}
        acts = (step.act for section in self.run.recipe.sections for step in section.steps)
        asked = [act for act in acts if isinstance(act, Ask) and act.into in names and act.pace_of in self.run.paced]
        for clock in dict.fromkeys(act.pace_of for act in asked):
            pot = " in ".join(dict.fromkeys(self.shown(act.into) or GAP for act in asked if act.pace_of == clock))
            view.detail = (*view.detail, own_so_far(pot, self.run.paced[clock or ""]))

    def is_worked_out(self, template: Template) -> bool:
        """Return whether a template is a calculator's output."""
        held = self.run.value(template.lone_reference or "")
        return held is not None and held.places is not None

    def limits(self, answer: MeasureAnswer | CountAnswer) -> tuple[Kind, str]:
        """Return what may be typed as an answer, and the unit of a number typed without one."""
        if isinstance(answer, CountAnswer):
            return Count(answer.low, answer.high), ""
        return self.measure(answer), answer.unit

    def measure(self, answer: MeasureAnswer) -> Measure:
        """Return the limits of an answer, worked out from the values so far."""

        def limit(template: Template | None) -> float | None:
            quantity = self.quantity(template, answer.unit) if template is not None else None
            return quantity.value_in(answer.unit) if quantity is not None else None

        soft_low, soft_high = (limit(answer.usual[0]), limit(answer.usual[1])) if answer.usual is not None else (None, None)
        if answer.near is not None and (near := limit(answer.near.value)) is not None:
            room = abs(near) * answer.near.percent / 100
            soft_low, soft_high = (float(f"{bound:.4g}") for bound in (near - room, near + room))
        return Measure(answer.unit, low=limit(answer.low), high=limit(answer.high), soft_low=soft_low, soft_high=soft_high)

    def work_out(self, act: WorkOut, view: View) -> Result | None:
        """Run the calculator of a step into the draft and return its result."""
        try:
            result = self.result(act)
        except InputError as error:
            view.problems, view.reasons = (
                tuple(self.lacking(act, problem) for problem in error.problems),
                tuple(map(phrase, WITHOUT_FIGURES)),
            )
            return None
        view.result, view.presented = result, self.presented(act, result)
        self.own_pace_used(act, view)
        large = view.presented.head
        large = tuple(figure for figure in large if figure.name in act.show) if act.show else large[:LEAD]
        view.figures = (*view.figures, *large)
        return result

    def lacking(self, act: WorkOut, problem: FieldProblem) -> str:
        """Return a problem of a calculator in the words of who has to mend it: what the shelf or an answer did not give."""
        given = act.given.get(problem.field)
        for reference in given.references if given is not None else ():
            if self.exact(reference) is not None:
                continue
            name, _, figure = reference.partition(".")
            material = self.shown(name)
            if figure and material is not None and name in self.shelf_answers():
                return phrase(
                    "The shelf has no {figure} of {material}: take it from the data sheet into the shelf, or go on with a reason",
                    figure.replace("_", " "),
                    material,
                )
            return phrase(
                "{field}: not given by an earlier step; go on with a reason", calc.find(act.calculator).field(problem.field).title
            )
        return str(problem)

    def shelf_answers(self) -> set[str]:
        """Return the names of the answers that are materials of the shelf."""
        acts = (step.act for section in self.run.recipe.sections for step in section.steps)
        return {act.into for act in acts if isinstance(act, Ask) and isinstance(act.answer, ShelfAnswer)}

    def result(self, act: WorkOut) -> Result:
        """Return the result of a step's calculator; raises InputError."""
        texts = {}
        for name, template in act.given.items():
            text = template.fill(self.exact, "")
            if text and not any(self.exact(reference) is None for reference in template.references):
                texts[name] = text
        key = (act.calculator, tuple(sorted(texts.items())))
        if key not in self.results:
            self.results[key] = calc.run(act.calculator, texts)
        return self.results[key]

    def presented(self, act: WorkOut, result: Result) -> Presentation:
        """Return the result of a step's calculator as it is read in the project's system."""
        return present(result, calc.find(act.calculator).outputs, self.project.system, act.show)

    def gate(self, act: Gate, view: View) -> None:
        """Show a hold point with its verdict."""
        view.kind, view.advice = "gate", act.if_no
        if isinstance(act.by, WorkOut):
            result = self.work_out(act.by, view)
            view.go = result is not None and all(str(result.outputs[name]) in words for name, words in act.go.items())
            if result is not None:
                view.verdict = ", ".join(str(result.outputs[name]) for name in act.go)
        elif isinstance(act.by, Between):
            self.between(act.by, view)
        else:
            view.options = tuple(Option(key, label) for key, label in act.by.choices.items())
            refused = self.run.refused.get(self.run.place)
            view.go = None if refused is None else False
            view.verdict = act.by.choices.get(refused, "") if refused is not None else ""
        view.reasons = act.reasons

    def between(self, by: Between, view: View) -> None:
        """Judge a value against its limits into the draft."""
        value = self.quantity(by.value, "")
        if value is None:
            view.go, view.problems = False, (phrase("The value to judge was not given; take the last answers back and give it"),)
            return
        low, high = (self.quantity(limit, value.unit) if limit is not None else None for limit in (by.low, by.high))
        for missing, limit, known in (
            ("No least value is known ({references}): see the data sheet", by.low, low),
            ("No greatest value is known ({references}): see the data sheet", by.high, high),
        ):
            if limit is not None and known is None:
                # A limit nobody gave is no leave to pass: the data sheet has to be asked.
                view.go, view.reasons = False, tuple(map(phrase, WITHOUT_FIGURES))
                view.problems = (phrase(missing, ", ".join(limit.references)),)
                return
        number = value.value_in(value.unit)
        low_ok = low is None or number >= low.value_in(value.unit)
        high_ok = high is None or number <= high.value_in(value.unit)
        view.go = low_ok and high_ok
        show = self.display
        limits = (
            phrase("limits {low} to {high}", show(low), show(high))
            if low is not None and high is not None
            else phrase("at least {low}", show(low))
            if low is not None
            else phrase("at most {high}", show(high))
            if high is not None
            else ""
        )
        judged = f"{show(value)}, {limits}"
        if not view.go:
            judged = phrase("too high: {value}" if low_ok else "too low: {value}", judged)
        view.verdict = judged

    def wait(self, act: Wait, view: View) -> None:
        """Show a hold point that opens with a clock."""
        view.kind = "wait"
        clock = self.project.clocks.get(self.run.clocks.get(act.clock, ""))
        view.reasons = act.reasons
        view.go = clock is not None and (clock.ended_at is not None or self.now >= clock.due_at)
        if clock is None:
            view.verdict = phrase("the clock was not started")
        elif view.go:
            view.verdict = phrase("open since {at}", clocks_.wall(clock.due_at, self.now))
        else:
            view.verdict = phrase(
                "NOT BEFORE {at}, {time} to go", clocks_.wall(clock.due_at, self.now), clocks_.face(clock, self.now)
            )
            view.advice = clock.consequence

    def section_end(self, section: Section, turns: int) -> View:
        """Return the view that confirms a section complete, with the choice to repeat it."""
        view = View("section", self.run.place, phrase("Section complete"), detail=(section.name,))
        repeated = self.run.recipe.repeated(self.run.place.section)
        if repeated is not None and self.run.place.section == repeated[0][-1]:
            each, turn = repeated[1].each, self.run.place.turn
            view.headline = phrase("{each} {turn} of {turns} complete", f"{each[0].upper()}{each[1:]}", turn, turns)
            view.advice = repeated[1].until
            view.options = (
                Option("again", phrase("one {each} more", each))
                if turn >= turns
                else Option("enough", phrase("no {each} more", each)),
            )
        self.list_later(view)
        return view

    def end(self) -> View:
        """Return the view at the end of the recipe."""
        run = self.run
        sections = run.recipe.sections
        done = sum(mark.word == "done" and place.step < len(sections[place.section].steps) for place, mark in run.marks.items())
        began, until = run.begun_at, run.finished_at or self.now
        late = sum(mark.late_s is not None for mark in run.marks.values())
        detail = [
            f"{run.recipe.title} · {run.part}",
            phrase("{count} steps, {time} from {at}", done, clocks_.span(until - began), clocks_.wall(began, self.now)),
        ]
        if late:
            detail.append(phrase("1 later than its clock") if late == 1 else phrase("{count} later than their clocks", late))
        kind: ViewKind = "finished" if run.finished_at is not None else "end"
        view = View(
            kind,
            run.place,
            phrase("Recipe complete"),
            places=(phrase("{count} sections done", len(sections)),),
            detail=tuple(detail),
        )
        view.for_later = len(run.for_later)
        if run.given_up:
            view.headline, view.places = phrase("Run given up"), (phrase("its clocks go on until you end them"),)
        elif view.for_later:
            view.headline = phrase("Steps are left")
            view.advice = phrase("Do each, or say why not: only then is the recipe complete.")
            self.list_later(view)
        return view

    def outline(self, place: Place) -> tuple[Line, ...]:
        """Return the steps of the section in hand with what became of them."""
        section = self.run.recipe.sections[place.section]
        lines = []
        for index, step in enumerate(section.steps):
            here = Place(place.section, place.turn, index)
            mark, when = self.run.marks.get(here), condition(self.run.recipe, step)
            if here == place:
                lines.append(Line("begun", step.headline, condition=when))
            elif mark is None and isinstance(step.when, WhenValue) and step.when.value in self.run.values:
                # The answer it hangs on is given: it is a step like any other, or none.
                applies = applicable(step, self.run, self.project.clocks, self.now)
                lines.append(Line("not begun" if applies else "not applicable", step.headline, condition="" if applies else when))
            elif mark is None:
                lines.append(Line("not begun", step.headline, condition=when))
            elif mark.word == "done":
                lines.append(Line("done", step.headline, said(mark, self.now)))
            else:
                lines.append(Line(mark.word, step.headline, mark.shown, when))
        return tuple(lines)

    def here(self, since: datetime) -> Here | None:
        """Return where somebody was who did nothing since then; None at the beginning and the end of a run."""
        run = self.run
        steps = {place: mark for place, mark in run.marks.items() if place.step < len(run.recipe.sections[place.section].steps)}
        done = [place for place, mark in steps.items() if mark.word == "done"]
        if not done or run.finished_at is not None:
            return None
        last = max(done, key=lambda place: (steps[place].at, place))
        headline = run.recipe.sections[last.section].steps[last.step].headline
        begun = run.step.headline if run.step is not None else self.view().headline
        return Here(headline, said(steps[last], self.now), begun, clocks_.ago(since, self.now))

    def late(self, step: Step) -> str:
        """Return what to do because the clock that the step ends is over its time, else nothing."""
        clock = self.project.clocks.get(self.run.clocks.get(step.ends or "", ""))
        if clock is None or clock.ended_at is not None or not clock.closes or self.now < clock.due_at:
            return ""
        return phrase("{clock} is over since {at}. {if_late}", clock.title, clocks_.wall(clock.due_at, self.now), clock.if_late)

    def figures(self, step: Step) -> list[Figure]:
        """Return the figures a step shows in large digits."""
        figures = []
        for label, template in step.figures.items():
            name = template.lone_reference
            if name is not None and (held := self.run.value(name)) is not None and held.quantity is not None:
                figures.append(Figure(label, self.display(held.quantity, held.places)))
            elif text := template.fill(self.shown, ""):
                figures.append(Figure(label, Shown(text)))
        return figures

    def fill(self, template: Template) -> str:
        """Return a text with its values as they are shown."""
        return template.fill(self.shown, GAP)

    def shown(self, name: str) -> str | None:
        """Return how a value is shown in texts, in the project's system."""
        held = self.run.value(name)
        if held is None:
            return None
        if held.quantity is not None:
            return str(self.display(held.quantity, held.places))
        return held.label or held.text

    def exact(self, name: str) -> str | None:
        """Return the text of a value that parses back to it."""
        held = self.run.value(name)
        return held.text if held is not None else None

    def quantity(self, template: Template, unit: str) -> Quantity | None:
        """Return the quantity a template stands for: a value's, or the text's own (in `unit` if it names none)."""
        name = template.lone_reference
        if name is not None:
            held = self.run.value(name)
            return held.quantity if held is not None else None
        return units.parse(template.text, unit)

    def display(self, quantity: Quantity, places: int | None = None) -> Shown:
        """Return a quantity in the project's system."""
        return units.display(quantity, self.project.system, places)


def own_so_far(pot: object, count: int) -> str:
    """Return the line that says of a pot's mass or time that it is the middle one of the user's own."""
    return (
        phrase("Yours so far: {pot}, one pot.", pot)
        if count == 1
        else phrase("Yours so far: {pot}, middle of {count} pots.", pot, count)
    )


def said(mark: Mark, now: datetime) -> str:
    """Return what a mark keeps: its value, its time and by how much it was late."""
    at = clocks_.wall(mark.at, now)
    if mark.late_s is not None:
        at = phrase("{at}, {time} late", at, clocks_.span(timedelta(seconds=mark.late_s)))
    return f"{mark.shown} · {at}" if mark.shown else at


def task(step: Step) -> str:
    """Return in a word what kind of step it is: make it so, record what is read, check it against its limits, and so on."""
    act = step.act
    if isinstance(act, Gate):
        return phrase("check")
    if isinstance(act, Ask):
        return phrase("record" if isinstance(act.answer, (MeasureAnswer, CountAnswer)) else "choose")
    return phrase({WorkOut: "work out", Start: "start", Wait: "wait"}.get(type(act), "do"))


def condition(recipe: Recipe, step: Step) -> str:
    """Return the condition of a step in words, '' for a step without one."""
    when = step.when
    if when is None:
        return ""
    acts = [other.act for section in recipe.sections for other in section.steps]
    if isinstance(when, WhenValue):
        labels: dict[str, str] = {}
        for act in acts:
            if isinstance(act, Ask) and act.into == when.value and isinstance(act.answer, ChoiceAnswer):
                labels.update(act.answer.choices)
        among = ", ".join(labels.get(key, key) for key in when.among)
        text = "if {value} is one of: {names}" if len(when.among) > 1 else "if {value} is {names}"
        return phrase(text, when.value.replace("_", " "), among)
    title = next((act.title for act in acts if isinstance(act, Start) and act.clock == when.clock), when.clock)
    if when.stands == "none":
        return phrase("if no clock '{clock}' runs", title)
    return phrase("if the clock '{clock}' is running" if when.stands == "running" else "if the clock '{clock}' is over", title)


def material_values(into: str, material: Material) -> dict[str, Held]:
    """Return what choosing a material makes known: its name and each figure of its sheet."""
    values = {into: Held(material.name, material.title)}
    for name, text in material.figures.items():
        unit = FIGURES[material.kind][name]
        values[f"{into}.{name}"] = Held(text if unit is None or unit == "ratio" else units.parse(text, unit))
    return values
