"""Solvent vapour in a room: the level from a spill or steady work, the fresh air needed, and when the room is clear."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from shopmate import tables, units
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Threshold,
    Value,
    joined,
)
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.airing import (
    MOLAR_VOLUME,
    PER_MILLION,
    STATED_AT,
    diluted_by,
    flow_to_clear,
    hours_to_clear,
    level_after,
    steady_level,
    vapour_made,
)
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, some
from shopmate.picture import number, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_ATMOSPHERE = 101.325
"""Standard atmosphere in kPa, exactly, by definition. No Threshold needed: vapour pressures are divided by it."""

_DOUBLES = 10.0
"""Smallest rise in K that doubles a vapour pressure [computed]. No Threshold needed: it scales a vapour pressure."""

_PER_CENT = 10_000
"""ppm in one per cent of the air [computed]. No Threshold needed: it converts the fire limit to ppm."""

_SIDES = 3
"""Length, width and height of a room [computed]. No Threshold needed: it counts what was typed."""

_HABIT = Source(
    "mixing factor up to 10; denatured alcohol: the lower of the ethanol and methanol limits; a liquid is a fire risk from 5 K "
    "below its flash point",
    "common practice",
)
_TENTH_OF_LEL = Source("fire: NIOSH calls a tenth of the lower explosive limit immediately dangerous", "read")

_MIXING = Threshold(10.0, "", _HABIT, "Below the limit only if the vapour mixes evenly", "", "11.93 mL", "11.95 mL", "volume")
"""How many times the room average the level at the work may reach: mixing factors of 3 to 10 are usual."""

_FIRE = Threshold(10.0, "%", _TENTH_OF_LEL, "Fire and explosion", "lel_fraction", "370 mL", "371 mL", "volume")
"""Percentage of the lower explosive limit that is dangerous."""

_USUAL = Source(
    "aim for half the limit, from a training firm; dilution only for limits of 100 ppm and above, from a lecture", "read"
)

_AIM = Threshold(
    0.5, "", _USUAL, "above half the limit", "", "838 m³/h", "837 m³/h", "ventilation",
    {"volume": "", "evaporation": "200 mL/h", "mixing": "5"},
)  # fmt: skip
"""Share of the exposure limit to aim for."""

_DILUTION = Threshold(
    100.0, "ppm", _USUAL, "too low a limit to reach by airing", "limit", "100 ppm", "99 ppm",
    beside={"volume": "", "evaporation": "200 mL/h"},
)  # fmt: skip
"""Exposure limit below which airing a room protects nobody."""

_FLASH_MARGIN = Threshold(5.0, "K", _HABIT, "gives off vapour", "", "6.95 °C", "7 °C", "temperature")
"""How far below its flash point a liquid is still treated as flammable at shop temperature."""

_STANDARD_NAMES = {"NIOSH": "NIOSH REL", "OSHA": "OSHA PEL", "ACGIH": "ACGIH TLV"}
"""What each body calls its exposure limit."""

_ENTERED = "entered"
"""Who set the limit when you typed it yourself."""

_SHOP = 20.0
"""Shop temperature in °C when none is entered (our choice)."""

_EXPOSURE = ("TWA", "STEL", "ceiling")
"""The kinds of limit on the air you breathe at work."""

_SHEET_FIGURE = "From the data sheet. Blank: the table's figure for the solvent."
"""Help for fields whose figure is on the data sheet."""

_SHEET = (
    "The product's safety data sheet overrides the limits used here, and local law overrides both. A calculation is no "
    "substitute for measuring: have ventilation and respirators chosen by someone qualified."
)
"""Shown with every result."""


@dataclass(frozen=True, slots=True)
class _Limit:
    """The lowest limit of one kind and who set it."""

    value: float
    """ppm for exposure, % for LEL, °C for a flash point."""
    body: str


class _Solvent(Choice):
    """A solvent in the table, by its name there or another common name."""

    __slots__ = ()

    def read(self, text: str) -> str:
        wanted = " ".join(text.lower().split())
        for row in tables.load("solvents").rows:
            if wanted in row["also"].lower().split("; "):
                return row["solvent"]
        return super().read(text)


@dataclass(frozen=True, slots=True)
class _Evaporation:
    """Evaporation per hour, as a volume or a mass."""

    volume: Measure
    mass: Measure

    def read(self, text: str) -> str:
        return units.show(self.quantity(text))

    def quantity(self, text: str) -> Quantity:
        """Return the evaporation rate that was typed; EntryError says what was wrong with it."""
        try:
            return self.volume.read(text)
        except EntryError as error:
            try:
                return self.mass.read(text)
            except EntryError:
                raise EntryError(error.what, f"{error.fix}, or a mass such as 150 g/h") from None

    def is_mass(self, quantity: Quantity) -> bool:
        return units.dimension(quantity.unit) == units.dimension(self.mass.unit)

    def describe(self, unit: str = "") -> str:
        return f"{self.volume.describe()}; or {self.mass.describe()}"


_EVAPORATION = _Evaporation(Measure("mL/h", above=0, high=1_000_000), Measure("g/h", above=0, high=1_000_000))


class _Room(Measure):
    """Air in a room: its volume, or the inside length, width and height, '6 x 4 x 2.5 m'."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        sides = re.split(r"\s*(?:[x×*]|\bby\b)\s*", text.strip())
        if len(sides) == 1:
            return super().read(text)
        if len(sides) != _SIDES or not units.has_unit(sides[-1]):
            raise EntryError(
                f"{text} is not the size of a room",
                "enter its volume, like 60 m³, or length x width x height, like 6 x 4 x 2.5 m",
            )
        unit = units.parse(sides[-1], "m").unit
        metres = [units.parse(side, unit).to("m").value for side in sides]
        return super().read(units.show(Quantity(math.prod(metres), "m³")))

    def describe(self, unit: str = "") -> str:
        return f"{super().describe(unit)}; or inside length x width x height: '6 x 4 x 2.5 m'"


