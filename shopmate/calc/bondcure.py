"""Days for a moisture-curing adhesive to cure between two faces, from the depth, its cure rate and the shop air."""

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
    "Diffusion with a moving front: depth = k √t, k = √(2 D c/N), with c in proportion to the vapour pressure of the air, so "
    "k in proportion to its square root; derived, no measurement found",
    "computed",
)
_RATE = Source("3 mm per √day at 23 °C and 50 % for a one-part adhesive; the data sheet overrides it", "common practice")
_SHEET = Source("data sheet of a one-part PU: more than 3 mm in the first 24 h at 20 °C and 50 %", "read")
_SLOW_COLD = Source("trade page on sealants: they cure much more slowly below 15 °C, one-part products most of all", "read")
_FULL = Source(
    "a maker's page: one-part sealants fully cure in 7 to more than 21 days; a trade page gives 21 days for test joints", "read"
)
_HABIT = Source(
    "Lowest label temperature 5 °C; bare wood at 8 % moisture or more feeds the cure; mist the wood, never the glue",
    "common practice",
)

_STANDARD = (23.0, 50.0)
"""Air in °C and humidity in % at which data sheets give the rate [read: a data sheet's page; the trade's standard climate]."""

_QUARTER = 16.0
"""A quarter of the depth needs a sixteenth of the time, because depth grows with the square root of time [computed]."""

_COLD = Threshold(15.0, "°C", _SLOW_COLD, "Below 15 °C", "air", "15 °C", "14.9 °C")
"""Air temperature below which the reaction slows too, which the formula leaves out."""

_LONG = Threshold(21.0, "d", _FULL, "no wider than", "days", "13.74 mm", "13.75 mm", "depth")
"""Days of curing above which strip bonds or another adhesive do the job better."""

_WET = Threshold(WET, "%", RULE, "Damp air", "humidity", "84.9 %", "85 %")
"""Relative humidity above which no face is dry enough to bond."""

_SEALED, _WOOD = "sealed", "one wood"
"""Whether the two faces let moisture through."""

_LEAST, _MOST = 0.5, 100.0
"""Range of depths in mm (our choice). No Threshold needed: others are refused."""

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
        f"rate here = rate × √(vapour pressure / the data sheet's) = {first_day:g} × √({pressure:.1f} / {standard:.1f}) = "
        f"{here:.3f} mm per √day",
        f"days = (depth / rate here)² = ({path:g} / {here:.3f})² = {sig(days)} d",
        f"handle = days / {_QUARTER:.0f} = {sig(days / _QUARTER)} d, when a quarter of the depth is cured",
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
    """Return the depth in mm from the open edge to the farthest point, and its working from the width."""
    if depth is not None:
        refuse(*given({"width": width, "open_edges": open_edges}, "entered together with depth", "leave one of the two blank"))
        return depth.value_in("mm"), ()
    if width is None:
        refuse(FieldProblem("depth", "nothing entered", "enter the depth, or the width and the open edges"))
    refuse(*missing({"open_edges": open_edges}, "nothing entered", "enter 2 if both edges are open to the air, 1 if only one is"))
    assert width is not None
    assert open_edges is not None
    across = width.value_in("mm")
    path = across / open_edges
    if not _LEAST <= path <= _MOST:
        what = f"the depth to cure would be {path:g} mm, outside the range of {_LEAST:g} to {_MOST:g} mm"
        refuse(FieldProblem("width", what, "enter the width of one strip of adhesive"))
    edge = "both edges open, to the middle" if open_edges == 2 else "one edge open, to the far side"
    return path, (f"depth = width / open edges = {across:g} / {open_edges} = {path:g} mm: {edge}",)


