"""What a run needs, worked out from its values: materials with amounts, hands-on time and waiting time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from math import floor, log10
from typing import assert_never

from shopmate import times
from shopmate.clock import Clock
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.project.events.work import Used
from shopmate.project.place import Place
from shopmate.project.run import Run
from shopmate.recipe import Ask, Do, Gate, Start, Step, Template, Use, Wait, WhenClock, WorkOut
from shopmate.records import dataclass, field, replace
from shopmate.session.values import Values
from shopmate.session.way import answered, applicable
from shopmate.units import Quantity, Shown, dimension, parse, total, unit_behind


def shown(used: Used, values: Values) -> str:
    """Return a material with its amount in words, in the project's units; a number without a unit is a count."""
    if used.amount is None:
        return phrase("{material}: amount not known yet", used.title)
    if used.amount.unit == "":
        return phrase("{count} × {material}", values.display(used.amount), used.title)
    return phrase("{material}: {amount}", used.title, shown_amount(used.amount, values))


def shown_amount(quantity: Quantity, values: Values) -> Shown:
    """Return an amount in the project's units, to three digits where it was worked out: nobody buys to the milligram."""
    amount, places = quantity.to(values.display(quantity).unit), None
    if isinstance(amount.value, float) and amount.value:
        places = max(0, 2 - floor(log10(abs(amount.value))))
    return values.display(amount, places)


def needs(values: Values) -> list[Used]:
    """Return what a run uses by its values; amounts of one material are added up if they are the same kind of quantity."""
    return together(planned(use, values) for use in applying(values))


def applying(values: Values) -> Iterator[Use]:
    """Yield what of the recipe's uses applies by the answers of a run, its materials chosen."""
    for use in values.run.recipe.uses:
        is_chosen = all(values.run.value(name) is not None for name in use.material.references)
        if is_chosen and all(answered(when, values.run) for when in use.when):
            yield use


def together(each: Iterable[Used]) -> list[Used]:
    """Return materials with the amounts of one material added up if they are the same kind of quantity."""
    found: list[Used] = []
    for used in each:
        at = next((at for at, other in enumerate(found) if _alike(other, used)), None)
        if at is None:
            found.append(used)
        else:
            found[at] = _sum(found[at], used)
    return found


def planned(use: Use, values: Values) -> Used:
    """Return one material with its amount by the figures of the run, waste included."""
    held = values.run.value(use.material.lone_reference or "")
    title = values.fill(use.material)
    return Used(held.text if held is not None else title, title, _amount(use, values))


def _amount(use: Use, values: Values) -> Quantity | None:
    amount = _quantity(use.amount, values)
    times_ = _quantity(use.times, values) if use.times is not None else Quantity(1, "")
    if amount is None or times_ is None:
        return None
    return Quantity(amount.value * times_.value * (1 + use.waste / 100), amount.unit)


def _quantity(template: Template, values: Values) -> Quantity | None:
    """Return the quantity a text stands for, or a calculator's count as a number without a unit."""
    name = template.lone_reference
    if name is None:
        return parse(template.text, unit_behind(template.text))
    held = values.run.value(name)
    if held is not None and isinstance(held.value, int):
        return Quantity(held.value, "")
    return held.quantity if held is not None else None


def _alike(one: Used, other: Used) -> bool:
    """Return whether two amounts can be added up."""
    if one.material != other.material:
        return False
    return one.amount is None or other.amount is None or dimension(one.amount.unit) == dimension(other.amount.unit)


def _sum(one: Used, other: Used) -> Used:
    """Return the sum of both; if one is not known, neither is the sum."""
    amount = None if one.amount is None or other.amount is None else total([one.amount, other.amount])
    weighed, spilled = sum_of(one.weighed, other.weighed), sum_of(one.spilled, other.spilled)
    return replace(one, amount=amount, weighed=weighed, spilled=spilled)


def sum_of(*amounts: Quantity | None) -> Quantity | None:
    """Return the sum of the amounts that are known, None where none is."""
    known = [amount for amount in amounts if amount is not None]
    return total(known) if known else None


