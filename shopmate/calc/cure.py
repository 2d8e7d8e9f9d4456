"""How far a resin has cured through the temperatures it has had, and how long the sheet's time takes at another one.

The sheet's time is scaled by Arrhenius. Where that formula is in doubt the safe side depends on what the time is for:
a cure to wait for must not be called reached too early, a recoat window must not be called open too long.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models import arrhenius, cure
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, refuse, round_up, together
from shopmate.models.history import LIKE, History, Step
from shopmate.records import dataclass
from shopmate.units import Quantity

_ARRHENIUS = Source(
    "Maturity form of ASTM C1074: equivalent age = sum of exp(−E/R (1/T − 1/Ts)) × time; scope read, formula from memory",
    "memory",
)
_COMPUTED = Source("t = sum of exp(−E/R (1/T − 1/Ts)) dt with R = 8.314462618, computed with Python 3.11", "computed")
_COLD_CURE = Source(
    "Cold cure slowed at 5 to 10 °C, not started at 0 °C: abstracts on cold-curing bridge adhesives, 2011; "
    "Int. J. Adhesion & Adhesives 35, 2012",
    "read",
)
_RANGE = Source("12 to 40 °C as the range of the model; glass transition 10 to 25 °C over the cure temperature", "memory")
_MISREAD = Source("20 to 120 kJ/mol: two points of a sheet that come to others are a misreading", "memory")
_ROUNDED = Source("Hours on a sheet are rounded: within 5 K they tell no activation energy", "computed")
_TELLING = Source("Times within 10 % of one another are one answer (ours)", "common practice")

_STEADY = {"history": ""}
"""A steady temperature, for the limits on it (ours)."""

_COLD = Threshold(cure.COLD, "°C", _RANGE, "can stop half-way as glass", "temperature", "12 °C", "11.9 °C", beside=_STEADY)
_NO_START = Threshold(cure.NO_START, "°C", _COLD_CURE, "cure may not start at", "temperature", "5.01 °C", "5 °C", beside=_STEADY)
_HOT = Threshold(cure.HOT, "°C", _RANGE, "outside the model", "temperature", "40 °C", "40.1 °C", beside=_STEADY)
_TELL_SPREAD = Threshold(1.1, "", _TELLING, "does not tell how strongly", "", "20.7 °C", "20.6 °C", "temperature", _STEADY)
"""Ratio of the longest to the shortest time within the range of activation energies from which the caution tells it."""

_TENTH = Threshold(0.1, "h", _TELLING, " min more", "left_least", "11.8995h@25C", "11.9005h@25C", "history", {"use": "do before"})
"""What is left of a window is told in minutes under this (ours)."""

_SECOND = {"other_time": "8 h", "other_temperature": "35 °C"}
"""A second point of the sheet, for the limits on it (ours)."""

_LEAST_APART = Threshold(
    cure.LEAST_APART, "K", _ROUNDED, "is less than 5 K from", "", "30 °C", "29.9 °C", "other_temperature", _SECOND
)
_LEAST_FITTED = Threshold(20.0, "kJ/mol", _MISREAD, "outside 20 to 120", "activation", "9.23 h", "9.24 h", "other_time", _SECOND)
_MOST_FITTED = Threshold(120.0, "kJ/mol", _MISREAD, "outside 20 to 120", "activation", "2.5 h", "2.49 h", "other_time", _SECOND)

_WAIT, _WINDOW = "not before", "do before"
"""What the sheet's time is: a cure, clamp or sanding time to wait for, or a recoat window that closes."""

