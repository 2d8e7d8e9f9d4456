"""How far a resin has cured at the temperatures it has been through, and what a data-sheet time becomes at another temperature.

The data-sheet time is scaled by the Arrhenius formula. Where that is in doubt, the safe side depends on what the time is for:
a cure to wait for must not be called done too early, a recoat window must not be called open too long.
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
    "ASTM C1074, maturity: equivalent age = sum of exp(−E/R (1/T − 1/Ts)) × time; its scope was read, the formula is from memory",
    "memory",
)
_COMPUTED = Source("t = sum of exp(−E/R (1/T − 1/Ts)) dt with R = 8.314462618, computed with Python 3.11", "computed")
_COLD_CURE = Source(
    "Cold-curing adhesives were slow at 5 to 10 °C and did not start at 0 °C: abstracts on bridge adhesives, 2011; "
    "Int. J. Adhesion & Adhesives 35, 2012",
    "read",
)
_RANGE = Source("The formula is good from 12 to 40 °C; the cured resin softens 10 to 25 °C above its cure temperature", "memory")
_MISREAD = Source("Two data-sheet points that give less than 20 or more than 120 kJ/mol have been misread", "memory")
_ROUNDED = Source("Data-sheet hours are rounded, so two points less than 5 °C apart can't give an activation energy", "computed")
_TELLING = Source("Times within 10 % of one another count as equal (our choice)", "common practice")

_STEADY = {"history": ""}
"""Input removed from the first worked example to test the limits on a steady temperature (our choice)."""

_COLD = Threshold(cure.COLD, "°C", _RANGE, "can go hard half-cured", "temperature", "12 °C", "11.9 °C", beside=_STEADY)
_NO_START = Threshold(cure.NO_START, "°C", _COLD_CURE, "cure may not start at", "temperature", "5.01 °C", "5 °C", beside=_STEADY)
_HOT = Threshold(cure.HOT, "°C", _RANGE, "this formula is no longer good", "temperature", "40 °C", "40.1 °C", beside=_STEADY)
_TELL_SPREAD = Threshold(1.1, "", _TELLING, "how much temperature matters", "", "20.7 °C", "20.6 °C", "temperature", _STEADY)
"""Longest ÷ shortest time over the range of activation energies: above this ratio the caution shows both times."""

_TENTH = Threshold(0.1, "h", _TELLING, " min at", "left_least", "11.8995h@25C", "11.9005h@25C", "history", {"use": "do before"})
"""A window with less time than this left is shown in minutes (our choice)."""

_SECOND = {"other_time": "8 h", "other_temperature": "35 °C"}
"""A second data-sheet point, added to the first worked example to test the limits on it (our choice)."""

_LEAST_APART = Threshold(
    cure.LEAST_APART, "K", _ROUNDED, "is less than 5 °C away from", "", "30 °C", "29.9 °C", "other_temperature", _SECOND
)
_LEAST_FITTED = Threshold(20.0, "kJ/mol", _MISREAD, "outside 20 to 120", "activation", "9.23 h", "9.24 h", "other_time", _SECOND)
_MOST_FITTED = Threshold(120.0, "kJ/mol", _MISREAD, "outside 20 to 120", "activation", "2.5 h", "2.49 h", "other_time", _SECOND)

_WAIT, _WINDOW = "not before", "do before"
"""What the data-sheet time is for: a cure, clamp or sanding time to wait for, or a recoat window that closes."""

_HISTORY = History(Measure("°C", low=-30, high=60), most=100)
"""Range of temperatures in a history: from a winter night to a heated box."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A data-sheet time with its temperature, what it is for, and how much temperature matters to the resin."""

    hours: float
    celsius: float
    closes: bool
    """Whether the time is a window that closes, rather than a cure to wait for."""
    least: float
    """Temperature in °C below which the result is in doubt."""
    energies: tuple[float, ...]
    """Activation energies in J/mol: the one used, and after it both ends of the range where it is not known."""

    @property
    def known(self) -> bool:
        """Whether the activation energy is this resin's own."""
        return len(self.energies) == 1

    def counted(self, celsius: float) -> float | None:
        """Return the temperature in °C used for time spent at `celsius`; None where that time does not count."""
        return cure.counted(celsius, closes=self.closes, least=self.least)

    def speed(self, celsius: float, energy: float | None = None) -> float:
        """Return the speed of cure at `celsius`, 1 at the data sheet's temperature; `energy` in J/mol."""
        return cure.speed(celsius, self.celsius, energy or self.energies[0], closes=self.closes, least=self.least)

    def age(self, steps: Sequence[Step], energy: float | None = None) -> float:
        """Return the equivalent age in h that the steps add up to; `energy` in J/mol."""
        return sum(step.hours * self.speed(step.celsius, energy) for step in steps)

    def to_go(self, age: float, celsius: float, energy: float | None = None) -> float | None:
        """Return the hours still needed at `celsius` after an equivalent age; None where the cure may stall."""
        if self.reached_by(age):
            return 0.0
        speed = self.speed(celsius, energy)
        return (self.hours - age) / speed if speed else None

    def reached_by(self, age: float) -> bool:
        """Return whether an equivalent age in h reaches the data-sheet time."""
        return age >= self.hours * (1 - NOISE)

    def surely(self, steps: Sequence[Step]) -> float:
        """Return the equivalent age in h on the safe side: the lowest for a cure, the highest for a window.

        For a cure, time colder than `least` does not count.
        """
        if self.closes:
            return max(self.age(steps, energy) for energy in self.energies)
        trusted = [step for step in steps if not self.is_cold(step.celsius)]
        return min(self.age(trusted, energy) for energy in self.energies)

    def is_cold(self, celsius: float) -> bool:
        """Return whether `celsius` is too cold to trust the result."""
        return cure.is_cold(celsius, self.least)

    def verdict(self, age: float, sure: float) -> str:
        """Return the verdict; `age` is the equivalent age in h, `sure` the same on the safe side."""
        told, safe = self.reached_by(age), self.reached_by(sure)
        if self.closes:
            return "closed" if told else "doubtful" if safe else "open"
        return "not yet" if not told else "reached" if safe else "doubtful"