def mass_concentration(ppm: float, molar_mass: float) -> float:
    """Return mg/m³ of a vapour from ppm and g/mol at 25 °C: ppm M / 24.45 (NIOSH and OSHA print limits both ways) [read]."""
    return ppm * molar_mass / MOLAR_VOLUME


def _evaporated(millilitres: float, density: float, molar_mass: float, room: float) -> float:
    """Return ppm once all the liquid has evaporated into `room` m³ of still, well mixed air.

    From mL, g/mL and g/mol: moles × 24.45 L ÷ room [ideal gas].
    """
    return millilitres * density / molar_mass * MOLAR_VOLUME / room * 1000


def _saturated(kilopascals: float, celsius: float) -> float:
    """Return the maximum ppm the air can hold, from the vapour pressure in kPa at 25 °C (Dalton).

    Above 25 °C the pressure doubles every 10 K, faster than for any solvent here (Perry's equations in chemicals 1.5.2)
    [computed]; below 25 °C the figure for 25 °C is used. Both err on the safe side.
    """
    return min(1.0, kilopascals / _ATMOSPHERE * 2 ** max(0.0, (celsius - STATED_AT) / _DOUBLES)) * 1e6


def _solvents() -> tuple[str, ...]:
    return tuple(row["solvent"] for row in tables.load("solvents").rows)


def _lowest(substances: Sequence[str], kind: str, molar_mass: float) -> _Limit | None:
    """Return the lowest limit of one kind among the substances; limits of different kinds are never compared."""
    found: dict[float, dict[str, list[str]]] = {}
    for row in tables.load("exposure_limits").rows:
        if row["substance"] in substances and row["kind"] == kind:
            value = _in_common_unit(row, molar_mass)
            name = _STANDARD_NAMES.get(row["body"], row["body"]) if kind in _EXPOSURE else row["body"]
            bodies = found.setdefault(round(value, 6), {}).setdefault(row["substance"], [])
            bodies.extend([name] if name not in bodies else [])
    if not found:
        return None
    least = min(found)
    named = [
        ", ".join(bodies) + (f" for {substance}" if len(substances) > 1 else "") for substance, bodies in found[least].items()
    ]
    return _Limit(least, "; ".join(named))


def _in_common_unit(row: Mapping[str, str], molar_mass: float) -> float:
    value, unit = float(row["value"]), row["unit"]
    if unit == "mg/m3":
        return value * MOLAR_VOLUME / molar_mass
    return units.parse(f"{row['value']} {unit}", "°C").value_in("°C") if unit.startswith("deg") else value


def _down(number: float) -> float:
    """Return a number rounded down to two significant digits, so that advice based on it stays below the limit."""
    step = 10.0 ** (math.floor(math.log10(number)) - 1)
    return math.floor(number / step * (1 + NOISE)) * step


def _up(number: float) -> float:
    """Return a number rounded up to two significant digits."""
    step = 10.0 ** (math.floor(math.log10(number)) - 1)
    return math.ceil(number / step * (1 - NOISE)) * step


def _compute(**fields: Value | None) -> Answer:
    refuse(*_problems(fields))
    empty: dict[str, Value | float | None] = {output.name: None for output in CALCULATOR.outputs}
    spill = None if fields["volume"] is None else _spill(fields)
    aired = _aired(fields, spill)
    if spill is None:
        return joined(Answer(empty), aired)
    # The level from the spill comes before how long the room takes to clear.
    return joined(Answer(empty), Answer({**aired.values, **spill.values}, (*spill.working, *aired.working),
        (*spill.cautions, *aired.cautions), aired.has_figure))  # fmt: skip


