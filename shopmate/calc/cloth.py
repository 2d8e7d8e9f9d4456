"""Strips of cloth to cover a face from a roll: how many, total length, where the seams fall, and the same laid the other way."""

from __future__ import annotations

import math

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Stock, Threshold
from shopmate.models.fields import refuse
from shopmate.models.strips import SEAM, overlap_problems
from shopmate.models.strips import strips as strips_of
from shopmate.units import Quantity

_HABIT = Source(
    "Overlap seams 50 mm or more; a last strip under 100 mm past its seam is a sliver; let cloth run 25 to 50 mm past the edge",
    "common practice",
)

_SEAM = Threshold(SEAM, "mm", _HABIT, "overlap seams by", "overlap", "50 mm", "49.9 mm")
"""Minimum overlap at a seam."""

_SLIVER = Threshold(100.0, "mm", _HABIT, "a sliver that frays", "last_cover", "2050 mm", "2049.9 mm", "width")
"""A last strip that covers less than this past its seam frays and slides as it is wetted out."""

_ROUNDING = 1e-6
"""Lengths in mm or m that differ by less count as equal. No Threshold needed: it covers rounding noise when units are
converted."""

_GEOMETRY = Source("n strips with n − 1 overlaps cover n·w − (n − 1)·o, so n = ⌈(W − o)/(w − o)⌉: geometry", "computed")


def _count_line(across: float, roll: float, overlap: float, strips: int) -> str:
    if strips == 1:
        return f"strips = 1: {across:.1f} mm is no wider than the {roll:.1f} mm roll, so no seam"
    exact = (across - overlap) / (roll - overlap)
    return (
        f"strips = (W − o)/(w − o) = ({across:.1f} − {overlap:.1f})/({roll:.1f} − {overlap:.1f}) = {exact:.3f}, so {strips}; "
        f"{strips} cover {_covered(strips, roll, overlap):.1f} mm"
    )


def _covered(strips: int, roll: float, overlap: float) -> float:
    """Return the width in mm covered by strips that are `roll` mm wide."""
    return strips * roll - (strips - 1) * overlap


def _fewer(across: float, roll: float, lap: float, strips: int) -> int | None:
    """Return the overlap in whole mm with which one strip fewer still covers the face; None if that would be too little."""
    if strips <= 2:
        return None
    enough = math.floor(((strips - 1) * roll - across) / (strips - 2) + _ROUNDING)
    return enough if _SEAM.value <= enough < lap else None


def _stack(across: float, roll: float, lap: float, plies: int) -> list[int]:
    """Return the number of strips of each ply; to stagger the seams, each ply starts with a narrower strip than the last."""
    found = [strips_of(across, roll, lap)]
    for ply in range(1, plies):
        first = roll - ply * (roll - lap) / plies
        found.append(1 + strips_of(across - first + lap, roll, lap) if found[0] > 1 and across > first else 1)
    return found


def _compute(
    *,
    width: Quantity,
    length: Quantity,
    roll_width: Quantity,
    overlap: Quantity,
    wrap: Quantity,
    side_wrap: Quantity,
    plies: int,
) -> Answer:
    roll, lap = roll_width.value_in("mm"), overlap.value_in("mm")
    refuse(*overlap_problems(roll_width, overlap))
    across = width.value_in("mm") + 2 * side_wrap.value_in("mm")
    along = length.value_in("mm") + 2 * wrap.value_in("mm")
    stack, turned_stack = _stack(across, roll, lap, plies), _stack(along, roll, lap, plies)
    (strips, *_), (turned, *_) = stack, turned_stack
    every, turned_every = sum(stack), sum(turned_stack)
    total, turned_total = every * along / 1000, turned_every * across / 1000
    stagger = (roll - lap) / plies if plies > 1 and strips > 1 else None
    last = across - (strips - 1) * (roll - lap)
    even = (across + (strips - 1) * lap) / strips
    fewer = _fewer(across, roll, lap, strips)
    working = (
        f"across the strips: W = width + 2 × side wrap = {width.value_in('mm'):.1f} + 2 × {side_wrap.value_in('mm'):.1f} "
        f"= {across:.1f} mm",
        f"each strip = length + 2 × wrap = {length.value_in('mm'):.1f} + 2 × {wrap.value_in('mm'):.1f} = {along:.1f} mm",
        _count_line(across, roll, lap, strips),
        *_stack_lines(stack, stagger),
        f"cloth from the roll = {every} × {along / 1000:.3f} m = {total:.3f} m",
        f"last strip: {last:.1f} mm needed, {roll - last:.1f} mm left over; for strips of equal width: {even:.1f} mm",
        f"strips laid the other way, across the length: {_count_line(along, roll, lap, turned)}; "
        f"cloth = {turned_every} × {across / 1000:.3f} m = {turned_total:.3f} m, {turned - 1} seams",
    )
    return Answer(
        values={
            "strips": strips,
            "cloth_length": total,
            "seams": strips - 1,
            "strip_length": along,
            "last_width": last,
            "even_width": even,
            "strips_turned": turned,
            "cloth_length_turned": turned_total,
            "seams_turned": turned - 1,
            "last_cover": last - lap if strips > 1 else None,
            "last_spare": roll - last,
            "covered": _covered(strips, roll, lap),
            "covered_turned": _covered(turned, roll, lap),
            "overlap_fewer": fewer,
            "strips_all": every,
            "stagger": stagger,
        },
        working=working,
        cautions=(
            *_seam_cautions(lap, fewer, strips, turned),
            *_sliver_cautions(last - lap, even, strips, plies),
            *_turn_cautions(total, turned_total, strips, turned),
            *_edge_cautions(wrap, side_wrap),
        ),
    )