def _tenth_up(number: float) -> str:
    """Return hours rounded up to 0.1 h, as text."""
    return f"{round_up(number * 10) / 10:.1f} h"


def _tenth_down(number: float) -> str:
    """Return hours rounded down to 0.1 h, or below that to whole minutes, as text."""
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
        problems.append(FieldProblem("history", "still blank", f"enter the history ({LIKE}), or a steady temperature"))
    if all(value is not None for value in course.values()):
        problems.append(
            FieldProblem("temperature", "a history is entered too", "clear either the history or the steady temperature")
        )
    celsius, other = sheet_temperature.value_in("°C"), second["other_temperature"]
    if least_temperature is not None and least_temperature.value_in("°C") > celsius * (1 + NOISE):
        what = f"{units.show(least_temperature)} is above the {units.show(sheet_temperature)} that the data-sheet time is for"
        problems.append(
            FieldProblem("least_temperature", what, "enter the lowest temperature the data sheet allows for work or cure")
        )
    problems += together(second, "still blank", "enter both time and temperature of the second data-sheet point, or neither")
    if other is None:
        return problems
    if abs(other.value_in("°C") - celsius) < _LEAST_APART.value * (1 - NOISE):
        what = f"{units.show(other)} is less than {_LEAST_APART.value:g} °C away from {units.show(sheet_temperature)}"
        problems.append(
            FieldProblem(
                "other_temperature", what, "enter a second point at a temperature farther away, or clear its time and temperature"
            )
        )
    what = "a second data-sheet point is entered too, and the activation energy is worked out from that"
    return problems + given({"activation": activation}, what, "clear this, or the second time and temperature")


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
    # The data sheet's own temperature is not in doubt, however cold.
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
            f"equivalent age = total of these = {age:.2f} h at {at_sheet}; share done = {age:.2f} / {sheet.hours:g} = "
            f"{age / sheet.hours:.3f}"
        )
        if verdict == "doubtful":
            working.append(f"equivalent age on the safe side = {sure:.2f} h: {_why_doubtful(sheet, steps)}")
    else:
        verdict = "may not cure" if takes is None else None
        working.append(_speed_line(last, sheet_temperature, sheet))
    if takes is not None:
        working.append(f"time at {units.show(last)} = data-sheet time / speed = {sheet.hours:g} / {now:.4f} = {takes:.2f} h")
    if left and age is not None:
        working.append(
            f"time left = (data-sheet time − equivalent age) / speed = ({sheet.hours:g} − {age:.2f}) / {now:.4f} = {left:.2f} h"
        )
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
    """Return the cautions after those on the verdict: on heat, on the hours to count on, on cold, then those always shown."""
    said = _hot_cautions(celsii, sheet)
    # An open window is already given on the safe side; where it is too cold, no number of hours is safe.
    trusted = sheet.closes or not sheet.is_cold(last.value_in("°C"))
    if verdict in (None, "not yet") and trusted and max(to_go) > _TELL_SPREAD.value * min(to_go):
        safe = _tenth_down(min(to_go)) if sheet.closes else _tenth_up(max(to_go))
        said.append(
            f"One data-sheet time can't show how much temperature matters to this resin: at {units.show(last)}, an epoxy with "
            f"an activation energy of {_kilojoules()} has {min(to_go):.1f} to {max(to_go):.1f} h to go. "
            f"Count on {safe} to be safe, or enter a second time and temperature from the data sheet."
        )
    said += _cold_cautions(celsii, sheet)
    return [*said, _STANDING_WINDOW if sheet.closes else _STANDING_WAIT]