def _spill(fields: Mapping[str, object]) -> Answer:
    """Return the level, the verdict and the cautions for solvent that evaporates in a closed room."""
    solvent = str(fields["solvent"])
    row = tables.load("solvents").row("solvent", solvent)
    molar_mass, density = float(row["molar_mass_g"]), float(row["density_g_ml"])
    substances = row["limits_of"].split("+")
    limit = _lowest(substances, "TWA", molar_mass)
    lel = _limits(fields, None).lel
    flash = _lowest(substances, "flash point", molar_mass)
    idlh = _lowest(substances, "IDLH", molar_mass)
    short, ceiling = _lowest(substances, "STEL", molar_mass), _lowest(substances, "ceiling", molar_mass)
    assert limit is not None
    assert lel is not None
    assert flash is not None
    assert idlh is not None

    typed = in_unit(size(fields, "limit"), "ppm")
    if typed is not None:
        limit = _Limit(typed, _ENTERED)
    ml, air, now = number(fields, "volume", "mL"), number(fields, "room", "m³"), _shop(fields)
    everything = _evaporated(ml, density, molar_mass, air)
    most = _saturated(float(row["vapour_kpa"]), now)
    concentration = min(everything, most)
    explosive = concentration / (lel.value * _PER_CENT) * 100
    at_limit = ml * limit.value / everything
    fresh_air = air * everything / limit.value
    low, mixed = _down(at_limit / _MIXING.value), _up(fresh_air * _MIXING.value)
    danger = min(idlh.value, lel.value * _PER_CENT * _FIRE.value / 100)
    if concentration >= idlh.value or explosive >= _FIRE.value:
        verdict = "danger"
    elif concentration > limit.value:
        verdict = "over limit"
    elif concentration > limit.value / _MIXING.value:
        verdict = "ventilate"
    else:
        verdict = "low"

    working = [
        f"moles = volume × density / molar mass = {sig(ml)} mL × {density:.3f} g/mL / {sig(molar_mass)} g/mol "
        f"= {sig(ml * density / molar_mass)} mol",
        f"all evaporated, no ventilation, evenly mixed: moles × {MOLAR_VOLUME} L / {sig(air)} m³ = {_ppm(everything)}",
    ]
    if everything > most:
        working.append(
            f"air at {sig(max(STATED_AT, now))} °C cannot hold that much: it saturates at {_ppm(most)}, so that is used"
        )
    working += [
        f"limit = lowest 8 to 10 h average (TWA) = {_ppm(limit.value)}: {limit.body}; short-term limits and ceilings are checked "
        "separately",
        f"verdict: 'low' up to a tenth of the limit ({_ppm(limit.value / _MIXING.value)}), 'ventilate' up to the limit, 'over "
        f"limit' above it, 'danger' from {_ppm(danger)}: IDLH {_ppm(idlh.value)} ({idlh.body}) or a tenth of "
        f"LEL {sig(lel.value, 6)} % ({lel.body}); {_ppm(concentration)}: '{verdict}'",
        f"air to dilute all the vapour to the limit = moles × {MOLAR_VOLUME} L / limit = {sig(fresh_air, 3)} m³",
        f"mass = ppm × molar mass / {MOLAR_VOLUME} = {sig(mass_concentration(concentration, molar_mass))} mg/m³",
    ]
    return Answer(
        values={
            "concentration": concentration,
            "verdict": verdict,
            "limit": limit.value,
            "limit_body": limit.body,
            "volume_at_limit": at_limit,
            "fresh_air": fresh_air,
            "short_term": None if short is None else short.value,
            "ceiling": None if ceiling is None else ceiling.value,
            "idlh": idlh.value,
            "lel": lel.value,
            "lel_fraction": explosive,
            "flash_point": flash.value,
            "low_limit": limit.value / _MIXING.value,
            "volume_low": low,
            "fresh_air_mixed": mixed,
            "evaporated": everything,
            "danger_from": danger,
        },
        working=tuple(working),
        cautions=(
            *_fire(explosive, flash, now),
            *_health(solvent, verdict, concentration, idlh, low, (_up(fresh_air), mixed)),
            *_short_term(concentration, short, ceiling),
            *_kind_of_solvent(solvent),
            f"{_ppm(concentration)} is the average for the room. The level is many times higher over a rag, in a pot and in low "
            "spots, because the vapour is heavier than air: keep lids on and your head away.",
            _SHEET,
        ),
    )


def _ppm(number: float) -> str:
    return f"{number:.0f} ppm" if number >= 100 else f"{sig(number, 3)} ppm"


def _fire(explosive: float, flash: _Limit, now: float) -> list[str]:
    said = []
    if explosive >= _FIRE.value:
        said.append(
            f"Fire and explosion: the room average alone is {explosive:.0f} % of the lower explosive limit (alarm at 10 %, "
            "NIOSH). Don't touch a switch or plug. Leave, air the room from outside, and use far less solvent next time."
        )
    if now >= flash.value - _FLASH_MARGIN.value:
        where = "below" if flash.value <= now else "within 5 °C of"
        said.append(
            f"Fire: flash point {flash.value:.0f} °C ({flash.body}) is {where} the shop's {now:.0f} °C, so the liquid gives off "
            "vapour that a flame, spark, heater or switch can light. Keep all of those out of the room; put wet rags in a closed "
            "metal can."
        )
    return said


