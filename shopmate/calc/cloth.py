"""Strips of cloth from a roll across a face: how many, how long together, where the seams fall, and the other way round."""

from __future__ import annotations

import math

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Stock, Threshold
from shopmate.models.fields import refuse
from shopmate.models.strips import SEAM, overlap_problems
from shopmate.models.strips import strips as strips_of
from shopmate.units import Quantity

_HABIT = Source(
    "Overlap 50 mm or more; a last strip under 100 mm beyond its seam is a sliver; 25 to 50 mm beyond the edge", "common practice"
)

_SEAM = Threshold(SEAM, "mm", _HABIT, "overlap seams by", "overlap", "50 mm", "49.9 mm")
"""Least overlap at a seam."""

_SLIVER = Threshold(100.0, "mm", _HABIT, "a sliver that frays", "last_cover", "2050 mm", "2049.9 mm", "width")
"""A last strip that covers less than this beyond its seam frays and slides when wetted out."""

_ROUNDING = 1e-6
"""Lengths in mm or m that differ by less are the same. No threshold: it is the arithmetic of another unit."""

_GEOMETRY = Source("n strips with n − 1 overlaps cover n·w − (n − 1)·o, so n = ⌈(W − o)/(w − o)⌉: geometry", "computed")


def _count_line(across: float, roll: float, overlap: float, strips: int) -> str:
    if strips == 1:
        return f"strips = 1: {across:.1f} mm is no wider than the roll's {roll:.1f} mm, no seam"
    exact = (across - overlap) / (roll - overlap)
    return (
        f"strips = (W − o)/(w − o) = ({across:.1f} − {overlap:.1f})/({roll:.1f} − {overlap:.1f}) = {exact:.3f}, so {strips}; "
        f"{strips} cover {_covered(strips, roll, overlap):.1f} mm"
    )


def _covered(strips: int, roll: float, overlap: float) -> float:
    """Return what strips `roll` wide cover, in mm."""
    return strips * roll - (strips - 1) * overlap


def _fewer(across: float, roll: float, lap: float, strips: int) -> int | None:
    """Return the overlap in mm, whole, with which one strip fewer reaches across; None where it is no full seam or none less."""
    if strips <= 2:
        return None
    enough = math.floor(((strips - 1) * roll - across) / (strips - 2) + _ROUNDING)
    return enough if _SEAM.value <= enough < lap else None


def _stack(across: float, roll: float, lap: float, plies: int) -> list[int]:
    """Return the strips of each ply, from the first: each begins with a strip narrower by an equal share, to stagger seams."""
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
        f"cloth off the roll = {every} × {along / 1000:.3f} m = {total:.3f} m",
        f"last strip: {last:.1f} mm of it needed, {roll - last:.1f} mm over; all strips cut alike: {even:.1f} mm",
        f"strips the other way, along the width: {_count_line(along, roll, lap, turned)}; "
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
    """Return how the strips of several plies add up."""
    if len(stack) == 1:
        return []
    added = f"strips of all plies = {' + '.join(map(str, stack))} = {sum(stack)}"
    if stagger is None:
        return [added]
    apart = f"seams {stagger:.1f} mm apart from ply to ply = (w − o)/plies"
    return [f"{apart}: cut the first strip of each ply that much narrower than that of the ply under it", added]


def _seam_cautions(lap: float, fewer: int | None, strips: int, turned: int) -> list[str]:
    if strips == 1 and turned == 1:
        return []
    said = []
    if lap < _SEAM.value - _ROUNDING:
        butt = "strips laid edge to edge carry nothing across the seam" if lap == 0 else f"an overlap of {lap:.4g} mm is scant"
        said.append(f"{butt}: overlap seams by {_SEAM.value:g} mm or more (common practice), and count the strips again")
    if fewer is not None:
        said.append(
            f"{strips - 1} strips reach across with an overlap of {fewer} mm, still {_SEAM.value:g} mm or more: one strip saved"
        )
    return said


def _sliver_cautions(cover: float, even: float, strips: int, plies: int) -> list[str]:
    if strips == 1 or cover >= _SLIVER.value - _ROUNDING:
        return []
    found = f"the last strip covers only {cover:.0f} mm beyond its seam, a sliver that frays and slides (common practice)"
    if plies > 1:
        return [f"{found}: make the first strip of every ply {_SLIVER.value:g} mm narrower, which shifts all seams alike"]
    return [
        f"{found}: cut all {strips} strips {math.ceil(even - _ROUNDING)} mm wide, which spaces the seams evenly and takes the "
        "same cloth"
    ]


def _turn_cautions(total: float, turned_total: float, strips: int, turned: int) -> list[str]:
    if turned_total >= total - _ROUNDING:
        return []
    seams = f"{turned - 1} {'seam' if turned == 2 else 'seams'} in place of {strips - 1}"
    return [
        f"strips laid the other way, along the width, take {turned_total:.2f} m in place of {total:.2f} m, with {seams}: turn "
        "them only if the design does not ask for the threads or the seams to run one way"
    ]


