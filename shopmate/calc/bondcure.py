"""How many days a moisture-curing adhesive takes between two faces, from the depth, its rate and the air of the shop."""

from __future__ import annotations

import math

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem
from shopmate.models.fields import given, missing, refuse
from shopmate.models.humid_air import RULE, WET, saturation_pressure
from shopmate.units import Quantity
from shopmate.units import significant as sig

_LAW = Source(
    "Diffusion with a moving front: depth = k √t, k = √(2 D c/N) with c proportional to the vapour pressure of the air, so k "
    "goes with its root; derived, no measurement found",
    "computed",
)
_RATE = Source("3 mm per root day at 23 °C and 50 %, of a one-part adhesive; the data sheet overrides it", "common practice")
_SHEET = Source("Data sheet of a one-part PU: more than 3 mm in the first 24 h at 20 °C and 50 %", "read")
_SLOW_COLD = Source("Trade page on sealants: clear slowing below 15 °C, most of all for one-part products", "read")
_FULL = Source("A maker's page: full cure of one-part sealants 7 to over 21 days; 21 days for test joints, a trade page", "read")
_HABIT = Source(
    "Lowest label temperature 5 °C; bare wood from 8 % moisture up feeds the cure; mist the wood, never the glue",
    "common practice",
)

_STANDARD = (23.0, 50.0)
"""Air in °C and humidity in % that data sheets state the rate for [read: a data sheet's page; the trade's standard climate]."""

_QUARTER = 16.0
"""A quarter of the depth takes a sixteenth of the time: depth goes with the root of time [computed]."""

_COLD = Threshold(15.0, "°C", _SLOW_COLD, "Below 15 °C", "air", "15 °C", "14.9 °C")
"""Air below which the reaction slows down as well, which the formula does not count."""

_LONG = Threshold(21.0, "d", _FULL, "no wider than", "days", "13.74 mm", "13.75 mm", "depth")
"""Days beyond which the joint is better laid in strips or with another adhesive."""

_WET = Threshold(WET, "%", RULE, "Damp air", "humidity", "84.9 %", "85 %")
"""Relative humidity from which no face is dry enough to bond."""

_SEALED, _WOOD = "sealed", "one wood"
"""What the two faces let through."""

_LEAST, _MOST = 0.5, 100.0
"""Depths in mm that can be worked out (ours). No threshold: others are refused."""

_DEPTH = Measure("mm", low=_LEAST, high=_MOST, soft_low=1, soft_high=25)


def _compute(
    *,
    depth: Quantity | None,
    width: Quantity | None,
    open_edges: int | None,
    rate: Quantity,
    air: Quantity,
    humidity: Quantity,
    lowest: Quantity,
    faces: str,
) -> Answer:
    path, measured = _path(depth, width, open_edges)
    at, relative, first_day = air.value_in("°C"), humidity.value_in("%"), rate.value_in("mm")
    standard = _STANDARD[1] / 100 * saturation_pressure(_STANDARD[0])
    pressure = relative / 100 * saturation_pressure(at)
    here = first_day * math.sqrt(pressure / standard)
    days = (path / here) ** 2
    strip = 2 * here * math.sqrt(_LONG.value)
    marked = math.floor(strip * 2) / 2
    is_cold = at < lowest.value_in("°C")
    verdict = "no go" if is_cold else "slow" if days > _LONG.value else "ok"
    working = (
        *measured,
        f"vapour pressure = humidity × saturation = {relative:g} % × {saturation_pressure(at):.1f} Pa = {pressure:.1f} Pa",
        f"rate here = rate × √(vapour pressure / the data sheet's) = {first_day:g} × √({pressure:.1f} / {standard:.1f}) "
        f"= {here:.3f} mm per root day",
        f"days = (depth / rate here)² = ({path:g} / {here:.3f})² = {sig(days)} d",
        f"handle = days / {_QUARTER:.0f} = {sig(days / _QUARTER)} d: a quarter of the depth",
        f"widest strip for {_LONG.value:.0f} days = 2 × rate here × √{_LONG.value:.0f} = 2 × {here:.3f} × √{_LONG.value:.0f} "
        f"= {strip:.2f} mm, rounded down to {marked:g} mm",
    )
    values: dict[str, str | float] = {
        "depth": path,
        "rate_here": here,
        "days": days,
        "handle": days / _QUARTER,
        "slower": standard / pressure,
        "strip": marked,
        "verdict": verdict,
    }
    cold = _cold(air, lowest, is_cold)
    return Answer(values, working, (*cold, *_slow(days, marked, faces), *_always(relative, faces)))


def _path(depth: Quantity | None, width: Quantity | None, open_edges: int | None) -> tuple[float, tuple[str, ...]]:
    """Return the way in mm from the open air to the farthest point, and how it follows from the width."""
    if depth is not None:
        refuse(*given({"width": width, "open_edges": open_edges}, "given beside depth", "leave it empty, or leave depth empty"))
        return depth.value_in("mm"), ()
    if width is None:
        refuse(FieldProblem("depth", "nothing given", "give depth, or width and open_edges"))
    refuse(*missing({"open_edges": open_edges}, "nothing given", "give 2 where both edges meet the air, 1 where one does"))
    assert width is not None
    assert open_edges is not None
    across = width.value_in("mm")
    path = across / open_edges
    if not _LEAST <= path <= _MOST:
        what = f"moisture would have {path:g} mm to go, and {_LEAST:g} to {_MOST:g} mm can be worked out"
        refuse(FieldProblem("width", what, "give the width of one strip of adhesive"))
    edge = "both edges open, to the middle" if open_edges == 2 else "one edge open, to the far side"
    return path, (f"depth = width / open edges = {across:g} / {open_edges} = {path:g} mm: {edge}",)