def _health(
    solvent: str, verdict: str, concentration: float, idlh: _Limit, low: float, fresh_air: tuple[float, float]
) -> list[str]:
    if verdict == "low":
        return []
    less = f"use no more than {sig(low, 6)} mL of {solvent} in this room"
    air = (
        f"it takes {sig(fresh_air[0], 6)} m³ of fresh air to get down to the limit with perfect mixing, and up to "
        f"{sig(fresh_air[1], 6)} m³ in a real room"
    )
    if verdict == "ventilate":
        return [
            f"Below the limit only if the vapour mixes evenly: open up, move air past you, or {less} (mixing factor 10: common "
            "practice)."
        ]
    if concentration >= idlh.value:
        return [f"Immediately dangerous to life or health ({_ppm(idlh.value)}, {idlh.body}): stay out. Work outdoors, or {less}."]
    return [f"Over the limit: {air}. Work outdoors or with extraction, or {less}."]


def _short_term(concentration: float, short: _Limit | None, ceiling: _Limit | None) -> list[str]:
    said = []
    for limit, meaning in ((short, "15-minute average"), (ceiling, "ceiling")):
        if limit is not None and concentration > limit.value:
            said.append(
                f"Also over the {meaning} of {_ppm(limit.value)} ({limit.body}): don't work without extraction, not even briefly."
            )
    return said


def _kind_of_solvent(solvent: str) -> list[str]:
    if solvent == "denatured alcohol":
        return [
            "Denatured alcohol may contain methanol, so the ethanol or the methanol limit applies, whichever is lower (common "
            "practice). If its data sheet lists more than half methanol, choose methanol. Methanol goes through skin: wear the "
            "gloves the data sheet names."
        ]
    if solvent == "methanol":
        return [
            "Methanol goes through skin and can blind you: wear the gloves its data sheet names, and keep it away from your "
            "mouth."
        ]
    return []


@dataclass(frozen=True, slots=True)
class _Limits:
    """Limits for the level: ppm for exposure and danger to life, % for the explosive limit; None where not known."""

    exposure: _Limit | None
    idlh: _Limit | None
    lel: _Limit | None
    full: float
    """Maximum ppm the air can hold."""

    @property
    def tightest(self) -> float | None:
        """The lower of the exposure limit and a tenth of the explosive limit, in ppm."""
        fire = None if self.lel is None else self.lel.value * _FIRE.value / 100 * _PER_CENT
        exposure = None if self.exposure is None else self.exposure.value
        return min((value for value in (exposure, fire) if value is not None), default=None)


def _limits(fields: Mapping[str, object], molar_mass: float | None) -> _Limits:
    """Return the limits that were typed, and the solvent's own for the rest."""
    exposure, lel = (
        None if (value := in_unit(size(fields, name), unit)) is None else _Limit(value, _ENTERED)
        for name, unit in (("limit", "ppm"), ("lel", "%"))
    )
    if fields["solvent"] is None:
        return _Limits(exposure, None, lel, PER_MILLION)
    row = tables.load("solvents").row("solvent", str(fields["solvent"]))
    substances, mass = row["limits_of"].split("+"), molar_mass or float(row["molar_mass_g"])
    return _Limits(
        exposure or _lowest(substances, "TWA", mass),
        _lowest(substances, "IDLH", mass),
        lel or _lowest(substances, "LEL", mass),
        _saturated(float(row["vapour_kpa"]), _shop(fields)),
    )


def _shop(fields: Mapping[str, object]) -> float:
    """Return the shop temperature in °C, 20 where none was typed."""
    typed = in_unit(size(fields, "temperature"), "°C")
    return _SHOP if typed is None else typed


def _flow(fields: Mapping[str, object]) -> float | None:
    """Return the fresh-air flow in m³/h, None where none was typed."""
    changes = in_unit(size(fields, "air_changes"), "1/h")
    if changes is not None:
        return changes * number(fields, "room", "m³")
    return in_unit(size(fields, "ventilation"), "m³/h")


def _made(fields: Mapping[str, object]) -> Answer:
    """Return `made`, the vapour from steady work in m³/h; an empty answer without steady work."""
    source, evaporation = in_unit(size(fields, "source"), "m³/h"), fields["evaporation"]
    if source is not None:
        return Answer({"made": source})
    if not isinstance(evaporation, str):
        return Answer({})
    row = {} if fields["solvent"] is None else tables.load("solvents").row("solvent", str(fields["solvent"]))
    molar_mass = in_unit(size(fields, "molar_mass"), "g/mol") or float(row["molar_mass_g"])
    quantity = _EVAPORATION.quantity(evaporation)
    celsius = STATED_AT if fields["temperature"] is None else _shop(fields)
    if _EVAPORATION.is_mass(quantity):
        grams = quantity.value_in("g/h")
        line = f"evaporates {sig(grams)} g/h"
    else:
        density = in_unit(size(fields, "density"), "g/mL") or float(row["density_g_ml"])
        grams = quantity.value_in("mL/h") * density
        line = f"evaporates {sig(quantity.value_in('mL/h'), 6)} mL/h × {sig(density)} g/mL = {sig(grams)} g/h"
    made = vapour_made(grams, molar_mass, celsius)
    litres = f"{sig(made / grams * molar_mass * 1000, 4)} L"
    return Answer(
        {"made": made}, (line, f"vapour = {sig(grams, 6)} g/h / {sig(molar_mass)} g/mol × {litres} / 1000 = {sig(made)} m³/h")
    )