def _edge_cautions(wrap: Quantity, side_wrap: Quantity) -> list[str]:
    ends, sides = wrap.value_in("mm") > 0, side_wrap.value_in("mm") > 0
    if not ends and not sides:
        return [
            "nothing counted beyond the face: cloth cut to the very edge frays and falls short; count 25 to 50 mm of wrap and of "
            "side wrap, to turn over the edge or to trim off (common practice)"
        ]
    if ends != sides:
        counted, missing, field = ("ends", "sides", "side wrap") if ends else ("sides", "ends", "wrap")
        return [
            f"wrap is counted at the two {counted} only, at the {missing} the cloth stops flush: give {field} if it turns there"
        ]
    return []


_FACE = Measure("mm", above=0, high=50_000, soft_low=50, soft_high=10_000)
_TURN = Measure("mm", low=0, high=1_000, soft_high=200)

CALCULATOR = Calculator(
    name="cloth", title="Cloth: strips across a face",
    inputs=(
        Field("width", "Width of the face", _FACE, "Across the strips.", required=True),
        Field("length", "Length of the face", _FACE, "The way the strips run.", required=True),
        Field("roll_width", "Width of the roll", Measure("mm", above=0, high=5_000, soft_low=100, soft_high=2_000),
            required=True),
        Field("overlap", "Overlap at a seam", Measure("mm", low=0, high=1_000, soft_high=150),
            f"{_SEAM.value:g} mm or more (common practice).", default=f"{_SEAM.value:g} mm"),
        Field("wrap", "Wrap at each end", _TURN,
            "Beyond the length at both ends: to turn over the edge or to trim off. Adds to the length of each strip.",
            default="0 mm"),
        Field("side_wrap", "Wrap at each side", _TURN, "Beyond the width at both sides. Adds to the width to be covered.",
            default="0 mm"),
        Field("plies", "Plies", Count(1, 50), "Of one cloth or several off rolls of this width; their seams are staggered.",
            default="1"),
    ),
    outputs=(
        Output("strips", "Strips", "", 0),
        Output("cloth_length", "Off the roll, all plies", "m", 2),
        Output("seams", "Seams", "", 0),
        Output("strip_length", "Cut each strip", "mm", 0),
        Output("last_width", "Width of the last strip", "mm", 0),
        Output("even_width", "Width if all cut alike", "mm", 0),
        Output("strips_turned", "Strips, other way", "", 0),
        Output("cloth_length_turned", "All plies, other way", "m", 2),
        Output("seams_turned", "Seams, other way", "", 0),
        Output("last_cover", "Last strip, beyond its seam", "mm", 0),
        Output("last_spare", "Last strip, over", "mm", 0),
        Output("covered", "Strips cover", "mm", 0),
        Output("covered_turned", "Strips cover, other way", "mm", 0),
        Output("overlap_fewer", "Overlap with one strip fewer", "mm", 0),
        Output("strips_all", "Strips, all plies", "", 0),
        Output("stagger", "Seams apart, ply to ply", "mm", 0),
    ),
    source=(_GEOMETRY, _HABIT), valid="Plies on one flat rectangular face, strips straight off the roll at its full width. "
    "Wrap adds to both ends of each strip, side wrap to both sides of the face; a rounded edge takes more, see edge.",
    examples=(
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm"}, {"strips": 3, "seams": 2,
            "cloth_length": 7.2, "last_width": 60},
            Source("Geometry: two strips cover 2 × 1000 − 50 = 1950 mm, 10 mm short; three of 2.4 m are 7.2 m", "computed")),
        Example({"width": "1950 mm", "length": "2400 mm", "roll_width": "1 m", "overlap": "50 mm", "wrap": "30 mm"}, {"strips": 2,
            "seams": 1, "cloth_length": 4.92, "strip_length": 2460, "strips_turned": 3, "cloth_length_turned": 5.85},
            Source("Geometry: 2 × 1000 − 50 = 1950 mm to the millimetre; 2 × (2400 + 60); 3 × 1000 − 100 ≥ 2460", "computed")),
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "1 in"}, {"strips": 2,
            "cloth_length": 4.8, "covered": 1974.6, "last_cover": 960},
            Source("Geometry: two rolls less one overlap reach across, two strips of 2.4 m are 4.8 m", "computed")),
        Example({"width": "3 ft", "length": "8 ft", "roll_width": "38 in", "overlap": "2 in", "side_wrap": "1 in"}, {"strips": 1,
            "seams": 0, "cloth_length": 2.4384, "strips_turned": 3, "cloth_length_turned": 2.8956},
            Source("Geometry: 36 + 2 = 38 in is one strip of 96 in; the other way 3 × 38 − 4 = 110 in ≥ 96 in", "computed")),
        Example({"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm", "plies": "2"},
            {"strips": 3, "strips_all": 6, "stagger": 475, "cloth_length": 14.4},
            Source("Geometry: the second ply begins with 525 mm, then 525 + 950 + 950 mm ≥ 1960 mm: three strips again",
            "computed")),
    ),
    asked=("length", "width", "plies"), stock=Stock("cloth", {"roll_width": "roll_width"}),
    compute=_compute, thresholds=(_SEAM, _SLIVER),
)  # fmt: skip
