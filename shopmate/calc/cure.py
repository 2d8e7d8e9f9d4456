"""How far a resin has cured through the temperatures it has had, and how long the sheet's time takes at another one.

The sheet's time is scaled by Arrhenius. Where that formula is in doubt the safe side depends on what the time is for:
a cure to wait for must not be called reached too early, a recoat window must not be called open too long.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Measures, Output, Source, round_up
from shopmate.errors import EntryError, FieldProblem, InputError
from shopmate.models import arrhenius
from shopmate.units import Quantity

COLD = 12.0
"""Least temperature in °C at which the figure is trusted where the sheet names none (from memory: hardeners ask for 10 to 18)."""

NO_START = 5.0
"""Temperature in °C up to which time is not counted towards a cure.

Cold-curing adhesives cured at 5 to 10 °C, strongly slowed, and not at 0 °C (abstracts on cold-curing bridge adhesives, 2011
and Int. J. Adhesion & Adhesives 35, 2012, read); between the two nothing is known, so nothing is counted.
"""

HOT = 40.0
"""Highest temperature in °C of the model (from memory); hotter time counts towards a cure as time at this one."""

ACTIVATION_RANGE = (44.0, 60.0)
"""Activation energies in kJ/mol read for epoxies with amines (abstracts: Barral 1995; Thermochimica Acta 447, 2006)."""

FITTED_RANGE = (20.0, 120.0)
"""Activation energies in kJ/mol taken; two points of a sheet that come to others are a misreading (from memory)."""

LEAST_APART = 5.0
"""Kelvin that two points of a sheet must be apart for the activation energy to mean anything (arithmetic of rounded hours)."""

TELL_SPREAD = 1.1
"""Ratio of the longest to the shortest time within the range of activation energies from which the caution tells it (ours)."""

_WAIT, _WINDOW = "not before", "do before"
"""What the sheet's time is: a cure, clamp or sanding time to wait for, or a recoat window that closes."""

_NOISE = 1e-9
"""Relative difference that is the arithmetic of another unit."""

_MOST_CHARACTERS = 3000
"""A longer history is no list anyone types; it keeps the work on absurd input bounded (ours)."""

_TEMPERATURE = Measure("°C", low=-30, high=60)
"""What a step of a history may be: a winter night to a hot box."""
_TIME = Measure("h", above=0, high=5000)
"""How long a step of a history may be."""

_LIKE = "8h@25C 16h@12C"

_STEP_AFTER = re.compile(
    r"\s*([-+−]?(?:[0-9]+(?:[.,][0-9]+)?+|[.][0-9]+)(?:\s*[^0-9\s,;]+(?:\s+[^0-9\s,;]+)*)?)(?:\s*[,;]\s*|\s+)([0-9.¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞].*)"
)
"""What stands between two marks: a temperature, then the time of the next step; a comma between digits is a decimal one."""


@dataclass(frozen=True, slots=True)
class _Step:
    """A time and the temperature the resin had meanwhile."""

    time: Quantity
    temperature: Quantity

    def __str__(self) -> str:
        return f"{units.show(self.time)} @ {units.show(self.temperature)}"

    @property
    def hours(self) -> float:
        return self.time.value_in("h")

    @property
    def celsius(self) -> float:
        return self.temperature.value_in("°C")