def _stack_lines(stack: list[int], stagger: float | None) -> list[str]:
    """Return the working lines for the strips of several plies."""
    if len(stack) == 1:
        return []
    added = f"strips of all plies = {' + '.join(map(str, stack))} = {sum(stack)}"
    if stagger is None:
        return [added]
    apart = f"seams {stagger:.1f} mm apart from ply to ply = (w − o)/plies"
    return [f"{apart}: cut the first strip of each ply that much narrower than the first strip of the ply below", added]


def _seam_cautions(lap: float, fewer: int | None, strips: int, turned: int) -> list[str]:
    if strips == 1 and turned == 1:
        return []
    said = []
    if lap < _SEAM.value - _ROUNDING:
        butt = "Strips butted edge to edge carry no load across the seam" if lap == 0 else f"{lap:.4g} mm is too little overlap"
        said.append(f"{butt}: overlap seams by {_SEAM.value:g} mm or more (common practice) and work out the strips again.")
    if fewer is not None:
        said.append(
            f"You can save a strip: {strips - 1} strips with {fewer} mm overlap cover the face, and {_SEAM.value:g} mm is enough."
        )
    return said


def _sliver_cautions(cover: float, even: float, strips: int, plies: int) -> list[str]:
    if strips == 1 or cover >= _SLIVER.value - _ROUNDING:
        return []
    found = f"The last strip covers only {cover:.0f} mm past its seam, a sliver that frays and slides (common practice)"
    if plies > 1:
        return [
            f"{found}. Cut the first strip of every ply {_SLIVER.value:g} mm narrower: every seam moves over by the same amount."
        ]
    return [
        f"{found}. Cut all {strips} strips {math.ceil(even - _ROUNDING)} mm wide: the seams are then equally spaced, and you use "
        "no more cloth."
    ]


def _turn_cautions(total: float, turned_total: float, strips: int, turned: int) -> list[str]:
    if turned_total >= total - _ROUNDING:
        return []
    seams = f"{turned - 1} {'seam' if turned == 2 else 'seams'} instead of {strips - 1}"
    return [
        f"Laid the other way, the strips use {turned_total:.2f} m of cloth instead of {total:.2f} m, with {seams}. Don't "
        "turn them if the design calls for fibres or seams to run one way."
    ]


def _edge_cautions(wrap: Quantity, side_wrap: Quantity) -> list[str]:
    ends, sides = wrap.value_in("mm") > 0, side_wrap.value_in("mm") > 0
    if not ends and not sides:
        return [
            "No cloth is counted past the face, and cloth cut flush with the edge frays and comes up short. Enter 25 to "
            "50 mm of wrap at ends and sides, to fold over the edge or trim off (common practice)."
        ]
    if ends != sides:
        counted, missing, field = ("ends", "sides", "wrap at each side") if ends else ("sides", "ends", "wrap at each end")
        return [
            f"Wrap is counted at the two {counted} only; at the {missing} the cloth stops flush. Enter the {field} if the cloth "
            "folds over there."
        ]
    return []


_FACE = Measure("mm", above=0, high=50_000, soft_low=50, soft_high=10_000)
_TURN = Measure("mm", low=0, high=1_000, soft_high=200)