def _cold(air: Quantity, lowest: Quantity, is_cold: bool) -> tuple[str, ...]:
    """Return the cautions on cold, the label's own limit first."""
    if is_cold:
        limit = f"{sig(lowest.value_in(air.unit), 3)} {air.unit}"
        return (
            f"No go: {units.show(air)} is below {limit}, the lowest temperature on the label. Warm parts, adhesive and shop "
            "to that or more, and keep them there until it is cured. The days shown don't allow for this cold.",
        )
    if air.value_in("°C") < _COLD.value:
        return (
            f"Below {_COLD.value:g} °C the cure itself slows down too: expect it to take longer, or warm both parts to 15 °C "
            "or more.",
        )
    return ()


def _slow(days: float, strip: float, faces: str) -> tuple[str, ...]:
    """Return how to shorten a cure of more than three weeks."""
    if days <= _LONG.value:
        return ()
    mist = "mist the bare wood lightly before you lay the adhesive (never the adhesive), " if faces == _WOOD else ""
    return (
        f"Slow: {mist}lay strips no wider than {strip:g} mm with open gaps between them, keep the shop warm "
        "and its air moist, or use a two-part adhesive.",
    )


def _always(relative: float, faces: str) -> tuple[str, ...]:
    """Return the cautions for every joint of this kind."""
    said = []
    if relative >= _WET.value:
        said.append(
            f"Damp air, {_WET.value:g} % or more: check the faces with the dewpoint calculator before you bond. Adhesive "
            "doesn't stick to a wet face."
        )
    if faces == _WOOD:
        said.append(
            "This counts moisture from the edges only. Bare wood at 8 % moisture or more feeds the cure too, so the "
            "joint may cure sooner."
        )
    said.append("Once the joint can be handled, move it gently. Keep load, heat and sun off it until it is cured through.")
    said.append(
        "This is calculated, not measured: bond a scrap pair of the same width next to the work, and cut it open "
        "before you trust the joint."
    )
    return tuple(said)


_MOVING = Source(
    "parabolic law with the rate in proportion to the square root of the vapour pressure; ASHRAE saturation formula", "computed"
)

CALCULATOR = Calculator(
    name="bondcure", title="Days for a moisture-curing adhesive to cure",
    inputs=(
        Field("depth", "Depth to cure", _DEPTH, "From the open edge to the farthest point. Or enter width and open edges."),
        Field("width", "Width of the adhesive", Measure("mm", low=0.5, high=200, soft_low=2, soft_high=50),
            "Width of one strip, between faces that let no moisture through."),
        Field("open_edges", "Open edges", Count(1, 2), "2 if air reaches both long edges, 1 if one is closed off."),
        Field("air", "Air temperature", Measure("°C", low=0, high=45, soft_low=5, soft_high=35),
            "Average over the days of the cure, nights included.", required=True),
        Field("humidity", "Relative humidity", Measure("%", low=5, high=100, soft_low=15), "In %, averaged over the same days.",
            required=True),
        Field("rate", "Depth cured in the first day, data sheet", Measure("mm", low=1, high=6, soft_low=2, soft_high=4),
            "Cured depth from the data sheet, at 23 °C and 50 %.", default="3 mm"),
        Field("lowest", "Lowest temperature on the label", Measure("°C", low=-20, high=40, soft_high=20), default="5 °C"),
        Field("faces", "Faces", Choice((_SEALED, _WOOD)),
            "Sealed: metal, glass or sealed epoxy on both sides. One wood: bare wood on one side.", default=_SEALED),
    ),
    outputs=(
        Output("verdict", "Verdict"),
        Output("days", "Cured through after", "d", 1),
        Output("handle", "Can be handled after", "d", 2),
        Output("strip", f"Widest strip cured in {_LONG.value:.0f} days", "mm"),
        Output("rate_here", "Depth cured in the first day, in your air", "mm", 2),
        Output("depth", "Depth to cure", "mm"),
        Output("slower", "How many times as long as at 23 °C and 50 %", "", 2),
    ),
    source=(_LAW, _RATE, _SHEET, _SLOW_COLD, _FULL, _HABIT),
    valid="Steady air, an adhesive that cures with moisture from its open edges only, and faces that let none through. The "
    "reaction also slows in the cold, which is left out: a cold joint needs longer. Time grows with the square of the depth.",
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
