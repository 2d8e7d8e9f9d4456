"""What one person may lift there and so, by the NIOSH lifting equation, and whether it takes two or a hoist."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Choice, Either, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import LOAD_CONSTANT
from shopmate.units import Quantity

_NIOSH = Source("Revised NIOSH lifting equation, NIOSH 94-110 (a textbook's transcription): 23 kg, HM, VM, DM", "read")
_REST = Source("NIOSH 94-110: AM, frequency and coupling tables, limits of the multipliers, index 1 and 3", "memory")
_EXAMPLE = Source(
    "NIOSH 94-110, example 1: 23, 15 and 48 in, at 2.5 cm an inch as its two forms have it; multipliers rounded there", "memory"
)
_OTHERS = Source("HSE guidance L23: two people lift about two thirds of the sum; ISO 11228-1 reference masses", "memory")
_OURS = Source("Which part of a lift is worth changing: ours, to keep the advice short", "common practice")

_OUT = "Out of reach"

_NEAR = 25.0
"""Distance of the hands in cm under which nothing is gained: NIOSH 94-110 [memory]. No threshold: HM stays 1 there."""

_FAR = Threshold(63.0, "cm", _REST, _OUT, "hand_distance", "63 cm", "63.1 cm")
"""Distance of the hands beyond which the limit is 0."""

_KNUCKLES = 75.0
"""Best height of the hands in cm: NIOSH 94-110 [read]. No threshold: VM and the table of grips turn there."""

_HIGH = Threshold(175.0, "cm", _REST, _OUT, "start_height", "175 cm", "175.1 cm", beside={"travel": "0 cm"})
"""Height of the hands over which the limit is 0."""

_SHORT = 25.0
"""Travel in cm under which nothing is gained: NIOSH 94-110 [memory]. No threshold: DM stays 1 there."""

_LONG = Threshold(175.0, "cm", _REST, _OUT, "travel", "175 cm", "175.1 cm", beside={"start_height": "0 cm", "placing": "let go"})
"""Travel over which the limit is 0."""

_TWIST = Threshold(135.0, "°", _REST, _OUT, "twist", "135°", "135.1°")
"""Twist over which the limit is 0."""

_GRIPS: Mapping[str, tuple[float, float]] = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
"""Coupling multiplier by grip, with the hands under 75 cm and from 75 cm up: NIOSH 94-110 table 7 [memory]."""

_RATES = (0.2, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0)
"""Lifts a minute of the table of frequency multipliers; over them the limit is 0: NIOSH 94-110 table 5 [memory]."""

_FREQUENCY: Mapping[str, tuple[float, ...]] = {
    "up to 1 h": (1.0, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28),
    "1 to 2 h": (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21),
    "2 to 8 h": (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13),
}
"""Frequency multiplier at each of those rates by the time spent lifting, 0 beyond the last: NIOSH 94-110 table 5 [memory; the
first line read in a transcription, and 0.13 at 10 a minute on a page of another institute]."""

_STOOPED: Mapping[str, float] = {"up to 1 h": 12.0, "1 to 2 h": 10.0, "2 to 8 h": 8.0}
"""Lifts a minute beyond which the table has 0 with the hands under 75 cm: NIOSH 94-110 table 5 [memory]. No threshold: rows
of that table."""

_HARD = Threshold(3.0, "", _REST, "Do not lift it alone", "index", "31.68 kg", "31.7 kg", "mass")
"""Lifting index over which most people are at risk; over 1 some are."""

_COSTS = Threshold(
    0.95, "", _OURS, "What costs most", "", "26.3 cm", "26.4 cm", "hand_distance",
    {"mass": "40 kg", "travel": "0 cm", "grip": "good"},
)  # fmt: skip
"""Multiplier under which a part of the lift is worth changing."""

_TOGETHER = 2 / 3
"""What two people lift together, of the sum of what each may: HSE guidance L23 to the UK regulations [memory]."""

_MEN = Threshold(25.0, "kg", _OTHERS, "25 kg for men", "mass", "25 kg", "25.1 kg")
_WOMEN = Threshold(20.0, "kg", _OTHERS, "Over the reference mass", "mass", "20 kg", "20.1 kg")
"""Reference masses of ISO 11228-1, ages 20 to 45; less for others."""

_CAREFUL, _DROPPED = "with care", "let go"
"""How the load is set down: with care, the end of the lift counts as well as its start (NIOSH 94-110 section 1.1 [memory])."""


def _horizontal(distance: float) -> float:
    """Return HM for hands that many cm before the ankles: 25/H."""
    return 0.0 if distance > _FAR.value else _NEAR / max(_NEAR, distance)


def _vertical(height: float) -> float:
    """Return VM for hands that many cm over the floor: 1 − 0.003 |V − 75|."""
    return 0.0 if height > _HIGH.value else 1 - 0.003 * abs(height - _KNUCKLES)


def _distance(travel: float) -> float:
    """Return DM for that many cm up or down: 0.82 + 4.5/D."""
    return 0.0 if abs(travel) > _LONG.value else 0.82 + 4.5 / max(_SHORT, abs(travel))


def _asymmetric(twist: float) -> float:
    """Return AM for a load that many degrees to the side: 1 − 0.0032 A."""
    return 0.0 if twist > _TWIST.value else 1 - 0.0032 * twist


def _coupling(grip: str | Quantity, height: float) -> float:
    """Return CM for a grip with the hands that many cm over the floor."""
    if isinstance(grip, Quantity):
        return grip.value_in("")
    return _GRIPS[grip][height >= _KNUCKLES]


def _counted(rate: float) -> float | None:
    """Return the lifts a minute of the table's line that counts, the next one up, so never too much; None beyond them."""
    return next((step for step in _RATES if rate <= step), None)