def _aired(fields: Mapping[str, object], spill: Answer | None) -> Answer:
    """Return the fresh air needed, the level with the fresh air there is, and when the room is clear."""
    made = _made(fields)
    limits = _limits(fields, in_unit(size(fields, "molar_mass"), "g/mol"))
    vapour = made.values.get("made")
    steady = _steady(fields, vapour, limits) if isinstance(vapour, float) else Answer({})
    clear = _cleared(fields, spill, limits)
    if not steady.values and not clear.values:
        return Answer({})
    own = _of_the_solvent(fields, steady) if steady.values else Answer({})
    standing = () if spill else (_SHEET,)
    both = [needed for part in (steady, clear) if isinstance(needed := part.values.get("ventilation_needed"), float)]
    most: dict[str, Value | float | None] = {"ventilation_needed": max(both)} if both else {}
    answer = joined(made, steady, own, clear)
    return Answer({**answer.values, **most}, answer.working, (*answer.cautions, *_AIRING, *standing), answer.has_figure)


def _of_the_solvent(fields: Mapping[str, object], steady: Answer) -> Answer:
    """Return flash point, short-term limits and cautions of a solvent in the table."""
    if fields["solvent"] is None:
        return Answer({})
    solvent = str(fields["solvent"])
    row = tables.load("solvents").row("solvent", solvent)
    substances, mass = row["limits_of"].split("+"), float(row["molar_mass_g"])
    flash, idlh, short, ceiling = (_lowest(substances, kind, mass) for kind in ("flash point", "IDLH", "STEL", "ceiling"))
    assert flash is not None
    level = max(
        (value for name in ("steady", "concentration") if isinstance(value := steady.values.get(name), float)), default=0.0
    )
    named = {"flash_point": flash, "idlh": idlh, "short_term": short, "ceiling": ceiling}
    return Answer(
        {name: None if limit is None else limit.value for name, limit in named.items()},
        (),
        (*_short_term(level, short, ceiling), *_fire(0.0, flash, _shop(fields)), *_kind_of_solvent(solvent)),
    )


def _steady(fields: Mapping[str, object], vapour: float, limits: _Limits) -> Answer:
    """Return the fresh air that steady work needs, and the level with the fresh air there is."""
    mixing, flow, room = number(fields, "mixing", ""), _flow(fields), in_unit(size(fields, "room"), "m³")
    values: dict[str, Value | float | None] = {}
    working, said = [], []
    tightest = limits.tightest
    if tightest is not None:
        effective = diluted_by(vapour, tightest)
        is_exposure = limits.exposure is not None and tightest == limits.exposure.value
        kept_to = "the exposure limit" if is_exposure else "a tenth of the explosive limit"
        needed = mixing * effective
        values |= {"effective": effective, "ventilation_needed": needed, "ventilation_aim": 2 * needed}
        working += [
            f"fresh air with perfect mixing, for {kept_to} = 10⁶ × {sig(vapour, 6)} m³/h / {sig(tightest, 6)} ppm = "
            f"{sig(effective)} m³/h",
            f"needed = K × that = {sig(mixing)} × {sig(effective, 6)} = {sig(needed)} m³/h; twice that for half the limit",
        ]
        said += _too_low(tightest)
    if limits.exposure is not None:
        values |= {"limit": limits.exposure.value, "limit_body": limits.exposure.body}
    if limits.lel is not None:
        values["lel"] = limits.lel.value
    if flow is None:
        return Answer(values, tuple(working), tuple(said))
    levels = []
    if flow:
        at_last = steady_level(vapour, flow, mixing)
        levels.append(min(limits.full, at_last))
        values["steady"] = levels[0]
        full = f"the air saturates at {_ppm(limits.full)}"
        sum_up = f"steady = 10⁶ × {sig(vapour, 6)} × {sig(mixing, 6)} / {sig(flow, 6)} = {_ppm(at_last)}"
        working.append(sum_up if at_last < limits.full else full)
    else:
        said.append("Without fresh air the level keeps rising as long as you work: open up, or stop.")
    time = in_unit(size(fields, "time"), "h")
    if time is not None and room is not None:
        reached = min(limits.full, level_after(vapour, flow, mixing, room, time))
        values["concentration"] = reached
        working.append(
            f"{sig(time * 60)} min after starting in clean air, n = Q / (K V) = {sig(flow / mixing / room)} per hour: "
            f"{_ppm(reached)}"
        )
        levels.append(reached)
    return joined(Answer(values, tuple(working), tuple(said)), _held(max(levels, default=None), limits))


def _too_low(limit: float) -> list[str]:
    """Return the caution for a limit so low that airing the room does not protect you."""
    if limit >= _DILUTION.value:
        return []
    return [
        f"{_ppm(limit)} is too low a limit to reach by airing the room: use extraction at the work, and wear the "
        "respirator the label names."
    ]