CALCULATOR = Calculator(
    name="cloth", title="Cloth for a face: strips, seams and metres of roll",
    inputs=(
        Field("width", "Face width", _FACE, "Measured across the strips.", required=True),
        Field("length", "Face length", _FACE, "Measured the way the strips run.", required=True),
        Field("roll_width", "Roll width", Measure("mm", above=0, high=5_000, soft_low=100, soft_high=2_000),
            required=True),
        Field("overlap", "Overlap at a seam", Measure("mm", low=0, high=1_000, soft_high=150),
            f"{_SEAM.value:g} mm or more (common practice).", default=f"{_SEAM.value:g} mm"),
        Field("wrap", "Wrap at each end", _TURN,
            "Extra cloth past both ends, to fold over the edge or trim off. It makes each strip longer.",
            default="0 mm"),
        Field("side_wrap", "Wrap at each side", _TURN, "Extra cloth past both sides. It adds to the width to cover.",
            default="0 mm"),
        Field("plies", "Plies", Count(1, 50), "Number of plies from rolls of this width. Their seams are staggered.",
            default="1"),
    ),
    outputs=(
        Output("strips", "Strips", "", 0),
        Output("cloth_length", "Cloth from the roll, all plies", "m", 2),
        Output("seams", "Seams", "", 0),
        Output("strip_length", "Length of each strip", "mm", 0),
        Output("last_width", "Width of the last strip", "mm", 0),
        Output("even_width", "Strip width if all are the same", "mm", 0),
        Output("strips_turned", "Strips if laid the other way", "", 0),
        Output("cloth_length_turned", "Cloth from the roll, laid the other way", "m", 2),
        Output("seams_turned", "Seams if laid the other way", "", 0),
        Output("last_cover", "Width covered by the last strip, past its seam", "mm", 0),
        Output("last_spare", "Left over from the last strip", "mm", 0),
        Output("covered", "Width the strips cover", "mm", 0),
        Output("covered_turned", "Length covered, laid the other way", "mm", 0),
        Output("overlap_fewer", "Overlap that saves one strip", "mm", 0),
        Output("strips_all", "Strips, all plies", "", 0),
        Output("stagger", "Seam offset from ply to ply", "mm", 0),
    ),
    source=(_GEOMETRY, _HABIT), valid="Plies on one flat rectangular face, strips straight from the roll at its full width. "
    "Wrap adds to both ends of each strip, side wrap to both sides of the face. A rounded edge needs more: see the "
    "edge calculator.",
    examples=(
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm"}, {"strips": 3, "seams": 2,
            "cloth_length": 7.2, "last_width": 60},
            Source("Geometry: two strips cover 2 × 1000 − 50 = 1950 mm, 10 mm short; three of 2.4 m are 7.2 m", "computed")),
        Example({"width": "1950 mm", "length": "2400 mm", "roll_width": "1 m", "overlap": "50 mm", "wrap": "30 mm"}, {"strips": 2,
            "seams": 1, "cloth_length": 4.92, "strip_length": 2460, "strips_turned": 3, "cloth_length_turned": 5.85},
            Source("Geometry: 2 × 1000 − 50 = 1950 mm to the millimetre; 2 × (2400 + 60); 3 × 1000 − 100 ≥ 2460", "computed")),
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "1 in"}, {"strips": 2,
            "cloth_length": 4.8, "covered": 1974.6, "last_cover": 960},
            Source("Geometry: two roll widths less one overlap are enough; two strips of 2.4 m are 4.8 m", "computed")),
        Example({"width": "3 ft", "length": "8 ft", "roll_width": "38 in", "overlap": "2 in", "side_wrap": "1 in"}, {"strips": 1,
            "seams": 0, "cloth_length": 2.4384, "strips_turned": 3, "cloth_length_turned": 2.8956},
            Source("Geometry: 36 + 2 = 38 in: one strip, 96 in long; the other way 3 × 38 − 4 = 110 in ≥ 96 in", "computed")),
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm", "plies": "2"},
            {"strips": 3, "strips_all": 6, "stagger": 475, "cloth_length": 14.4},
            Source("Geometry: the second ply begins with 525 mm, then 525 + 950 + 950 mm ≥ 1960 mm: three strips again",
            "computed")),
    ),
    asked=("length", "width", "plies"), stock=Stock("cloth", {"roll_width": "roll_width"}),
    compute=_compute, thresholds=(_SEAM, _SLIVER),
)  # fmt: skip