@dataclass(slots=True)
class Span:
    """How long work takes, as far as known."""

    hands_on: timedelta = field(default_factory=timedelta)
    waiting: timedelta = field(default_factory=timedelta)
    """Time in which nothing can be done but wait for a clock."""
    cured: timedelta | None = None
    """How long from now until the last clock runs out; None if none runs beyond the end."""
    is_whole: bool = True
    """Whether every section says how long it takes and the time of every clock is known; if not, the work takes longer."""

    @property
    def whole(self) -> timedelta:
        """Hands-on and waiting time together."""
        return self.hands_on + self.waiting


def shown_span(span: Span) -> str:
    """Return the time in words, '' if nothing is known."""
    if not span.whole:
        return ""
    hands_on, waiting = times.duration(span.hands_on), times.duration(span.waiting)
    if not span.hands_on:
        return phrase("waiting {wait}", waiting)
    if not span.is_whole:
        hands_on = phrase("at least {time}", hands_on)
    return phrase("hands-on {time}, waiting {wait}", hands_on, waiting) if span.waiting else phrase("hands-on {time}", hands_on)


def time_ahead(values: Values, clocks: Mapping[str, Clock], now: datetime) -> Span:
    """Return how long a run still takes; the time the recipe gives for each section is divided among its steps."""
    run, span = values.run, Span()
    recipe = run.recipe
    due = {
        name: clock.due_at - now
        for name, key in run.clocks.items()
        if (clock := clocks[key]).ended_at is None and not closes(clock.kind)
    }
    for place in _ahead(run):
        section = recipe.sections[place.section]
        steps = [step for step in section.steps if _applies(step, run, now)]
        takes = values.quantity(section.takes, "min")
        span.is_whole = span.is_whole and _is_counted(run, place) and (takes is not None or not steps or place.section == 0)
        share = timedelta(minutes=takes.value_in("min") / len(steps)) if takes is not None and steps else timedelta()
        for step in steps:
            # Of several confirmed together, what is measured is answered before the hands are done with those in front of it.
            if (at := section.steps.index(step)) >= place.step and not run.is_done(replace(place, step=at)):
                span.hands_on += share
                _pass(step, span, due, values)
    left = max(due.values(), default=timedelta())
    span.cured = left if left > span.whole else None
    return span


def _is_counted(run: Run, place: Place) -> bool:
    """Return whether it is known how many times the section at a place is repeated."""
    found = run.recipe.repeated(place.section)
    return found is None or all(run.value(name) is not None for name in found[1].times.references)


def _pass(step: Step, span: Span, due: dict[str, timedelta], values: Values) -> None:
    """Let a step start a clock, or wait for one."""
    match step.act:
        case Start(clock=name, kind=kind, time=time):
            length = values.quantity(time, "min")
            due.pop(name, None)
            if length is not None and not closes(kind):
                due[name] = span.whole + timedelta(minutes=length.value_in("min"))
        case Wait(clock=name):
            span.is_whole = span.is_whole and name in due
            span.waiting += max(due.pop(name, timedelta()) - span.whole, timedelta())
        case Do() | Ask() | WorkOut() | Gate():
            pass
        case _:
            assert_never(step.act)


def _ahead(run: Run) -> Iterator[Place]:
    """Yield the place of a run and the first place of every section turn after it."""
    place, recipe = run.place, run.recipe
    while place.section < len(recipe.sections):
        yield place
        found = recipe.repeated(place.section)
        together = found[0] if found is not None else range(place.section, place.section + 1)
        if place.section + 1 in together:
            place = Place(place.section + 1, place.turn, 0)
        elif place.turn < run.turns(place.section):
            place = Place(together.start, place.turn + 1, 0)
        else:
            place = Place(together.stop, 1, 0)


def _applies(step: Step, run: Run, now: datetime) -> bool:
    """Return whether a step will apply; if that depends on a clock, the plan assumes the clock is met in time."""
    if not step.when:
        return True
    by_clock = {when.stands for when in step.when if isinstance(when, WhenClock)}
    by_answer = replace(step, when=tuple(when for when in step.when if not isinstance(when, WhenClock)))
    return by_clock <= {"running"} and applicable(by_answer, run, {}, now)