def _frequency(rate: float, duration: str, height: float) -> float:
    """Return FM at that many lifts a minute with the hands that many cm over the floor."""
    step = _counted(rate)
    if step is None or (height < _KNUCKLES and step > _STOOPED[duration]):
        return 0.0
    return dict(zip(_RATES, _FREQUENCY[duration], strict=False)).get(step, 0.0)


def _compute(
    *,
    mass: Quantity,
    hand_distance: Quantity,
    start_height: Quantity,
    travel: Quantity,
    twist: Quantity,
    grip: str | Quantity,
    placing: str,
    rate: Quantity,
    duration: str,
) -> Answer:
    load, reach = mass.value_in("kg"), hand_distance.value_in("cm")
    start, lifted, turned = start_height.value_in("cm"), travel.value_in("cm"), twist.value_in("°")
    end, often = start + lifted, rate.value_in("")
    if end < 0:
        raise InputError(
            FieldProblem(
                "travel", f"{lifted:.1f} cm from {start:.1f} cm ends under the floor", "give how far the hands move down"
            )
        )
    factors = {
        "HM": _horizontal(reach),
        "DM": _distance(lifted),
        "AM": _asymmetric(turned),
        # Of the lower end: the table ends sooner where one stoops.
        "FM": _frequency(often, duration, min(start, end)),
    }
    common = LOAD_CONSTANT * math.prod(factors.values())
    ends = {"start": start, "end": end}
    limits = {name: common * _vertical(height) * _coupling(grip, height) for name, height in ends.items()}
    counted = limits["start"] if placing == _DROPPED else min(limits.values())
    at = next(name for name, limit in limits.items() if limit == counted)
    index = load / counted if counted > 0 else None
    verdict = _verdict(index)
    working = [
        f"HM = 25/H = {factors['HM']:.3f} at {reach:.1f} cm (1 up to {_NEAR:.0f} cm, 0 over {_FAR.value:.0f} cm)",
        f"DM = 0.82 + 4.5/D = {factors['DM']:.3f} for {abs(lifted):.1f} cm "
        f"(1 up to {_SHORT:.0f} cm, 0 over {_LONG.value:.0f} cm)",
        f"AM = 1 − 0.0032 A = {factors['AM']:.3f} for {turned:.0f}° (0 over {_TWIST.value:.0f}°)",
        f"FM = {factors['FM']:.2f} ({_line(often)}, {duration})",
        *(
            f"{name}: VM = 1 − 0.003 |V − 75| = {_vertical(height):.3f} at {height:.1f} cm, CM = {_coupling(grip, height):.2f}, "
            f"limit = 23 kg × HM × VM × DM × AM × FM × CM = {limits[name]:.2f} kg"
            for name, height in ends.items()
        ),
        f"limit = {counted:.2f} kg, "
        + ("of the start: let go at the end" if placing == _DROPPED else f"the lesser, of the {at}: set down with care"),
        f"index = mass/limit = {load:.4g}/{counted:.2f} = "
        + ("without end" if index is None else f"{index:.2f}")
        + f": {verdict}",
    ]
    two = 2 * _TOGETHER * counted
    # The limit goes with HM, so with one over the distance; under 25 cm nothing is gained.
    near = counted / factors["HM"] * _NEAR / load if counted > 0 else 0.0
    near_enough = math.floor(near) if near >= _NEAR else None
    return Answer(
        {
            "limit": counted,
            "verdict": verdict,
            "index": index,
            "limit_start": limits["start"],
            "limit_end": limits["end"],
            "two_people": two,
            "end_height": end,
            "near_enough": near_enough,
        },
        tuple(working),
        _cautions(load, near_enough, counted, two, factors, ends[at], index),
    )