_HISTORY = History(Measure("°C", low=-30, high=60), most=100)
"""A winter night to a hot box."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One line of a data sheet, what the time of it is for, and how strongly its resin feels temperature."""

    hours: float
    celsius: float
    closes: bool
    """Whether the time is a window that closes, not a cure to wait for: which side is the safe one."""
    least: float
    """Temperature in °C under which the figure is in doubt."""
    energies: tuple[float, ...]
    """Activation energies in J/mol: the one counted with, then the ends of the range where it is not known."""

    @property
    def known(self) -> bool:
        """Whether the activation energy is that of this resin."""
        return len(self.energies) == 1

    def counted(self, celsius: float) -> float | None:
        """Return the temperature in °C that time at `celsius` counts at; None where it counts for nothing."""
        return cure.counted(celsius, closes=self.closes, least=self.least)

    def speed(self, celsius: float, energy: float | None = None) -> float:
        """Return how many times faster than the sheet's the cure is counted at `celsius`; `energy` in J/mol."""
        return cure.speed(celsius, self.celsius, energy or self.energies[0], closes=self.closes, least=self.least)

    def age(self, steps: Sequence[Step], energy: float | None = None) -> float:
        """Return the equivalent age in h that the steps count for; `energy` in J/mol."""
        return sum(step.hours * self.speed(step.celsius, energy) for step in steps)

    def to_go(self, age: float, celsius: float, energy: float | None = None) -> float | None:
        """Return the h at `celsius` from an equivalent age to the sheet's time; None where cure may not go on."""
        if self.reached_by(age):
            return 0.0
        speed = self.speed(celsius, energy)
        return (self.hours - age) / speed if speed else None

    def reached_by(self, age: float) -> bool:
        """Return whether an equivalent age in h is the sheet's time or more."""
        return age >= self.hours * (1 - NOISE)

    def surely(self, steps: Sequence[Step]) -> float:
        """Return the equivalent age in h on the safe side: the least to wait for, the most of a window.

        Towards a cure only what is not colder than `least` counts.
        """
        if self.closes:
            return max(self.age(steps, energy) for energy in self.energies)
        trusted = [step for step in steps if not self.is_cold(step.celsius)]
        return min(self.age(trusted, energy) for energy in self.energies)

    def is_cold(self, celsius: float) -> bool:
        """Return whether it is colder than the figure is trusted."""
        return cure.is_cold(celsius, self.least)

    def verdict(self, age: float, sure: float) -> str:
        """Return the verdict on an equivalent age in h, and on the one on the safe side."""
        told, safe = self.reached_by(age), self.reached_by(sure)
        if self.closes:
            return "closed" if told else "doubtful" if safe else "open"
        return "not yet" if not told else "reached" if safe else "doubtful"


def _tenth_up(number: float) -> str:
    """Return hours rounded up to 0.1 h, so that following the advice is enough."""
    return f"{round_up(number * 10) / 10:.1f} h"


def _tenth_down(number: float) -> str:
    """Return hours rounded down to 0.1 h, so that a window is never told longer than it is; under 0.1 h in whole minutes."""
    return f"{math.floor(number * 10) / 10:.1f} h" if number >= _TENTH.value else f"{math.floor(number * 60)} min"


def _kelvin(quantity: Quantity) -> str:
    return f"{quantity.value_in('°C') + arrhenius.ZERO_CELSIUS:.2f}"


def _problems(
    sheet_temperature: Quantity,
    course: Mapping[str, object],
    least_temperature: Quantity | None,
    second: Mapping[str, Quantity | None],
    activation: Quantity | None,
) -> list[FieldProblem]:
    problems = []
    if all(value is None for value in course.values()):
        problems.append(FieldProblem("history", "nothing given", f"give the history ({LIKE}), or a steady temperature"))
    if all(value is not None for value in course.values()):
        problems.append(FieldProblem("temperature", "given beside a history", "leave one of both empty"))
    celsius, other = sheet_temperature.value_in("°C"), second["other_temperature"]
    if least_temperature is not None and least_temperature.value_in("°C") > celsius * (1 + NOISE):
        what = f"{units.show(least_temperature)} is over the sheet's own {units.show(sheet_temperature)}"
        problems.append(
            FieldProblem("least_temperature", what, "give the least temperature that the sheet allows for working or cure")
        )
    problems += together(second, "nothing given", "give time and temperature of the sheet's second point, or neither")
    if other is None:
        return problems
    if abs(other.value_in("°C") - celsius) < _LEAST_APART.value * (1 - NOISE):
        what = f"{units.show(other)} is less than {_LEAST_APART.value:g} K from {units.show(sheet_temperature)}"
        problems.append(FieldProblem("other_temperature", what, "give a point farther away, or leave both of it empty"))
    what = "given beside a second point of the sheet, which tells it too"
    return problems + given({"activation": activation}, what, "leave one of both empty")