_STANDING_WAIT = (
    "Unless you post-cure it as the data sheet says, this resin softens again 10 to 25 °C above its cure temperature (from "
    "memory), for example in hot sun. The data sheet decides. Press a thumbnail into the resin before you load the part, and do "
    "not sand it while it is soft: the dust can give you an allergy for life."
)
"""Shown with every cure to wait for [memory]."""

_STANDING_WINDOW = (
    "Heat from sun, a lamp or a thick coat closes the window sooner, and the data sheet decides. Once it has closed, or if the "
    "coat feels greasy, wash with water, then abrade, then coat: sanding first grinds the blush in (common practice)."
)
"""Shown with every recoat window."""


def _kilojoules() -> str:
    low, high = cure.ACTIVATION_RANGE
    return f"{low / 1000:g} to {high / 1000:g} kJ/mol"


def _why_doubtful(sheet: _Sheet, steps: Sequence[Step]) -> str:
    """Return in words why the equivalent age on the safe side differs from the usual one."""
    reasons = []
    if not sheet.closes and any(sheet.is_cold(step.celsius) for step in steps):
        reasons.append(f"time below {sheet.least:g} °C not counted")
    if not sheet.known:
        reasons.append(f"E at the worst end of {_kilojoules()}")
    return ", ".join(reasons)


def _energy(
    time: Quantity, temperature: Quantity, other_time: Quantity | None, other_temperature: Quantity | None, own: Quantity | None
) -> tuple[float, str]:
    """Return the activation energy in J/mol (entered, fitted or typical) and its working line."""
    if own is not None:
        return own.value_in("kJ/mol") * 1000, f"E = {units.show(own)}, as entered"
    if other_time is None or other_temperature is None:
        return arrhenius.ACTIVATION, f"E = {arrhenius.ACTIVATION / 1000:g} kJ/mol, typical for epoxy with an amine hardener"
    hours, others = time.value_in("h"), other_time.value_in("h")
    energy = arrhenius.fitted_activation(hours, temperature.value_in("°C"), others, other_temperature.value_in("°C"))
    low, high = _LEAST_FITTED.value, _MOST_FITTED.value
    kilojoules = energy / 1000
    if not low <= kilojoules <= high:
        what = f"the two data-sheet points give {kilojoules:.0f} kJ/mol, outside {low:g} to {high:g}"
        fix = "check both points: they must be for the same stage of cure, and 10 °C hotter should about halve the time"
        raise InputError(FieldProblem("other_time", what, fix))
    return energy, (
        f"E = R ln(t1 / t2) / (1/T1 − 1/T2) = 0.008314 × ln({hours:g} / {others:g}) / (1/{_kelvin(temperature)} − "
        f"1/{_kelvin(other_temperature)}) = {kilojoules:.2f} kJ/mol, from both data-sheet points"
    )


