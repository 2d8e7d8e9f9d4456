"""Solvent vapour in a room: what the air holds if all of it evaporates, against the exposure limits and the fire limit."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import EntryError
from shopmate.models.constants import NOISE
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

MOLAR_VOLUME = 24.45
"""Litres taken by one mole of vapour at 25 °C and 1 atm, as exposure limits are converted; R T / p is 24.465 [computed]."""

_ATMOSPHERE = 101.325
"""Standard atmosphere in kPa, exactly, by definition. No threshold: it is what a pressure is a part of."""

_STATED_AT, _DOUBLES = 25.0, 10.0
"""Temperature in °C of the table's vapour pressures, and the K that double them at the most [computed].
No threshold: below the first the pressure is kept, and the air holds no more than all of it."""

_TENTH = 1000
"""ppm in a tenth of a per cent of the air [computed]. No threshold: it turns the fire limit into ppm."""

_SIDES = 3
"""Sizes of a room. No threshold: it has no more [computed]."""

_HABIT = Source(
    "mixing factor up to 10; denatured alcohol by the limits of methanol; 5 K under the flash point", "common practice"
)
_TENTH_OF_LEL = Source("fire: NIOSH takes a tenth of the lower explosive limit as immediately dangerous", "read")

_MIXING = Threshold(10.0, "", _HABIT, "Under the limit only if it mixes evenly", "", "11.93 mL", "11.95 mL", "volume")
"""How far above the room's average the air at the work may be: mixing factors of 3 to 10 are used."""

_FIRE = Threshold(10.0, "%", _TENTH_OF_LEL, "Fire and explosion", "lel_fraction", "370 mL", "371 mL", "volume")
"""Part of the lower explosive limit that counts as dangerous."""

_FLASH_MARGIN = Threshold(5.0, "K", _HABIT, "gives off vapour", "", "6.95 °C", "7 °C", "temperature")
"""How far under the flash point the liquid is treated as flammable at shop temperature."""

_STANDARD_NAMES = {"NIOSH": "NIOSH REL", "OSHA": "OSHA PEL", "ACGIH": "ACGIH TLV"}
"""What the exposure limits of a body are called."""

_EXPOSURE = ("TWA", "STEL", "ceiling")
"""The kinds of limit on what is breathed at work."""

_SHEET = (
    "the safety data sheet of the product outranks this table, and local law outranks both; these figures cannot replace a "
    "measurement, and ventilation or a respirator is chosen by someone competent in it"
)
"""Said with every result."""


@dataclass(frozen=True, slots=True)
class _Limit:
    """The lowest limit of one kind, and who sets it."""

    value: float
    """ppm for exposure, % for LEL, °C for a flash point."""
    body: str


class _Solvent(Choice):
    """A solvent of the table by its name there or a usual other name."""

    __slots__ = ()

    def read(self, text: str) -> str:
        wanted = " ".join(text.lower().split())
        for row in tables.load("solvents").rows:
            if wanted in row["also"].lower().split("; "):
                return row["solvent"]
        return super().read(text)