def _held(level: float | None, limits: _Limits) -> Answer:
    """Return the verdict on a level in ppm and what to do about it."""
    if level is None:
        return Answer({})
    values: dict[str, Value | float | None] = {}
    fire = None if limits.lel is None else level / (limits.lel.value * _PER_CENT) * 100
    if fire is not None:
        values["lel_part"] = fire
    explosive = fire is not None and fire >= _FIRE.value
    if explosive or (limits.idlh is not None and level >= limits.idlh.value):
        why = f"{fire:.0f} % of the lower explosive limit" if fire is not None and explosive else "dangerous to life"
        return Answer(
            {**values, "verdict": "danger"}, (), (f"Danger: {_ppm(level)} is {why}. Stop, leave, and air the room from outside.",)
        )
    if limits.exposure is None:
        return Answer(values)
    if level > limits.exposure.value:
        said = f"Over the limit of {_ppm(limits.exposure.value)} ({limits.exposure.body}): move more air, or work outdoors."
        return Answer({**values, "verdict": "over limit"}, (), (said,))
    if level > limits.exposure.value * _AIM.value:
        said = f"Within the limit, but {_ppm(level)} is above half the limit, the level to aim for: move more air past the work."
        return Answer({**values, "verdict": "ventilate"}, (), (said,))
    return Answer({**values, "verdict": "low"})


def _cleared(fields: Mapping[str, object], spill: Answer | None, limits: _Limits) -> Answer:
    """Return how long a room takes to clear once nothing evaporates, or the flow that clears it in the time you have."""
    flow, wanted = _flow(fields), in_unit(size(fields, "clear_after"), "h")
    start = spill.values["concentration"] if spill is not None else in_unit(size(fields, "start"), "ppm")
    target = in_unit(size(fields, "target"), "ppm")
    if target is None and limits.exposure is not None:
        target = limits.exposure.value * _AIM.value
    if (flow is None and wanted is None) or not isinstance(start, float) or target is None:
        return Answer({})
    mixing, room = number(fields, "mixing", ""), number(fields, "room", "m³")
    values: dict[str, Value | float | None] = {"clear_to": target}
    said = ("Wet rags and open pots keep giving off vapour: the time counts from when they are outside.",)
    fall = max(0.0, math.log(start / target))
    sizes = f"{sig(room, 6)} × {sig(mixing, 6)} × {sig(fall, 6)}"
    line = f"log = ln({_ppm(start)} / {_ppm(target)}), minimum 0 = {sig(fall, 6)}"
    if wanted is not None:
        needed = flow_to_clear(start, target, wanted, mixing, room)
        how = f"needed = V × K × log / t = {sizes} / {sig(wanted, 6)} h = {sig(needed)} m³/h"
        return Answer({**values, "clear_after": wanted * 60, "ventilation_needed": needed}, (line, how), said)
    hours = hours_to_clear(start, target, flow or 0.0, mixing, room)
    if hours is None:
        never = "Without fresh air the room never clears: open up before anyone goes back in."
        return Answer({**values, "clear_after": "never"}, (), (never, *said), has_figure=False)
    how = f"clear after = V × K × log / Q = {sizes} / {sig(flow or 1.0, 6)} m³/h = {sig(hours, 4)} h"
    return Answer({**values, "clear_after": hours * 60}, (line, how), said)


_AIRING = (
    "Let air in as well: open up low down on the far side, and keep the fan motor out of the vapour.",
    "Never rely on airing for isocyanates or dust: extract those at the source. For several solvents, divide each level by its "
    "limit and add up the results: the sum must not exceed 1.",
)
"""Shown with every answer about airing."""


def _problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return the problems of fields that need or exclude one another."""
    spilt, steady = fields["volume"] is not None, fields["evaporation"] is not None or fields["source"] is not None
    found = _twice(fields)
    if not spilt and not steady and fields["start"] is None:
        fix = "enter the solvent spilled, the evaporation per hour (steady work), or the level when work stops (a room to clear)"
        return [*found, FieldProblem("volume", "no solvent entered", fix)]
    if spilt:
        found += missing(
            some(fields, ("solvent", "room")), "blank, and a spill needs it", "enter it, or clear the solvent spilled"
        )
        names = ("evaporation", "source", "start", "density", "molar_mass", "time")
        found += given(some(fields, names), "you entered a spill too", "leave one of the two blank")
    elif fields["evaporation"] is None:
        found += given(
            some(fields, ("density", "molar_mass")),
            "only used with evaporation",
            "enter the evaporation per hour, or leave this blank",
        )
    found += _unknown_solvent(fields) + _unknown_air(fields, steady, spilt)
    return found


def _twice(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each pair of fields that say the same thing."""
    return [
        FieldProblem(one, f"you entered {CALCULATOR.field(other).title.lower()} too", "leave one of the two blank")
        for one, other in (
            ("source", "evaporation"), ("air_changes", "ventilation"), ("clear_after", "ventilation"),
            ("clear_after", "air_changes"),
        )
        if fields[one] is not None and fields[other] is not None
    ]  # fmt: skip