class _History(Measures):
    """Temperatures, each after the time it lasted: '8h@25C 16h@12C', or '8/25; 16/12 °C' where there are no letters."""

    def read(self, text: str) -> str:
        return ", ".join(map(str, self.steps(text)))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return the temperatures meant by `text`, in its order; EntryError as for `read`."""
        return tuple(step.temperature for step in self.steps(text))

    def steps(self, text: str) -> tuple[_Step, ...]:
        """Return the steps meant by `text`, in its order; EntryError as for `read`."""
        pairs = _pairs(text)
        if len(pairs) > self.most:
            raise EntryError(
                f"{len(pairs)} steps", f"give {self.most} or fewer: put times of nearly the same temperature together"
            )
        timed = [units.has_unit(time) for time, _ in pairs]
        if any(timed) and not all(timed):
            raise EntryError(
                f"step {timed.index(False) + 1}: the time names no unit", f"give all of them one or none (hours): {_LIKE}"
            )
        named = {temperature: units.has_unit(temperature) for _, temperature in pairs}
        own = {self._step(number, self.measure, piece).unit for number, (_, piece) in enumerate(pairs, 1) if named[piece]}
        if not all(named.values()) and (len(own) != 1 or not named[pairs[-1][1]]):
            at = next(number for number, (_, piece) in enumerate(pairs, 1) if not named[piece])
            raise EntryError(f"step {at}: the temperature names no unit", f"give each its own, or one at the end: {_LIKE}")
        unit = next(iter(own))
        return tuple(
            _Step(
                self._step(number, _TIME, time),
                self._step(number, self.measure, temperature if named[temperature] else f"{temperature} {unit}"),
            )
            for number, (time, temperature) in enumerate(pairs, 1)
        )

    def describe(self) -> str:
        return f"list such as {_LIKE}; on a keypad 8/25-16/12 in hours and the unit shown"

    @staticmethod
    def _step(number: int, measure: Measure, piece: str) -> Quantity:
        try:
            return measure.read(piece)
        except EntryError as error:
            raise EntryError(f"step {number}: {error.what}", error.fix) from None


def _pairs(text: str) -> list[tuple[str, str]]:
    """Return the texts of time and temperature of each step; EntryError where they cannot be told apart."""
    if len(text) > _MOST_CHARACTERS:
        raise EntryError(f"the history is too long: {len(text)} characters", f"write fewer steps, like {_LIKE}")
    plain = re.sub(r"\s+at\s+", "@", " ".join(text.split()), flags=re.IGNORECASE).strip(" ,;")
    # Without letters a keypad has only the slash; beside an @ it stays what it is in a number: 1/2h@25C.
    parts = plain.split("@" if "@" in plain else "/")
    if len(parts) == 1:
        raise EntryError("there is no '@' between a time and its temperature", f"write {_LIKE}")
    pairs, time = [], parts[0]
    for number, part in enumerate(parts[1:-1], 1):
        match = _STEP_AFTER.fullmatch(part)
        if match is None:
            raise EntryError(
                f"step {number}: where its temperature ends cannot be told", f"write {_LIKE}, a space between the steps"
            )
        pairs.append((time, match[1]))
        time = match[2]
    pairs.append((time, parts[-1]))
    for number, pair in enumerate(pairs, 1):
        for piece, what in zip(pair, ("time", "temperature"), strict=True):
            if not piece.strip():
                raise EntryError(f"step {number}: there is no {what}", f"write {_LIKE}")
    return pairs


_HISTORY = _History(_TEMPERATURE, most=100)


def _fit(hours: float, celsius: float, other_hours: float, other_celsius: float) -> float:
    """Return the activation energy in J/mol by which both (time, temperature) points of a sheet are the same cure.

    Arrhenius turned round: E = R ln(t₁ / t₂) / (1/T₁ − 1/T₂), T in kelvin.
    """
    inverse, other = (1 / (value + arrhenius.ZERO_CELSIUS) for value in (celsius, other_celsius))
    return arrhenius.GAS_CONSTANT * math.log(hours / other_hours) / (inverse - other)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One line of a data sheet, and what the time of it is for."""

    hours: float
    celsius: float
    use: str
    """`_WAIT` or `_WINDOW`: which side is the safe one."""
    least: float
    """Temperature in °C under which the figure is in doubt."""

    def counted(self, celsius: float) -> float | None:
        """Return the temperature in °C that time at `celsius` counts at; None where it counts for nothing."""
        if self.use == _WINDOW:
            return max(celsius, self.least)
        return None if _no_start(celsius) else min(celsius, HOT)

    def speed(self, celsius: float, energy: float) -> float:
        """Return how many times faster than the sheet's the cure is counted at `celsius`; `energy` in J/mol."""
        at = self.counted(celsius)
        return 0.0 if at is None else arrhenius.rate(at, self.celsius, energy)

    def age(self, steps: Sequence[_Step], energy: float) -> float:
        """Return the equivalent age in h that the steps count for; `energy` in J/mol."""
        counted = [(step.hours, at) for step in steps if (at := self.counted(step.celsius)) is not None]
        return float(arrhenius.equivalent_age(counted, self.celsius, energy))

    def to_go(self, age: float, celsius: float, energy: float) -> float | None:
        """Return the h at `celsius` from an equivalent age to the sheet's time; None where cure may not go on."""
        if age >= self.hours * (1 - _NOISE):
            return 0.0
        speed = self.speed(celsius, energy)
        return (self.hours - age) / speed if speed else None

    def surely(self, steps: Sequence[_Step], energies: Sequence[float]) -> float:
        """Return the equivalent age in h on the safe side: the least to wait for, the most of a window.

        Towards a cure only what is not colder than `least` counts.
        """
        if self.use == _WINDOW:
            return max(self.age(steps, energy) for energy in energies)
        trusted = [step for step in steps if not self.is_cold(step.celsius)]
        return min(self.age(trusted, energy) for energy in energies)

    def is_cold(self, celsius: float) -> bool:
        return celsius < self.least - _NOISE