class _Room(Measure):
    """A volume of air, or the three inner sizes of the room: '6 x 4 x 2.5 m'."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        sides = re.split(r"\s*(?:[x×*]|\bby\b)\s*", text.strip())
        if len(sides) == 1:
            return super().read(text)
        if len(sides) != _SIDES or not units.has_unit(sides[-1]):
            raise EntryError(f"{text} is not a room", "give its volume, as 60 m³, or its inner sizes, as 6 x 4 x 2.5 m")
        unit = units.parse(sides[-1], "m").unit
        metres = [units.parse(side, unit).to("m").value for side in sides]
        return super().read(units.show(Quantity(math.prod(metres), "m³")))

    def describe(self) -> str:
        return f"{super().describe()}; or its inner sizes: '6 x 4 x 2.5 m'"


def mass_concentration(ppm: float, molar_mass: float) -> float:
    """Return mg/m³ of a vapour from ppm and g/mol at 25 °C: ppm M / 24.45 (NIOSH and OSHA print limits both ways) [read]."""
    return ppm * molar_mass / MOLAR_VOLUME


def _evaporated(millilitres: float, density: float, molar_mass: float, room: float) -> float:
    """Return ppm if all of mL at g/mL evaporates into m³ of still, evenly mixed air: n × 24.45 L ÷ room [ideal gas]."""
    return millilitres * density / molar_mass * MOLAR_VOLUME / room * 1000


def _saturated(kilopascals: float, celsius: float) -> float:
    """Return ppm above the bare liquid, from its vapour pressure at 25 °C: the air holds no more than that allows (Dalton).

    Above 25 °C the pressure is doubled for every 10 K, more than any solvent here gains (Perry's equations in chemicals
    1.5.2) [computed]; below, that of 25 °C is kept: both on the safe side.
    """
    return min(1.0, kilopascals / _ATMOSPHERE * 2 ** max(0.0, (celsius - _STATED_AT) / _DOUBLES)) * 1e6


def _solvents() -> tuple[str, ...]:
    return tuple(row["solvent"] for row in tables.load("solvents").rows)


def _lowest(substances: Sequence[str], kind: str, molar_mass: float) -> _Limit | None:
    """Return the lowest limit of one kind over the substances; kinds are never compared with one another."""
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
    """Return a number rounded down to two significant digits, so that advice followed stays under the limit."""
    step = 10.0 ** (math.floor(math.log10(number)) - 1)
    return math.floor(number / step * (1 + NOISE)) * step


def _up(number: float) -> float:
    """Return a number rounded up to two significant digits."""
    step = 10.0 ** (math.floor(math.log10(number)) - 1)
    return math.ceil(number / step * (1 - NOISE)) * step


def _compute(*, solvent: str, volume: Quantity, room: Quantity, temperature: Quantity) -> Answer:
    row = tables.load("solvents").row("solvent", solvent)
    molar_mass, density = float(row["molar_mass_g"]), float(row["density_g_ml"])
    substances = row["limits_of"].split("+")
    limit = _lowest(substances, "TWA", molar_mass)
    lel, flash = _lowest(substances, "LEL", molar_mass), _lowest(substances, "flash point", molar_mass)
    idlh = _lowest(substances, "IDLH", molar_mass)
    short, ceiling = _lowest(substances, "STEL", molar_mass), _lowest(substances, "ceiling", molar_mass)
    assert limit is not None
    assert lel is not None
    assert flash is not None
    assert idlh is not None

    ml, air, now = volume.value_in("mL"), room.value_in("m³"), temperature.value_in("°C")
    everything = _evaporated(ml, density, molar_mass, air)
    most = _saturated(float(row["vapour_kpa"]), now)
    concentration = min(everything, most)
    explosive = concentration / (lel.value * 10_000) * 100
    at_limit = ml * limit.value / everything
    fresh_air = air * everything / limit.value
    low, mixed = _down(at_limit / _MIXING.value), _up(fresh_air * _MIXING.value)
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
            f"the air cannot hold that: saturated at {sig(max(_STATED_AT, now))} °C it holds {_ppm(most)} at most, taken instead"
        )
    working += [
        f"limit = lowest 8 to 10 h average (TWA) = {_ppm(limit.value)}: {limit.body}; short-term limits and ceilings stand apart",
        f"verdict: low up to a tenth of the limit ({_ppm(limit.value / _MIXING.value)}), ventilate up to the limit, over limit "
        f"beyond, danger from {_ppm(min(idlh.value, lel.value * _TENTH))}: IDLH {_ppm(idlh.value)} ({idlh.body}) or a tenth of "
        f"LEL {sig(lel.value, 6)} % ({lel.body}); {_ppm(concentration)} is {verdict}",
        f"air that dilutes all of it to the limit = moles × {MOLAR_VOLUME} L / limit = {sig(fresh_air, 3)} m³",
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
            "danger_from": min(idlh.value, lel.value * _TENTH),
        },
        working=tuple(working),
        cautions=(
            *_fire(explosive, flash, now),
            *_health(solvent, verdict, concentration, idlh, low, (_up(fresh_air), mixed)),
            *_short_term(concentration, short, ceiling),
            *_kind_of_solvent(solvent),
            f"{_ppm(concentration)} is the average of a room: over the rag, in the pot and in hollows it is many times that, as "
            "the vapour is heavier than air; keep the lid on and the head out",
            _SHEET,
        ),
    )


def _ppm(number: float) -> str:
    return f"{number:.0f} ppm" if number >= 100 else f"{sig(number, 3)} ppm"


def _fire(explosive: float, flash: _Limit, now: float) -> list[str]:
    said = []
    if explosive >= _FIRE.value:
        said.append(
            f"Fire and explosion: the room's average alone is {explosive:.0f} % of the lower explosive limit (10 % is the "
            "alarm, NIOSH). Touch no switch or plug, leave, air the room from outside, and use far less"
        )
    if now >= flash.value - _FLASH_MARGIN.value:
        where = "below" if flash.value <= now else "within 5 K of"
        said.append(
            f"Fire: flash point {flash.value:.0f} °C ({flash.body}) is {where} the shop's {now:.0f} °C, so it gives off vapour "
            "that a flame, spark, heater or switch can light. None of these in the room; wet rags into a closed metal can"
        )
    return said


def _health(
    solvent: str, verdict: str, concentration: float, idlh: _Limit, low: float, fresh_air: tuple[float, float]
) -> list[str]:
    if verdict == "low":
        return []
    less = f"{sig(low, 6)} mL of {solvent} or less in this room stays low"
    air = (
        f"it takes {sig(fresh_air[0], 6)} m³ of fresh air to come down to the limit if that mixed evenly, and up to "
        f"{sig(fresh_air[1], 6)} m³ as rooms mix"
    )
    if verdict == "ventilate":
        return [
            f"Under the limit only if it mixes evenly: open up, move air past you, or {less} (mixing factor 10: common practice)"
        ]
    if concentration >= idlh.value:
        return [
            f"Immediately dangerous to life or health ({_ppm(idlh.value)}, {idlh.body}): do not work in it. Outdoors, or {less}"
        ]
    return [f"Over the limit: {air}. Work outdoors or under extraction, or {less}"]


def _short_term(concentration: float, short: _Limit | None, ceiling: _Limit | None) -> list[str]:
    said = []
    for limit, meaning in ((short, "15 minute average"), (ceiling, "ceiling")):
        if limit is not None and concentration > limit.value:
            said.append(
                f"Over the {meaning} of {_ppm(limit.value)} too ({limit.body}): not even for a short while without extraction"
            )
    return said


def _kind_of_solvent(solvent: str) -> list[str]:
    if solvent == "denatured alcohol":
        return [
            "denatured alcohol may hold methanol, so the lower limits of ethanol and methanol are taken (common practice); if "
            "its data sheet lists more than half methanol, choose methanol. Methanol passes through skin: use the gloves it names"
        ]
    if solvent == "methanol":
        return ["methanol passes through skin and can blind: gloves that its data sheet names, and nothing near the mouth"]
    return []


CALCULATOR = Calculator(
    name="vapour", title="Solvent vapour in a room",
    inputs=(
        Field("solvent", "Solvent", _Solvent(_solvents), help="For a mixture, the part with the lowest limit on its data sheet.",
            required=True),
        Field("volume", "Solvent that evaporates", Measure("mL", above=0, high=50_000, soft_low=1, soft_high=2_000),
            help="All that is wiped, poured, spilled or left in open pots.", required=True),
        Field("room", "Air in the room", _Room("m³", low=0.1, high=100_000, soft_low=5, soft_high=2_000),
            help="Volume, or inner length x width x height; take off what fills it.", required=True),
        Field("temperature", "Shop temperature", Measure("°C", low=-20, high=60, soft_low=5, soft_high=35),
            help="The warmest place the liquid gets to, such as beside a heater: set against the flash point.", default="20 °C"),
    ),
    outputs=(
        Output("concentration", "In the air, average", "ppm", 0),
        Output("verdict", "Verdict"),
        Output("limit", "Lowest limit (TWA)", "ppm", 0),
        Output("limit_body", "Set by"),
        Output("volume_at_limit", "Solvent that makes the limit", "mL", 0),
        Output("fresh_air", "Air to dilute to the limit", "m³", 0),
        Output("short_term", "15 minute limit (STEL)", "ppm", 0),
        Output("ceiling", "Ceiling", "ppm", 0),
        Output("idlh", "Dangerous to life (IDLH)", "ppm", 0),
        Output("lel", "Lower explosive limit", "%", 1),
        Output("lel_fraction", "Part of that reached", "%", 1),
        Output("flash_point", "Flash point", "°C", 0),
        Output("low_limit", "Low up to", "ppm", 0),
        Output("volume_low", "Solvent that stays low", "mL", 0),
        Output("fresh_air_mixed", "Air to dilute it as rooms mix, up to", "m³", 0),
        Output("evaporated", "All evaporated", "ppm", 0),
        Output("danger_from", "Danger from", "ppm", 0),
    ),
    source=(
        Source("ideal gas, 24.45 L/mol at 25 °C and 1 atm, all evaporated, unventilated and evenly mixed", "computed"),
        Source("limits: NIOSH, OSHA, ACGIH and others, one row a limit in the table exposure_limits, each with its source",
            "read"),
        _TENTH_OF_LEL,
        _HABIT,
    ),
    valid="One solvent, all of it evaporated into closed, still, evenly mixed air at 25 °C: an average that no place in the room "
    "need have, 3 % more at 35 °C. A limit is for a working day's average and a healthy adult; ceilings and short-term "
    "limits stand apart. Not for isocyanates, which hardly evaporate and harm as spray, nor for dusts.",
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
    ),
    compute=_compute, thresholds=(_MIXING, _FIRE, _FLASH_MARGIN),
)  # fmt: skip