def _cold(air: Quantity, lowest: Quantity, is_cold: bool) -> tuple[str, ...]:
    """Return what the cold asks for: first the label's own limit."""
    if is_cold:
        limit = f"{sig(lowest.value_in(air.unit), 3)} {air.unit}"
        return (
            f"No go: {units.show(air)} is below {limit}, the label's lowest temperature. Warm parts, adhesive and shop to "
            "at least that, and keep them there until the cure is done. The days shown leave this cold out.",
        )
    if air.value_in("°C") < _COLD.value:
        return (
            f"Below {_COLD.value:g} °C the cure itself slows down too: count on longer, or bring both parts to 15 °C or more.",
        )
    return ()


def _slow(days: float, strip: float, faces: str) -> tuple[str, ...]:
    """Return what shortens a cure of more than three weeks."""
    if days <= _LONG.value:
        return ()
    mist = "mist the bare wood lightly before you lay the adhesive (never the adhesive), " if faces == _WOOD else ""
    return (
        f"Slow: {mist}lay strips no wider than {strip:g} mm with open gaps between them, keep the shop warm "
        "and its air moist, or use a two-part adhesive.",
    )


def _always(relative: float, faces: str) -> tuple[str, ...]:
    """Return what every such joint asks for."""
    said = []
    if relative >= _WET.value:
        said.append(
            f"Damp air, {_WET.value:g} % or more: check the faces with dewpoint before you bond. A wet face does not stick."
        )
    if faces == _WOOD:
        said.append("Counted from the edges only. Bare wood at 8 % moisture or more feeds the cure too: it may be done earlier.")
    said.append("Move the joint gently once it can be handled. Load, heat and sun only after all the days.")
    said.append("This is worked out, not measured: bond a scrap pair of the same width beside the work, and cut it open first.")
    return tuple(said)


_MOVING = Source("Parabolic law with the rate as the root of the vapour pressure; ASHRAE saturation formula", "computed")

CALCULATOR = Calculator(
    name="bondcure", title="Days of a moisture cure",
    inputs=(
        Field("depth", "Depth to cure", _DEPTH, "From the open edge to the farthest point. Or enter width and open edges."),
        Field("width", "Width of the adhesive", Measure("mm", low=0.5, high=200, soft_low=2, soft_high=50),
            "Of one strip, between faces that let no moisture through."),
        Field("open_edges", "Open edges", Count(1, 2), "2 where air reaches both long edges, 1 where one is closed off."),
        Field("air", "Air temperature", Measure("°C", low=0, high=45, soft_low=5, soft_high=35),
            "Average over the days of the cure, nights included.", required=True),
        Field("humidity", "Relative humidity", Measure("%", low=5, high=100, soft_low=15), "In %, averaged in the same way.",
            required=True),
        Field("rate", "Cured in the first day", Measure("mm", low=1, high=6, soft_low=2, soft_high=4),
            "Depth from the data sheet, at 23 °C and 50 %.", default="3 mm"),
        Field("lowest", "Lowest temperature on the label", Measure("°C", low=-20, high=40, soft_high=20), default="5 °C"),
        Field("faces", "Faces", Choice((_SEALED, _WOOD)),
            "Sealed: metal, glass or sealed epoxy on both sides. One wood: bare wood on one side.", default=_SEALED),
    ),
    outputs=(
        Output("verdict", "Verdict"),
        Output("days", "Cured through after", "d", 1),
        Output("handle", "Can be handled after", "d", 2),
        Output("strip", f"Widest strip cured in {_LONG.value:.0f} days", "mm"),
        Output("rate_here", "Cured in the first day here", "mm", 2),
        Output("depth", "Depth to cure", "mm"),
        Output("slower", "Time against 23 °C and 50 %", "", 2),
    ),
    source=(_LAW, _RATE, _SHEET, _SLOW_COLD, _FULL, _HABIT),
    valid="Steady air, an adhesive that cures by moisture from its open edges only, faces that let none through. In the cold the "
    "reaction slows down as well, which is not counted: a cold joint takes longer. Time goes with the depth squared.",
    examples=(
        Example({"depth": "12.5 mm", "air": "23 °C", "humidity": "50 %"}, {"rate_here": 3.0, "days": 17.36, "verdict": "ok"},
            _MOVING, rel=0.001),
        Example({"width": "25 mm", "open_edges": "2", "air": "10 °C", "humidity": "40 %"}, {"depth": 12.5, "rate_here": 1.774,
            "days": 49.65, "verdict": "slow"}, _MOVING, rel=0.003),
        Example({"width": "1 in", "open_edges": "1", "air": "39 °F", "humidity": "50 %"}, {"depth": 25.4, "verdict": "no go"},
            _HABIT),
    ),
    asked=("width", "open_edges", "air", "humidity"), readings={"air": ("air",), "humidity": ("humidity",)},
    compute=_compute, thresholds=(_COLD, _LONG, _WET),
)  # fmt: skip