def _speed_line(temperature: Quantity, at_sheet: Quantity, sheet: _Sheet, step: Step | None = None) -> str:
    """Return the working line for the speed at one temperature, and for the equivalent age a step there adds."""
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
    """Return what to do about the verdict; `short`: hours at the data-sheet temperature that finish the cure on the safe side."""
    warm = f"warm the part to {at_sheet}, never with a flame, and keep it there for {_tenth_up(short)}"
    if verdict == "doubtful" and sheet.closes:
        return ["Doubtful: for some epoxies the window has closed by now. Treat it as closed: wash, abrade, then coat."]
    if verdict == "doubtful":
        return [
            f"Doubtful: cured by the usual estimate, but not by the safe-side one (see the working). Below {sheet.least:g} °C "
            f"resin can go hard half-cured. Before you trust the cure, {warm}."
        ]
    if verdict == "may not cure":
        return [f"At {units.show(last)} the cure may not start at all, so waiting alone won't help: {warm}."]
    if verdict == "not yet" and sheet.is_cold(last.value_in("°C")):
        goes = "may stop short, however long you wait" if to_go else "may stall completely"
        return [f"At {units.show(last)} the cure {goes}: {warm}."]
    if verdict == "closed":
        return ["Closed: a coat put on now will not bond by itself. Wash, abrade until it is dull all over, then coat."]
    if verdict == "open":
        return [
            f"Open for another {_tenth_down(min(to_go))} at {units.show(last)} after the end of the history (on the safe side)."
        ]
    return []


def _cold_cautions(temperatures: Sequence[float], sheet: _Sheet) -> list[str]:
    """Return the cautions about temperatures too cold for the formula."""
    said = []
    if any(map(sheet.is_cold, temperatures)):
        cold = (
            "no extra time is added to the window"
            if sheet.closes
            else "resin can go hard half-cured, so don't rely on the hours shown"
        )
        said.append(
            f"Below {sheet.least:g} °C {cold}. Cold and damp bring amine blush: wash it off with water and wipe dry before "
            "sanding or coating. The lowest temperature on the data sheet decides."
        )
    if not sheet.closes and any(map(cure.no_start, temperatures)):
        said.append(f"Time at {_NO_START.value:g} °C or colder is not counted: cure may not start there.")
    return said


def _hot_cautions(temperatures: Sequence[float], sheet: _Sheet) -> list[str]:
    """Return the cautions about temperatures too hot for the formula."""
    if max(temperatures) <= _HOT.value + NOISE:
        return []
    hot = (
        "the window may close even sooner, so don't wait until the end of it"
        if sheet.closes
        else f"time above that counts as time at {_HOT.value:g} °C"
    )
    return [
        f"Above {_HOT.value:g} °C this formula is no longer good: {hot}. Fresh resin can overheat by itself and froth up, "
        "and foam core can warp: heat only as the data sheet says."
    ]