def _compute(
    *,
    sheet_time: Quantity,
    sheet_temperature: Quantity,
    history: str | None,
    temperature: Quantity | None,
    use: str,
    least_temperature: Quantity | None,
    other_time: Quantity | None,
    other_temperature: Quantity | None,
    activation: Quantity | None,
) -> Answer:
    course, second = (
        {"history": history, "temperature": temperature},
        {"other_time": other_time, "other_temperature": other_temperature},
    )
    refuse(*_problems(sheet_temperature, course, least_temperature, second, activation))
    energy, line = _energy(sheet_time, sheet_temperature, other_time, other_temperature, activation)
    known = activation is not None or other_time is not None
    celsius = sheet_temperature.value_in("°C")
    # What the sheet itself is given for is not in doubt, however cold.
    least = min(cure.COLD, celsius) if least_temperature is None else least_temperature.value_in("°C")
    energies = (energy,) if known else (energy, *cure.ACTIVATION_RANGE)
    sheet = _Sheet(sheet_time.value_in("h"), celsius, use == _WINDOW, least, energies)
    steps = () if history is None else _HISTORY.steps(history)
    last = steps[-1].temperature if temperature is None else temperature
    at, at_sheet = last.value_in("°C"), units.show(sheet_temperature)
    now, takes = sheet.speed(at), sheet.to_go(0.0, at)
    age = left = sure = verdict = None
    working = [line]
    if steps:
        age, sure = sheet.age(steps), sheet.surely(steps)
        left, verdict = sheet.to_go(age, at), sheet.verdict(age, sure)
        working += [_speed_line(step.temperature, sheet_temperature, sheet, step) for step in steps]
        working.append(
            f"equivalent age = sum = {age:.2f} h at {at_sheet}; fraction = {age:.2f} / {sheet.hours:g} = {age / sheet.hours:.3f}"
        )
        if verdict == "doubtful":
            working.append(f"on the safe side = {sure:.2f} h: {_why_doubtful(sheet, steps)}")
    else:
        verdict = "may not cure" if takes is None else None
        working.append(_speed_line(last, sheet_temperature, sheet))
    if takes is not None:
        working.append(f"time at {units.show(last)} = sheet's time / speed = {sheet.hours:g} / {now:.4f} = {takes:.2f} h")
    if left and age is not None:
        working.append(f"left = (sheet's time − age) / speed = ({sheet.hours:g} − {age:.2f}) / {now:.4f} = {left:.2f} h")
    to_go = [hours for energy in energies if (hours := sheet.to_go(sheet.age(steps, energy), at, energy)) is not None]
    short = sheet.hours - (sure or 0.0)
    return Answer(
        {
            "left": left,
            "equivalent_age": age,
            "time_at_temperature": takes,
            "verdict": verdict,
            "fraction": None if age is None else age / sheet.hours,
            "rate": now,
            "activation": energy / 1000,
            "left_least": min(to_go, default=None),
            "left_most": max(to_go, default=None),
            "safe_age": sure,
            "safe_short": short,
        },
        tuple(working),
        (
            *_verdict_cautions(verdict, last, sheet, to_go, at_sheet, short),
            *_other_cautions(verdict, last, sheet, to_go, [step.celsius for step in steps] or [at]),
        ),
        has_figure=verdict != "may not cure",
    )


def _other_cautions(
    verdict: str | None, last: Quantity, sheet: _Sheet, to_go: Sequence[float], celsii: Sequence[float]
) -> list[str]:
    """Return, after the verdict, heat that can hurt and the hours to count on, then what the figures do not cover."""
    said = _hot_cautions(celsii, sheet)
    # What is open is told on the safe side already; too cold to be trusted, no count of hours is safe.
    trusted = sheet.closes or not sheet.is_cold(last.value_in("°C"))
    if verdict in (None, "not yet") and trusted and max(to_go) > _TELL_SPREAD.value * min(to_go):
        safe = _tenth_down(min(to_go)) if sheet.closes else _tenth_up(max(to_go))
        said.append(
            f"One line of a sheet does not tell how strongly this resin feels temperature: epoxies of {_kilojoules()} "
            f"have {min(to_go):.1f} to {max(to_go):.1f} h to go at {units.show(last)}. "
            f"Count {safe} to be on the safe side, or take a second time and temperature from the sheet."
        )
    said += _cold_cautions(celsii, sheet)
    return [*said, _STANDING_WINDOW if sheet.closes else _STANDING_WAIT]