def _no_start(celsius: float) -> bool:
    return celsius <= NO_START + _NOISE


def _tenth_up(number: float) -> str:
    """Return hours rounded up to 0.1 h, so that following the advice is enough."""
    return f"{round_up(number * 10) / 10:.1f} h"


def _tenth_down(number: float) -> str:
    """Return hours rounded down to 0.1 h, so that a window is never told longer than it is; under 0.1 h in whole minutes."""
    return f"{math.floor(number * 10) / 10:.1f} h" if number >= 0.1 else f"{math.floor(number * 60)} min"


def _kelvin(quantity: Quantity) -> str:
    return f"{quantity.value_in('°C') + arrhenius.ZERO_CELSIUS:.2f}"


def _problems(
    sheet_temperature: Quantity,
    history: str | None,
    temperature: Quantity | None,
    least_temperature: Quantity | None,
    other: tuple[Quantity | None, Quantity | None],
    activation: Quantity | None,
) -> list[FieldProblem]:
    problems = []
    if history is None and temperature is None:
        problems.append(FieldProblem("history", "nothing given", f"give the history ({_LIKE}), or a steady temperature"))
    if history is not None and temperature is not None:
        problems.append(FieldProblem("temperature", "given beside a history", "leave one of both empty"))
    if least_temperature is not None and least_temperature.value_in("°C") > sheet_temperature.value_in("°C") * (1 + _NOISE):
        problems.append(
            FieldProblem(
                "least_temperature",
                f"{units.show(least_temperature)} is over the sheet's own {units.show(sheet_temperature)}",
                "give the least temperature that the sheet allows for working or cure",
            )
        )
    other_time, other_temperature = other
    if (other_time is None) != (other_temperature is None):
        missing = "other_time" if other_time is None else "other_temperature"
        problems.append(
            FieldProblem(missing, "nothing given", "give time and temperature of the sheet's second point, or neither")
        )
    if other_temperature is not None:
        if abs(other_temperature.value_in("°C") - sheet_temperature.value_in("°C")) < LEAST_APART * (1 - _NOISE):
            problems.append(
                FieldProblem(
                    "other_temperature",
                    f"{units.show(other_temperature)} is less than {LEAST_APART:g} K from {units.show(sheet_temperature)}",
                    "give a point farther away, or leave both of it empty",
                )
            )
        if activation is not None:
            problems.append(
                FieldProblem(
                    "activation", "given beside a second point of the sheet, which tells it too", "leave one of both empty"
                )
            )
    return problems