CALCULATOR = Calculator(
    name="cure", title="Cure or recoat time at other temperatures, in hours",
    inputs=(
        Field("sheet_time", "Time on the data sheet", Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "The time for your job: recoat, sanding, clamps off, full cure.", required=True),
        Field("sheet_temperature", "Temperature on the data sheet", Measure("°C", low=10, high=40, soft_low=15, soft_high=30),
            "The temperature that time is for.", required=True),
        Field("history", "Temperatures so far", _HISTORY,
            f"Hours the part spent at each temperature, in order. On a keypad type 8/25-16/12 (hours/degrees), with letters "
            f"{LIKE}."),
        Field("temperature", "Steady temperature", Measure("°C", low=0, high=60, soft_low=_COLD.value, soft_high=_HOT.value),
            "Enter it instead of a history, to see how long the data-sheet time becomes at this temperature."),
        Field("use", "What the data-sheet time is for", Choice((_WAIT, _WINDOW)),
            "Not before: a cure to wait for. Do before: a recoat window that closes.", default=_WAIT),
        Field("least_temperature", "Lowest temperature allowed", Measure("°C", low=_NO_START.value, high=30, soft_high=20),
            f"From the data sheet. Blank: {_COLD.value:g} °C (typical, from memory)."),
        Field("other_time", "Second data-sheet time", Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "If the data sheet gives the time at another temperature too, enter it here: the two show "
            "how much warmth speeds up the cure."),
        Field("other_temperature", "Second data-sheet temperature", Measure("°C", low=10, high=60, soft_high=_HOT.value),
            "The temperature the second time is for."),
        Field("activation", "Activation energy E", Measure("kJ/mol", low=_LEAST_FITTED.value, high=_MOST_FITTED.value,
            soft_low=40, soft_high=70),
            f"Blank, with no second data-sheet time: {arrhenius.ACTIVATION / 1000:g} kJ/mol (typical; the data sheet decides)."),
    ),
    outputs=(
        Output("left", "Time left at the last temperature", "h", 1),
        Output("equivalent_age", "Hours done, as if at the data-sheet temperature", "h", 1),
        Output("time_at_temperature", "Total time at this temperature", "h", 1),
        Output("verdict", "Verdict"),
        Output("fraction", "Share of the time done (1 = all)", "", 2),
        Output("rate", "Speed of cure (1 = as on the data sheet)", "", 2),
        Output("activation", "Activation energy", "kJ/mol", 1),
        Output("left_least", "Time left, shortest estimate", "h", 1),
        Output("left_most", "Time left, longest estimate", "h", 1),
        Output("safe_age", "Hours done, on the safe side", "h", 1),
        Output("safe_short", "Hours short, on the safe side", "h", 1),
    ),
    source=(
        _ARRHENIUS,
        Source("E 55 kJ/mol, chosen within the published 44 to 60: Barral 1995; Thermochimica Acta 447, 2006 "
            "(abstracts)", "read"),
        _COLD_CURE,
        Source("Amine blush in cool, humid air washes off with water: abstract of a coatings-conference paper, 2005", "read"),
        _RANGE,
    ),
    valid="From 12 °C (or the lowest temperature the data sheet allows) to 40 °C, and until the resin is glass-hard: after that "
    "cure all but stops. For a cure, time at 5 °C or colder does not count, and time above 40 °C counts as time at 40 °C. For "
    "a window, colder time counts as time at the lowest temperature allowed. One activation energy is used for the whole "
    "range. Enter the resin's own temperature: a thick coat runs hotter than the room. Degree-hours (time × °C) count warm "
    "spells for too little, and 'half the time per 10 °C' is right only near 25 °C. Not checked against measured cures.",
    examples=(
        Example({"sheet_time": "12 h", "sheet_temperature": "25 °C", "history": "24h@15C"}, {"equivalent_age": 11.1126,
            "verdict": "not yet"}, _COMPUTED, rel=1e-4),
        Example({"sheet_time": "20 h", "sheet_temperature": "20 °C", "history": "8h@25C 16h@12C"}, {"equivalent_age": 20.1751,
            "left": 0.0, "verdict": "reached"}, _COMPUTED, rel=1e-4),
        Example({"sheet_time": "6 h", "sheet_temperature": "25 °C", "temperature": "16 °C", "use": "do before"},
            {"time_at_temperature": 12.0},
            Source("A 6 h window at 25 °C is 12.0 h at 16 °C, with E 55 kJ/mol: computed with Python "
                "3.11", "computed"), rel=0.005),
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