_STANDING_WAIT = (
    "Holds only until the resin turns to glass: cured in a room it softens again 10 to 25 °C above the cure temperature "
    "(from memory), as in a hot sun, until it is post-cured by its sheet. The sheet decides; press a thumbnail in "
    "before any load, and do not sand soft resin: its dust can start an allergy that stays."
)
"""Said of every cure to wait for [memory]."""

_STANDING_WINDOW = (
    "The window is the sheet's: hotter closes it sooner (sun, lamp, thick coat). Past it, or if the coat feels greasy, "
    "wash with water, then abrade, then coat: sanding first grinds the blush in (common practice)."
)
"""Said of every window."""


def _kilojoules() -> str:
    low, high = cure.ACTIVATION_RANGE
    return f"{low / 1000:g} to {high / 1000:g} kJ/mol"


def _why_doubtful(sheet: _Sheet, steps: Sequence[Step]) -> str:
    """Return in words what is left out of the age on the safe side."""
    reasons = []
    if not sheet.closes and any(sheet.is_cold(step.celsius) for step in steps):
        reasons.append(f"time below {sheet.least:g} °C not counted")
    if not sheet.known:
        reasons.append(f"E from {_kilojoules()}, whichever is worse")
    return ", ".join(reasons)


def _energy(
    time: Quantity, temperature: Quantity, other_time: Quantity | None, other_temperature: Quantity | None, own: Quantity | None
) -> tuple[float, str]:
    """Return the activation energy in J/mol, given, fitted or typical, and the line of working that says which."""
    if own is not None:
        return own.value_in("kJ/mol") * 1000, f"E = {units.show(own)}, as given"
    if other_time is None or other_temperature is None:
        return arrhenius.ACTIVATION, f"E = {arrhenius.ACTIVATION / 1000:g} kJ/mol, typical for epoxy with amine"
    hours, others = time.value_in("h"), other_time.value_in("h")
    energy = arrhenius.fitted_activation(hours, temperature.value_in("°C"), others, other_temperature.value_in("°C"))
    low, high = _LEAST_FITTED.value, _MOST_FITTED.value
    kilojoules = energy / 1000
    if not low <= kilojoules <= high:
        what = f"both points of the sheet together come to {kilojoules:.0f} kJ/mol, outside {low:g} to {high:g}"
        fix = "check both times and temperatures: the hotter one is shorter, about half for 10 K; both for the same state"
        raise InputError(FieldProblem("other_time", what, fix))
    return energy, (
        f"E = R ln(t1 / t2) / (1/T1 − 1/T2) = 0.008314 × ln({hours:g} / {others:g}) / (1/{_kelvin(temperature)} − "
        f"1/{_kelvin(other_temperature)}) = {kilojoules:.2f} kJ/mol, from both points of the sheet"
    )


def _speed_line(temperature: Quantity, at_sheet: Quantity, sheet: _Sheet, step: Step | None = None) -> str:
    """Return the working of the speed at one temperature, and of what a step there comes to."""
    celsius = temperature.value_in("°C")
    counted = sheet.counted(celsius)
    if counted is None:
        return f"speed at {units.show(temperature)} = 0: cure may not start at {_NO_START.value:g} °C or colder"
    as_if = "" if math.isclose(counted, celsius, abs_tol=NOISE) else f", counted as {counted:g} °C,"
    speed = sheet.speed(celsius)
    line = (
        f"speed at {units.show(temperature)}{as_if} = exp({sheet.energies[0] / arrhenius.GAS_CONSTANT:.1f} × "
        f"(1/{_kelvin(at_sheet)} − 1/{counted + arrhenius.ZERO_CELSIUS:.2f})) = {speed:.4f}"
    )
    return line if step is None else f"{line}; × {units.show(step.time)} = {step.hours * speed:.2f} h"