def _line(rate: float) -> str:
    """Return which line of the table of frequencies counts for so many lifts a minute."""
    step = _counted(rate)
    if step is None:
        return f"{rate:g} a minute is beyond the table, which ends at {_RATES[-1]:g}"
    return f"table: {step:g} a minute" + ("" if step == rate else f", the next line up from {rate:g}")


def _verdict(index: float | None) -> str:
    """Return the verdict by the lifting index: 1 and 3 are NIOSH's steps; None is a lift out of the equation's reach.

    Over 3 it never says two people: they may take only 4/3 of what one may.
    """
    if index is None:
        return "out of reach: hoist"
    if index <= 1:
        return "ok"
    return "hard" if index <= _HARD.value else "hoist"


def _cautions(
    load: float, near: int | None, limit: float, two: float, factors: Mapping[str, float], height: float, index: float | None
) -> tuple[str, ...]:
    said = []
    if index is None:
        said.append(
            f"{_OUT}: the equation allows no weight at all beyond 63 cm before the ankles, over 175 cm high, over 175 "
            "cm of travel, beyond 135° of twist or over 15 lifts a minute (8 where you stoop all day). Bring it nearer or "
            "lower, lift in stages, turn your feet, or use a hoist"
        )
    elif index > 1:
        if index > _HARD.value:
            said.append("Over three times the limit: most people are at risk of a back injury. Do not lift it alone")
        else:
            said.append("Over the limit: the risk of a back injury rises for some people. Change the lift rather than try harder")
        said.append(_enough(load, near, limit, two))
        said.extend(_costliest(factors, height))
    if load > _WOMEN.value:
        heavier = (
            f"{_MEN.value:g} kg for men and {_WOMEN.value:g} kg for women"
            if load > _MEN.value
            else f"{_WOMEN.value:g} kg for women"
        )
        said.append(
            f"Over the reference mass of ISO 11228-1, {heavier} of 20 to 45 years, less for others and for lifts that are "
            "not ideal (from memory: see the standard)"
        )
    said.append(
        "Two people lift less than twice one, about two thirds of the sum (from memory of HSE guidance): both need a grip "
        "and a clear path, one gives the word, and the taller end takes less"
    )
    said.append(
        "The equation knows smooth two-handed lifts, standing, on firm ground, in mild air. For one hand, sitting, "
        "kneeling, a ladder, a flatbed, wind on a panel, liquid in a bucket or a bad back the limit is lower and not known: "
        "ask a physician or an ergonomist, and local rules come first"
    )
    return tuple(said)


def _enough(load: float, near: int | None, limit: float, two: float) -> str:
    """Return what brings this lift within the limit, only remedies that are enough."""
    ways = []
    if near is not None:
        ways.append(f"hold it with the hands {near} cm before the ankles or nearer")
    if load <= two:
        ways.append(f"lift it with two people, who may take {math.floor(two * 10) / 10:g} kg together here")
    ways.append("use a hoist, a trolley or a ramp")
    none = "" if load <= two else f" Two people are not enough as it stands: {math.floor(two * 10) / 10:g} kg together."
    return f"What is enough: {', or '.join(ways)}; or take it up in parts of {math.floor(limit * 10) / 10:g} kg at most.{none}"