def _unknown_solvent(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return what is missing for a liquid that is not in the table."""
    evaporation = fields["evaporation"]
    if not isinstance(evaporation, str) or fields["solvent"] is not None:
        return []
    names = ("molar_mass",) if _EVAPORATION.is_mass(_EVAPORATION.quantity(evaporation)) else ("density", "molar_mass")
    return missing(some(fields, names), "blank", "enter it from the data sheet, or choose a solvent from the table")


def _unknown_air(fields: Mapping[str, object], steady: bool, spilt: bool) -> list[FieldProblem]:
    """Return what is missing about the room, its fresh air and the limit."""
    found, has_flow = [], fields["ventilation"] is not None or fields["air_changes"] is not None
    has_limit = fields["limit"] is not None or fields["solvent"] is not None
    if not spilt and any(fields[name] is not None for name in ("air_changes", "start", "time")):
        found += missing(some(fields, ("room",)), "blank", "enter the volume of air in the room")
    if fields["start"] is not None and not has_flow and fields["clear_after"] is None:
        found.append(FieldProblem("ventilation", "blank", "enter the fresh air flow (0 if none), or the time to clear within"))
    if fields["start"] is not None and not has_limit:
        found += missing(some(fields, ("target",)), "blank", "enter the level to clear down to, or a limit")
    if fields["start"] is None and not spilt:
        found += given(some(fields, ("target", "clear_after")), "only used to clear a room", "enter the level when work stops")
    if not steady:
        found += given(
            some(fields, ("time",)),
            "only used where solvent evaporates steadily",
            "enter the evaporation or the vapour made, or clear this",
        )
    elif fields["time"] is not None and not has_flow:
        found.append(FieldProblem("ventilation", "blank", "enter the fresh air flow (0 if none)"))
    if steady and not has_flow and not has_limit and fields["lel"] is None:
        found.append(FieldProblem("limit", "blank", "enter the limit from the data sheet, or choose a solvent from the table"))
    return found


CALCULATOR = Calculator(
    name="vapour", title="Solvent vapour in a room, ppm, and the fresh air it needs",
    inputs=(
        Field("solvent", "Solvent", _Solvent(_solvents), help="For a mixture, the part with the lowest limit on its data sheet."),
        Field("volume", "Solvent spilled or wiped on", Measure("mL", above=0, high=50_000, soft_low=1, soft_high=2_000),
            help="Everything you wipe on, pour, spill or leave in open pots, counted as evaporating at once in a closed room."),
        Field("room", "Air in the room", _Room("m³", low=0.1, high=100_000, soft_low=5, soft_high=2_000),
            help="Volume, or inside length x width x height; subtract anything bulky in the room."),
        Field("evaporation", "Evaporation per hour",
            _EVAPORATION, "For steady work instead of a spill: the solvent you use per hour."),
        Field("source", "Vapour made", Measure("m³/h", above=0, high=1_000),
            "Enter this instead of evaporation if you know the flow of vapour."),
        Field("density", "Liquid density", Measure("g/mL", low=0.5, high=3, soft_low=0.6, soft_high=1.7), _SHEET_FIGURE),
        Field("molar_mass", "Molar mass", Measure("g/mol", low=15, high=500, soft_low=30, soft_high=200), _SHEET_FIGURE),
        Field("limit", "Exposure limit", Measure("ppm", low=0.001, high=10_000, soft_low=1, soft_high=1_000), _SHEET_FIGURE),
        Field("lel", "Lower explosive limit", Measure("%", low=0.1, high=100, soft_low=0.5, soft_high=8), _SHEET_FIGURE),
        Field("ventilation", "Fresh air flow", Measure("m³/h", low=0, high=100_000), "The air your fan moves; 0 without a fan."),
        Field("air_changes", "Air changes per hour", Measure("1/h", low=0, high=1_000, soft_high=60),
            "Enter this instead of the flow."),
        Field("mixing", "Mixing factor K", Measure("", low=1, high=10),
            "1 is perfect mixing; 1.5 to 3 with air swept past the work, 5 with a fan and one opening, 10 at worst.",
            default="5"),
        Field("time", "Working time", Measure("min", low=0, high=1440),
            "Shows the level after working this long, starting in clean air."),
        Field("start", "Level when work stops", Measure("ppm", above=0, high=1_000_000),
            "Enter this to find out how long the room takes to clear."),
        Field("target", "Level to clear down to", Measure("ppm", above=0, high=1_000_000), "Blank: half the exposure limit."),
        Field("clear_after", "Clear within", Measure("min", above=0, high=1440),
            "Enter this instead of a flow to find the flow you need."),
        Field("temperature", "Shop temperature", Measure("°C", low=-20, high=60, soft_low=5, soft_high=35),
            help="Where the liquid gets warmest. Blank: 20 °C for the flash point, 25 °C for vapour from steady work."),
    ),
    outputs=(
        Output("concentration", "Room average", "ppm", 0),
        Output("verdict", "Verdict"),
        Output("ventilation_needed", "Fresh air needed", "m³/h", 0),
        Output("clear_after", "Room clear after", "min", 0),
        Output("steady", "Steady level during work", "ppm", 0),
        Output("limit", "Lowest limit (TWA)", "ppm", 0),
        Output("limit_body", "Limit set by"),
        Output("volume_at_limit", "Solvent that reaches the limit", "mL", 0),
        Output("fresh_air", "Air to dilute to the limit", "m³", 0),
        Output("short_term", "15-minute limit (STEL)", "ppm", 0),
        Output("ceiling", "Ceiling limit", "ppm", 0),
        Output("idlh", "Dangerous to life (IDLH)", "ppm", 0),
        Output("lel", "Lower explosive limit", "%", 1),
        Output("lel_fraction", "Share of LEL reached", "%", 1),
        Output("flash_point", "Flash point", "°C", 0),
        Output("low_limit", "Verdict 'low' up to", "ppm", 0),
        Output("volume_low", "Maximum solvent for the verdict 'low'", "mL", 0),
        Output("fresh_air_mixed", "Air to dilute to the limit, worst mixing", "m³", 0),
        Output("evaporated", "Room average if it all evaporates", "ppm", 0),
        Output("danger_from", "Verdict 'danger' from", "ppm", 0),
        Output("ventilation_aim", "Fresh air for half the limit", "m³/h", 0),
        Output("effective", "Fresh air needed with perfect mixing", "m³/h"),
        Output("lel_part", "Share of LEL, steady work", "%", 1),
        Output("clear_to", "Level that counts as clear", "ppm", 0),
        Output("made", "Vapour made", "m³/h", 3),
    ),
    source=(
        Source("ideal gas, 24.45 L/mol at 25 °C and 1 atm, all evaporated, unventilated and evenly mixed", "computed"),
        Source("limits: NIOSH, OSHA, ACGIH and others, one row per limit in the table exposure_limits, each with its source",
            "read"),
        _TENTH_OF_LEL,
        _HABIT,
        _USUAL,
        Source("steady work: a university's industrial ventilation formulae; build-up: an engineering reference site", "read"),
        Source("clearing: an industrial hygienist's note on first-order decay; mixing factor added to both", "read"),
        Source("mixing factor 3 to 10 usual, 5 with a fan at the bench, 1.5 to 3 with air swept past the work", "memory"),
    ),
    valid="One solvent, all of it evaporated into closed, still, evenly mixed air at 25 °C. The level is a room average, not the "
    "level at the work, and 3 % higher at 35 °C. A limit is an average over a working day for a healthy adult; ceilings and "
    "short-term limits are separate. Not for isocyanates, which hardly evaporate but are dangerous as spray mist. Not for dust.",
    examples=(
        Example({"solvent": "ethanol", "volume": "100 mL", "room": "50 m³"}, {"concentration": 837.47, "limit": 1000.0,
            "limit_body": "NIOSH REL, OSHA PEL", "verdict": "ventilate"},
            Source("ideal gas at 25 °C by arithmetic; limits: NIOSH Pocket Guide", "computed"), rel=0.01),
        Example({"solvent": "white spirit", "volume": "50 mL", "room": "6 x 4 x 2.5 m"}, {"limit": 60.0,
            "limit_body": "NIOSH REL"}, Source("OSHA comments of 1989: 350 mg/m³ corresponds to approximately 60 ppm", "read"),
            rel=0.02),
        Example({"solvent": "isopropyl alcohol", "volume": "1 L", "room": "20 m³"}, {"idlh": 2000.0, "lel": 2.0,
            "flash_point": 11.67, "short_term": 400.0, "verdict": "danger"},
            Source("NIOSH Pocket Guide: IDLH 2000 ppm (10 % of LEL 2.0 %), flash point 53 °F; Ontario short-term limit", "read"),
            rel=0.001),
        Example({"solvent": "ethanol", "evaporation": "200 mL/h", "ventilation": "400 m³/h", "room": "50 m³", "time": "1 h"},
            {"effective": 83.75, "ventilation_needed": 418.7, "ventilation_aim": 837.5, "verdict": "over limit"},
            Source("403·10⁶ SG ER K / (M C), a university's industrial ventilation formulae", "read"), rel=0.005),
        Example({"evaporation": "157.8 g/h", "molar_mass": "46.07 g/mol", "limit": "1000 ppm"}, {"effective": 83.75},
            Source("moles by arithmetic, 24.45 L each", "computed"), rel=0.001),
        Example({"room": "50 m³", "start": "837 ppm", "target": "100 ppm", "ventilation": "200 m³/h"}, {"clear_after": 159.3},
            Source("exponential decay by arithmetic", "computed"), rel=0.005),
    ),
    asked=("solvent", "volume", "room", "ventilation"),
    compute=_compute, thresholds=(_MIXING, _FIRE, _FLASH_MARGIN, _AIM, _DILUTION),
)  # fmt: skip