def _verdict_cautions(
    verdict: str | None, last: Quantity, sheet: _Sheet, to_go: Sequence[float], at_sheet: str, short: float
) -> list[str]:
    """Return what to do about the verdict; `short` are the h at the sheet's temperature that surely cure it."""
    warm = f"warm it to {at_sheet} without a flame and give it {_tenth_up(short)} there"
    if verdict == "doubtful" and sheet.closes:
        return ["Doubtful: by the worse activation energy the window has closed. Take it as closed: wash, abrade, then coat."]
    if verdict == "doubtful":
        return [
            f"Doubtful: reached by the figure, but not on the safe side (see the working; below {sheet.least:g} °C resin can "
            f"turn to glass half-cured). Before you trust it, {warm}."
        ]
    if verdict == "may not cure":
        return [f"At {units.show(last)} the cure may not start at all, and no time can be told: {warm}."]
    if verdict == "not yet" and sheet.is_cold(last.value_in("°C")):
        goes = "may stop short, whatever the time" if to_go else "may not go on at all"
        return [f"At {units.show(last)} the cure {goes}: {warm}."]
    if verdict == "closed":
        return ["Closed: a coat laid on now does not bond by itself. Wash, abrade until it is dull all over, then coat."]
    if verdict == "open":
        return [f"Open for {_tenth_down(min(to_go))} more at {units.show(last)}, on the safe side, from the end of the history."]
    return []


def _cold_cautions(temperatures: Sequence[float], sheet: _Sheet) -> list[str]:
    """Return what to say of temperatures under the model's."""
    said = []
    if any(map(sheet.is_cold, temperatures)):
        cold = (
            "a window counts as if it were no colder than that"
            if sheet.closes
            else "cure can stop half-way as glass, and the figure is no promise"
        )
        said.append(
            f"Below {sheet.least:g} °C {cold}. Cold and damp bring amine blush: wash with water and wipe dry before sanding "
            f"or coating. The least temperature on the data sheet decides."
        )
    if not sheet.closes and any(map(cure.no_start, temperatures)):
        said.append(f"Time at {_NO_START.value:g} °C or colder is not counted: cure may not start there.")
    return said


def _hot_cautions(temperatures: Sequence[float], sheet: _Sheet) -> list[str]:
    """Return what to say of temperatures over the model's."""
    if max(temperatures) <= _HOT.value + NOISE:
        return []
    hot = (
        "a window may close even sooner than told: do not wait for its end"
        if sheet.closes
        else f"time counts as at {_HOT.value:g} °C only"
    )
    return [
        f"Over {_HOT.value:g} °C is outside the model: {hot}. Fresh resin can run away and foam, and foam core can "
        "warp: heat only as the data sheet says."
    ]