def _compute(
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
    problems = _problems(sheet_temperature, history, temperature, least_temperature, (other_time, other_temperature), activation)
    if problems:
        raise InputError(*problems)
    energy, working = _energy(sheet_time, sheet_temperature, other_time, other_temperature, activation)
    known = activation is not None or other_time is not None
    energies = (energy,) if known else (energy, *(end * 1000 for end in ACTIVATION_RANGE))
    celsius = sheet_temperature.value_in("°C")
    # What the sheet itself is given for is not in doubt, however cold.
    least = min(COLD, celsius) if least_temperature is None else least_temperature.value_in("°C")
    sheet = _Sheet(sheet_time.value_in("h"), celsius, use, least)
    steps = () if history is None else _HISTORY.steps(history)
    last = steps[-1].temperature if temperature is None else temperature
    at = last.value_in("°C")
    now, takes = sheet.speed(at, energy), sheet.to_go(0.0, at, energy)
    age = left = fraction = verdict = None
    missing = sheet.hours
    if steps:
        age = sheet.age(steps, energy)
        left, fraction = sheet.to_go(age, at, energy), age / sheet.hours
        sure = sheet.surely(steps, energies)
        missing -= sure
        passed = sure >= sheet.hours * (1 - _NOISE)
        if use == _WINDOW:
            verdict = "closed" if left == 0 else "doubtful" if passed else "open"
        else:
            verdict = "not yet" if left != 0 else "reached" if passed else "doubtful"
        working += [_speed_line(step.temperature, sheet_temperature, sheet, energy, step) for step in steps]
        working.append(
            f"equivalent age = sum = {age:.2f} h at {units.show(sheet_temperature)}; "
            f"fraction = {age:.2f} / {sheet.hours:g} = {fraction:.3f}"
        )
        if verdict == "doubtful":
            working.append(f"on the safe side = {sure:.2f} h: {_why_doubtful(sheet, steps, known)}")
    else:
        working.append(_speed_line(last, sheet_temperature, sheet, energy))
        verdict = "may not cure" if takes is None else None
    if takes is not None:
        working.append(f"time at {units.show(last)} = sheet's time / speed = {sheet.hours:g} / {now:.4f} = {takes:.2f} h")
    if left and age is not None:
        working.append(f"left = (sheet's time − age) / speed = ({sheet.hours:g} − {age:.2f}) / {now:.4f} = {left:.2f} h")
    to_go = [hours for joules in energies if (hours := sheet.to_go(sheet.age(steps, joules), at, joules)) is not None]
    celsii = [step.celsius for step in steps] or [at]
    # What to do first: the verdict, heat that can hurt, the hours to count on; then what the figures do not cover.
    cautions = [
        *_verdict_cautions(verdict, last, sheet, to_go, units.show(sheet_temperature), missing),
        *_hot_cautions(celsii, sheet),
    ]
    # What is open is told on the safe side already; too cold to be trusted, no count of hours is safe.
    trusted = use == _WINDOW or not sheet.is_cold(at)
    if verdict in (None, "not yet") and trusted and max(to_go) > TELL_SPREAD * min(to_go):
        safe = _tenth_up(max(to_go)) if use == _WAIT else _tenth_down(min(to_go))
        cautions.append(
            f"One line of a sheet does not tell how strongly this resin feels temperature: epoxies of {ACTIVATION_RANGE[0]:g} to "
            f"{ACTIVATION_RANGE[1]:g} kJ/mol have {min(to_go):.1f} to {max(to_go):.1f} h to go at {units.show(last)}. "
            f"Count {safe} to be on the safe side, or take a second time and temperature from the sheet."
        )
    cautions += _cold_cautions(celsii, sheet)
    if use == _WAIT:
        cautions.append(
            "Holds only until the resin turns to glass: cured in a room it softens again 10 to 25 °C above the cure temperature "
            "(from memory), as in a hot sun, until it is post-cured by its sheet. The sheet decides; press a thumbnail in "
            "before any load, and do not sand soft resin: its dust can start an allergy that stays."
        )
    else:
        cautions.append(
            "The window is the sheet's: hotter closes it sooner (sun, lamp, thick coat). Past it, or if the coat feels greasy, "
            "wash with water, then abrade, then coat: sanding first grinds the blush in (common practice)."
        )
    return Answer(
        {
            "left": None if left is None else Quantity(left, "h"),
            "equivalent_age": None if age is None else Quantity(age, "h"),
            "time_at_temperature": None if takes is None else Quantity(takes, "h"),
            "verdict": verdict,
            "fraction": None if fraction is None else Quantity(fraction, ""),
            "rate": Quantity(now, ""),
            "activation": Quantity(energy / 1000, "kJ/mol"),
        },
        tuple(working),
        tuple(cautions),
    )


def _why_doubtful(sheet: _Sheet, steps: Sequence[_Step], known: bool) -> str:
    """Return in words what is left out of the age on the safe side."""
    reasons = []
    if sheet.use == _WAIT and any(sheet.is_cold(step.celsius) for step in steps):
        reasons.append(f"time below {sheet.least:g} °C not counted")
    if not known:
        reasons.append(f"E from {ACTIVATION_RANGE[0]:g} to {ACTIVATION_RANGE[1]:g} kJ/mol, whichever is worse")
    return ", ".join(reasons)


def _energy(
    time: Quantity, temperature: Quantity, other_time: Quantity | None, other_temperature: Quantity | None, given: Quantity | None
) -> tuple[float, list[str]]:
    """Return the activation energy in J/mol, given, fitted or typical, and the line of working that says which."""
    if other_time is not None and other_temperature is not None:
        hours, others = time.value_in("h"), other_time.value_in("h")
        energy = _fit(hours, temperature.value_in("°C"), others, other_temperature.value_in("°C"))
        low, high = FITTED_RANGE
        if not low <= energy / 1000 <= high:
            raise InputError(
                FieldProblem(
                    "other_time",
                    f"both points of the sheet together come to {energy / 1000:.0f} kJ/mol, outside {low:g} to {high:g}",
                    "check both times and temperatures: the hotter one is shorter, about half for 10 K; both for the same state",
                )
            )
        return energy, [
            f"E = R ln(t1 / t2) / (1/T1 − 1/T2) = 8.314 × ln({hours:g} / {others:g}) / (1/{_kelvin(temperature)} − "
            f"1/{_kelvin(other_temperature)}) = {energy / 1000:.2f} kJ/mol, from both points of the sheet"
        ]
    if given is not None:
        return given.value_in("kJ/mol") * 1000, [f"E = {units.show(given)}, as given"]
    return arrhenius.ACTIVATION, [f"E = {arrhenius.ACTIVATION / 1000:g} kJ/mol, typical for epoxy with amine"]


def _speed_line(temperature: Quantity, at_sheet: Quantity, sheet: _Sheet, energy: float, step: _Step | None = None) -> str:
    """Return the working of the speed at one temperature, and of what a step there comes to."""
    celsius = temperature.value_in("°C")
    counted = sheet.counted(celsius)
    if counted is None:
        return f"speed at {units.show(temperature)} = 0: cure may not start at {NO_START:g} °C or colder"
    as_if = "" if math.isclose(counted, celsius, abs_tol=_NOISE) else f", counted as {counted:g} °C,"
    speed = sheet.speed(celsius, energy)
    line = (
        f"speed at {units.show(temperature)}{as_if} = exp({energy / arrhenius.GAS_CONSTANT:.1f} × "
        f"(1/{_kelvin(at_sheet)} − 1/{counted + arrhenius.ZERO_CELSIUS:.2f})) = {speed:.4f}"
    )
    return line if step is None else f"{line}; × {units.show(step.time)} = {step.hours * speed:.2f} h"


def _verdict_cautions(
    verdict: str | None, last: Quantity, sheet: _Sheet, to_go: Sequence[float], at_sheet: str, missing: float
) -> list[str]:
    """Return what to do about the verdict; `missing` are the h at the sheet's temperature that surely cure it."""
    warm = f"warm it to {at_sheet} without a flame and give it {_tenth_up(missing)} there"
    if verdict == "doubtful" and sheet.use == _WINDOW:
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
            if sheet.use == _WINDOW
            else "cure can stop half-way as glass, and the figure is no promise"
        )
        said.append(
            f"Below {sheet.least:g} °C {cold}. Cold and damp bring amine blush: wash with water and wipe dry before sanding "
            f"or coating. The least temperature on the data sheet decides."
        )
    if sheet.use == _WAIT and any(map(_no_start, temperatures)):
        said.append(f"Time at {NO_START:g} °C or colder is not counted: cure may not start there.")
    return said