def _costliest(factors: Mapping[str, float], height: float) -> tuple[str, ...]:
    """Return which part of the lift costs most of the 23 kg and what to change about it; nothing where all cost little."""
    advice = {
        "HM": "the hands are far from the body: clear the way so that you can stand close",
        "VM": "the hands are low or high: start and end near 75 cm, on trestles or a table",
        "DM": "the way is long: rest the load half-way",
        "AM": "you twist: turn your feet, not your back",
        "FM": "you lift often: rest between lifts",
    }
    costs = {**factors, "VM": _vertical(height)}
    worst = min(costs, key=lambda name: costs[name])
    return (f"What costs most is {worst} {costs[worst]:.2f}: {advice[worst]}",) if costs[worst] < _COSTS.value else ()


CALCULATOR = Calculator(
    name="lift", title="Lifting by hand",
    inputs=(
        Field("mass", "Mass lifted", Measure("kg", above=0, high=1000, soft_high=60), required=True),
        Field("hand_distance", "Hands before the ankles", Measure("cm", above=0, high=200, soft_low=20, soft_high=63),
            "Horizontally, from between the ankles to between the hands: for a panel held flat, half its width more.",
            required=True),
        Field("start_height", "Hands over the floor", Measure("cm", low=0, high=300, soft_high=175), "At the start of the lift.",
            required=True),
        Field("travel", "How far up", Measure("cm", low=-300, high=300, soft_low=-175, soft_high=175), "Down is negative.",
            required=True),
        Field("twist", "Twist", Measure("°", low=0, high=180, soft_high=90), "Load to the side of the feet.", default="0°"),
        Field("grip", "Grip", Either(Choice(tuple(_GRIPS)), Measure("", low=0.9, high=1)),
            "good: handles; fair: fingers bent square under it; poor: a bare panel, sharp or sagging.", default="poor"),
        Field("placing", "Set down", Choice((_CAREFUL, _DROPPED)),
            "With care, as a panel into place: the end of the lift counts too.", default=_CAREFUL),
        Field("rate", "Lifts a minute", Measure("", above=0, high=60, soft_high=15), "0.2 is one in five minutes.",
            default="0.2"),
        Field("duration", "Time spent lifting", Choice(tuple(_FREQUENCY)), "In the day, with rests.", default="up to 1 h"),
    ),
    outputs=(
        Output("limit", "One person's limit", "kg"),
        Output("verdict", "Verdict"),
        Output("index", "Lifting index", "", 2),
        Output("two_people", "Two people's limit", "kg"),
        Output("limit_start", "Limit at the start", "kg"),
        Output("limit_end", "Limit at the end", "kg"),
        Output("end_height", "Hands over the floor at the end", "cm"),
        Output("near_enough", "Hands near enough at", "cm", 0),
    ),
    source=(_NIOSH, _REST, _OTHERS, _OURS),
    valid="Two hands, standing, smooth, firm ground, 19 to 26 °C, a load that does not shift: what the NIOSH equation was made "
    "for. Hands up to 63 cm before the ankles and 175 cm high, travel up to 175 cm, twist up to 135°, 15 lifts a minute (8 with "
    "the hands under 75 cm all day): beyond, the limit is 0 and the index has no figure. NIOSH's inch form, with 10 in for 25 cm "
    "and 51 lb for 23 kg, allows 2 % more.",
    examples=(
        Example({"mass": "10 kg", "hand_distance": "40 cm", "start_height": "75 cm", "travel": "50 cm", "grip": "0.95"},
            {"limit_start": 12.427}, _NIOSH, rel=0.01),
        Example({"mass": "44 lb", "hand_distance": "57.5 cm", "start_height": "37.5 cm", "travel": "120 cm", "grip": "fair"},
            {"limit_start": 16.3 * 0.45359237, "limit_end": 14.5 * 0.45359237}, _EXAMPLE, rel=0.03),
        Example({"mass": "23 kg", "hand_distance": "25 cm", "start_height": "75 cm", "travel": "0 cm", "grip": "good"},
            {"limit": 23.0, "index": 1.0, "verdict": "ok"}, _NIOSH),
    ),
    compute=_compute, thresholds=(_FAR, _HIGH, _LONG, _TWIST, _HARD, _COSTS, _MEN, _WOMEN),
)  # fmt: skip