CALCULATOR = Calculator(
    name="cure", title="Cure at other temperatures",
    inputs=(
        Field("sheet_time", "Time on the data sheet", Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "For what you wait: recoat, sanding, clamps off, full cure.", required=True),
        Field("sheet_temperature", "Temperature it is for", Measure("°C", low=10, high=40, soft_low=15, soft_high=30),
            "The temperature that the data sheet gives the time for.", required=True),
        Field("history", "Temperatures it has had", _HISTORY,
            f"Of the part. Keypad: 8/25-16/12, hours / degrees. Letters: {LIKE}."),
        Field("temperature", "Or steady temperature", Measure("°C", low=0, high=60, soft_low=_COLD.value, soft_high=_HOT.value),
            "Instead of a history: how long the sheet's time takes at this one."),
        Field("use", "The sheet's time is", Choice((_WAIT, _WINDOW)),
            "Not before: a cure to wait for. Do before: a recoat window that closes.", default=_WAIT),
        Field("least_temperature", "Least on the sheet", Measure("°C", low=_NO_START.value, high=30, soft_high=20),
            f"Least temperature that the data sheet allows; without it {_COLD.value:g} °C (typical, from memory)."),
        Field("other_time", "Time at a second point", Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "If the sheet gives the time for another temperature too: then E is worked out from both."),
        Field("other_temperature", "Its temperature, second", Measure("°C", low=10, high=60, soft_high=_HOT.value),
            "The temperature of the second point."),
        Field("activation", "Activation energy E", Measure("kJ/mol", low=_LEAST_FITTED.value, high=_MOST_FITTED.value,
            soft_low=40, soft_high=70),
            f"Without it and without a second point {arrhenius.ACTIVATION / 1000:g} kJ/mol: typical, use your data sheet."),
    ),
    outputs=(
        Output("left", "Left, at the last", "h", 1),
        Output("equivalent_age", "Age at the sheet's", "h", 1),
        Output("time_at_temperature", "Whole time there", "h", 1),
        Output("verdict", "Verdict"),
        Output("fraction", "Fraction reached", "", 2),
        Output("rate", "Speed against the sheet's", "", 2),
        Output("activation", "Activation energy", "kJ/mol", 1),
        Output("left_least", "Left, at the least", "h", 1),
        Output("left_most", "Left, at the most", "h", 1),
        Output("safe_age", "Age on the safe side", "h", 1),
        Output("safe_short", "Short of it, safe side", "h", 1),
    ),
    source=(
        _ARRHENIUS,
        Source("E 55 kJ/mol, within 44 to 60 read: Barral 1995; Thermochimica Acta 447, 2006 (abstracts)", "read"),
        _COLD_CURE,
        Source("Amine blush in cool, humid air: abstract of a coatings-conference paper, 2005; washed off with water", "read"),
        _RANGE,
    ),
    valid="12 to 40 °C (or from the sheet's least temperature) and until the resin turns to glass: after that cure all but "
    "stops. Towards a cure, time at 5 °C or colder counts for nothing, time over 40 °C as at 40 °C. A window counts as if never "
    "colder than the least temperature. One activation energy for the whole range; temperatures are the resin's, and a thick "
    "coat runs hotter than the room. Degree-hours (time × °C) go in a straight line and undercount warm spells; 'half the time "
    "per 10 °C' fits near 25 °C only. Not checked on measured cures.",
    examples=(
        Example({"sheet_time": "12 h", "sheet_temperature": "25 °C", "history": "24h@15C"}, {"equivalent_age": 11.1126,
            "verdict": "not yet"}, _COMPUTED, rel=1e-4),
        Example({"sheet_time": "20 h", "sheet_temperature": "20 °C", "history": "8h@25C 16h@12C"}, {"equivalent_age": 20.1751,
            "left": 0.0, "verdict": "reached"}, _COMPUTED, rel=1e-4),
        Example({"sheet_time": "6 h", "sheet_temperature": "25 °C", "temperature": "16 °C", "use": "do before"},
            {"time_at_temperature": 12.0},
            Source("A 6 h window at 25 °C is 12.0 h at 16 °C, E 55 kJ/mol: computed with Python 3.11", "computed"), rel=0.005),
        Example({"sheet_time": "24 h", "sheet_temperature": "23 °C", "temperature": "10 °C", "activation": "41.57231309 kJ/mol"},
            {"rate": 0.460635, "time_at_temperature": 52.102},
            Source("ASTM C1074 practice for concrete, E/R = 5000 K: age factor 0.4606 at 10 °C against 23 °C", "memory"),
            rel=1e-4),
        Example({"sheet_time": "2 h", "sheet_temperature": "20 °C", "temperature": "25 °C", "other_time": "1 h",
            "other_temperature": "30 °C"}, {"activation": 51.2162},
            Source("Arrhenius: the rate doubles from 20 to 30 °C at 51.2162 kJ/mol, computed with Python 3.11", "computed"),
            rel=1e-4),
    ),
    asked=("sheet_time", "sheet_temperature", "history|temperature", "use"),
    compute=_compute, thresholds=(_COLD, _NO_START, _HOT, _TENTH, _LEAST_APART, _TELL_SPREAD, _LEAST_FITTED, _MOST_FITTED),
)  # fmt: skip