def _hot_cautions(temperatures: Sequence[float], sheet: _Sheet) -> list[str]:
    """Return what to say of temperatures over the model's."""
    if max(temperatures) <= HOT + _NOISE:
        return []
    hot = (
        "a window may close even sooner than told: do not wait for its end"
        if sheet.use == _WINDOW
        else f"time counts as at {HOT:g} °C only"
    )
    return [
        f"Over {HOT:g} °C is outside the model: {hot}. Fresh resin can run away and foam, and foam core can warp: heat only "
        f"as the data sheet says."
    ]


_ARRHENIUS = Source(
    "Maturity form of ASTM C1074: equivalent age = sum of exp(−E/R (1/T − 1/Ts)) × time; scope read, formula from memory",
    "memory",
)
_COMPUTED = Source("t = sum of exp(−E/R (1/T − 1/Ts)) dt with R = 8.314462618, computed with Python 3.11", "computed")

CALCULATOR = Calculator(
    name="cure",
    title="Cure at other temperatures",
    inputs=(
        Field(
            "sheet_time",
            "Time on the data sheet",
            Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "For what you wait: recoat, sanding, clamps off, full cure.",
            required=True,
        ),
        Field(
            "sheet_temperature",
            "Temperature it is for",
            Measure("°C", low=10, high=40, soft_low=15, soft_high=30),
            "The temperature that the data sheet gives the time for.",
            required=True,
        ),
        Field(
            "history", "Temperatures it has had", _HISTORY, f"Of the part. Keypad: 8/25-16/12, hours / degrees. Letters: {_LIKE}."
        ),
        Field(
            "temperature",
            "Or steady temperature",
            Measure("°C", low=0, high=60, soft_low=COLD, soft_high=HOT),
            "Instead of a history: how long the sheet's time takes at this one.",
        ),
        Field(
            "use",
            "The sheet's time is",
            Choice((_WAIT, _WINDOW)),
            "Not before: a cure to wait for. Do before: a recoat window that closes.",
            default=_WAIT,
        ),
        Field(
            "least_temperature",
            "Least on the sheet",
            Measure("°C", low=NO_START, high=30, soft_high=20),
            f"Least temperature that the data sheet allows; without it {COLD:g} °C (typical, from memory).",
        ),
        Field(
            "other_time",
            "Time at a second point",
            Measure("h", above=0, high=2000, soft_low=0.25, soft_high=340),
            "If the sheet gives the time for another temperature too: then E is worked out from both.",
        ),
        Field(
            "other_temperature",
            "Its temperature, second",
            Measure("°C", low=10, high=60, soft_low=10, soft_high=HOT),
            "The temperature of the second point.",
        ),
        Field(
            "activation",
            "Activation energy E",
            Measure("kJ/mol", low=FITTED_RANGE[0], high=FITTED_RANGE[1], soft_low=40, soft_high=70),
            f"Without it and without a second point {arrhenius.ACTIVATION / 1000:g} kJ/mol: typical, use your data sheet.",
        ),
    ),
    outputs=(
        Output("left", "Left, at the last", "h", 1),
        Output("equivalent_age", "Age at the sheet's", "h", 1),
        Output("time_at_temperature", "Whole time there", "h", 1),
        Output("verdict", "Verdict"),
        Output("fraction", "Fraction reached", "", 2),
        Output("rate", "Speed against the sheet's", "", 2),
        Output("activation", "Activation energy", "kJ/mol", 1),
    ),
    source=(
        _ARRHENIUS,
        Source("E 55 kJ/mol, within 44 to 60 read: Barral 1995; Thermochimica Acta 447, 2006 (abstracts)", "read"),
        Source(
            "Cold cure slowed at 5 to 10 °C, not started at 0 °C: abstracts on cold-curing bridge adhesives, 2011; "
            "Int. J. Adhesion & Adhesives 35, 2012",
            "read",
        ),
        Source("Amine blush in cool, humid air: abstract of a coatings-conference paper, 2005; washed off with water", "read"),
        Source("12 to 40 °C as the range of the model; glass transition 10 to 25 °C over the cure temperature", "memory"),
    ),
    valid="12 to 40 °C (or from the sheet's least temperature) and until the resin turns to glass: after that cure all but "
    "stops. Towards a cure, time at 5 °C or colder counts for nothing, time over 40 °C as at 40 °C. A window counts as if never "
    "colder than the least temperature. One activation energy for the whole range; temperatures are the resin's, and a thick "
    "coat runs hotter than the room. Degree-hours (time × °C) go in a straight line and undercount warm spells; 'half the time "
    "per 10 °C' fits near 25 °C only. Not checked on measured cures.",
    examples=(
        Example(
            {"sheet_time": "12 h", "sheet_temperature": "25 °C", "history": "24h@15C"},
            {"equivalent_age": 11.1126, "verdict": "not yet"},
            _COMPUTED,
            rel=1e-4,
        ),
        Example(
            {"sheet_time": "20 h", "sheet_temperature": "20 °C", "history": "8h@25C 16h@12C"},
            {"equivalent_age": 20.1751, "left": 0.0, "verdict": "reached"},
            _COMPUTED,
            rel=1e-4,
        ),
        Example(
            {"sheet_time": "6 h", "sheet_temperature": "25 °C", "temperature": "16 °C", "use": "do before"},
            {"time_at_temperature": 12.0},
            Source("A 6 h window at 25 °C is 12.0 h at 16 °C, E 55 kJ/mol: computed with Python 3.11", "computed"),
            rel=0.005,
        ),
        Example(
            {"sheet_time": "24 h", "sheet_temperature": "23 °C", "temperature": "10 °C", "activation": "41.57231309 kJ/mol"},
            {"rate": 0.460635, "time_at_temperature": 52.102},
            Source("ASTM C1074 practice for concrete, E/R = 5000 K: age factor 0.4606 at 10 °C against 23 °C", "memory"),
            rel=1e-4,
        ),
        Example(
            {
                "sheet_time": "2 h",
                "sheet_temperature": "20 °C",
                "temperature": "25 °C",
                "other_time": "1 h",
                "other_temperature": "30 °C",
            },
            {"activation": 51.2162},
            Source("Arrhenius: the rate doubles from 20 to 30 °C at 51.2162 kJ/mol, computed with Python 3.11", "computed"),
            rel=1e-4,
        ),
    ),
    compute=_compute,
)
