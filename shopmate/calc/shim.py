"""How to pack the gap beside a part: the shim you need, the best piece or stack in stock, and the gap that is left."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations_with_replacement

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Measures, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_SETS = {"metric": "0.5 mm, 1 mm, 1.5 mm, 2 mm, 3 mm, 5 mm", "inch": "1/64 in, 1/32 in, 1/16 in, 1/8 in, 3/16 in, 1/4 in"}
"""Thicknesses flat packers and shim strip are usually sold in [common practice: measure your own]."""

_STOCK = Measures(Measure("mm", low=0.01, high=100), named=_SETS)
"""The thicknesses in stock: a named set, or a list of your own."""

_NEVER_OVER, _NEAREST = "never above", "nearest"
_FITS = {_NEVER_OVER: "no thicker than the gap allows", _NEAREST: "nearest"}
"""Whether the chosen shim may be thicker than the gap it goes in."""

_HABIT = Source("Thicknesses of packers and shim strip; play of a drawer-type slide 12.7 mm per side, +0.8/−0", "common practice")

_PLAY = Threshold(
    0.8, "mm", _HABIT, "is left, more than", "left", "15.8 mm", "15.801 mm", "gap", {"part": "10 mm", "stock": "5 mm"}
)
"""Play that a 12.7 mm drawer-type slide usually tolerates per side."""

_MANY = Threshold(
    3, "", _HABIT, "can creep and slip", "", "2.99 mm", "3 mm", "gap", {"part": "0 mm", "stock": "1 mm", "pieces": "4"}
)
"""Number of pieces from which a loose stack gets a caution."""

_RULE = 64
"""Finest divisions of an inch on a rule [common practice]. No Threshold needed: it decides how a piece is named."""


@dataclass(frozen=True, slots=True)
class _Stack:
    """Pieces stacked flat on each other, thickest first; no pieces at all is an empty stack."""

    pieces: tuple[Quantity, ...]

    @property
    def thickness(self) -> Fraction:
        """Total thickness in mm, exactly as the pieces are marked."""
        return sum((_mm(piece) for piece in self.pieces), Fraction(0))

    @property
    def name(self) -> str:
        """The pieces as they are marked: '2 × 1 mm + 0.5 mm'."""
        counted = Counter(_marked(piece) for piece in self.pieces)
        return " + ".join(piece if count == 1 else f"{count} × {piece}" for piece, count in counted.items()) or "none"


def _mm(quantity: Quantity) -> Fraction:
    return Fraction(quantity.to("mm").value)


def _marked(piece: Quantity) -> str:
    """Return a thickness as it is marked on the piece: inches as a fraction where a rule has it, '1 1/8 in'."""
    on_a_rule = piece.unit == "in" and (Fraction(piece.value) * _RULE).denominator == 1
    return str(units.display(piece, "inch")) if on_a_rule else units.show(piece)


def _stacks(stock: Sequence[Quantity], most: int) -> list[_Stack]:
    """Return every stack of one to `most` pieces, each thickness as often as you like."""
    thick_first = sorted(stock, key=_mm, reverse=True)
    return [_Stack(pieces) for count in range(1, most + 1) for pieces in combinations_with_replacement(thick_first, count)]


def _fullest(stacks: Sequence[_Stack], wanted: Fraction) -> _Stack:
    """Return the thickest stack not above `wanted` mm, with the fewest pieces for it; an empty one if none goes in."""
    fit = [stack for stack in stacks if stack.thickness <= wanted]
    return max(fit, key=lambda stack: (stack.thickness, -len(stack.pieces)), default=_Stack(()))


def _thinnest_over(stacks: Sequence[_Stack], wanted: Fraction) -> _Stack:
    """Return the thinnest stack above `wanted` mm, with the fewest pieces for it; an empty one if there is none."""
    over = [stack for stack in stacks if stack.thickness > wanted]
    return min(over, key=lambda stack: (stack.thickness, len(stack.pieces)), default=_Stack(()))


def _compute(*, gap: Quantity, part: Quantity, stock: str, pieces: int, fit: str) -> Answer:
    wanted = _mm(gap) - _mm(part)
    if wanted < 0:
        raise InputError(
            FieldProblem(
                "part",
                f"{units.show(part)} is {sig(float(-wanted), 3)} mm thicker than the {units.show(gap)} gap",
                "measure both again; if they are right, open the gap or make the part thinner",
            )
        )
    stacks = _stacks(_STOCK.quantities(stock), pieces)
    under, over = _fullest(stacks, wanted), _thinnest_over(stacks, wanted)
    single = _fullest([stack for stack in stacks if len(stack.pieces) == 1], wanted)
    takes_over = fit == _NEAREST and bool(over.pieces) and over.thickness - wanted < wanted - under.thickness
    pick = over if takes_over else under
    left = wanted - pick.thickness
    working = [
        f"shim needed = gap − part = {sig(float(_mm(gap)), 5)} − {sig(float(_mm(part)), 5)} = {float(wanted):.3f} mm",
        f"use ({_FITS[fit]}, {'1 piece' if pieces == 1 else f'up to {pieces} pieces'}): "
        f"'{pick.name}' = {float(pick.thickness):.3f} mm",
        f"left = shim needed − shim used = {float(wanted):.3f} − {float(pick.thickness):.3f} = {float(left):.3f} mm",
    ]
    if single != pick and single.pieces:
        working.append(f"single piece: '{single.name}', {float(wanted - single.thickness):.3f} mm left")
    if over.pieces and over != pick:
        working.append(f"next size up: '{over.name}', {float(over.thickness - wanted):.3f} mm too thick")
    if takes_over:
        working.append(f"next size down: '{under.name}', {float(wanted - under.thickness):.3f} mm left")
    return Answer(
        {
            "shim": float(wanted),
            "pick": pick.name,
            "left": float(left),
            "pieces": len(pick.pieces),
            "single": single.name,
            "single_left": float(wanted - single.thickness),
            "above": over.name,
            "above_by": float(over.thickness - wanted) if over.pieces else None,
            "picked": float(pick.thickness),
        },
        tuple(working),
        _cautions(wanted, pick, single, left),
    )


def _cautions(wanted: Fraction, pick: _Stack, single: _Stack, left: Fraction) -> tuple[str, ...]:
    said = []
    if left < 0:
        said.append(
            f"The chosen shim is {float(-left):.2f} mm thicker than the gap allows: it will bow the wall or bind a slide. "
            "Use it only where the wall can give."
        )
    if not pick.pieces and wanted > 0:
        said.append(f"Nothing in stock is thin enough for the {float(left):.2f} mm gap. Use thinner stock or filler.")
    elif left > _PLAY.value:
        said.append(
            f"{float(left):.2f} mm is left, more than the {_PLAY.value:g} mm of play a drawer-type slide usually tolerates "
            f"(common practice; the slide's data sheet overrides it): add a piece of {math.floor(left * 100) / 100:.2f} mm or a "
            "little less."
        )
    if len(pick.pieces) >= _MANY.value:
        instead = f", or use a single piece and leave {float(wanted - single.thickness):.2f} mm" if single.pieces else ""
        said.append(
            f"A stack of {len(pick.pieces)} pieces can creep and slip: bond the pieces or screw through them{instead} "
            "(common practice)."
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="shim", title="Shims to fill a gap, mm or inch stock",
    inputs=(
        Field("gap", "Gap", Measure("mm", low=0.1, high=500, soft_high=100),
            "Measure in several places and enter the smallest, so that the shim goes in everywhere.", required=True),
        Field("part", "Part thickness", Measure("mm", low=0, high=500, soft_low=1),
            "Thickness of what goes in the gap, such as a 12.7 mm slide.", required=True),
        Field("stock", "Thicknesses in stock", _STOCK,
            f"metric: {_SETS['metric']}. inch: {_SETS['inch']}. Or type your own list.",
            default="metric"),
        Field("pieces", "Maximum pieces in a stack", Count(1, 4), "Enter 1 to use single pieces only.", default="2"),
        Field("fit", "Fit", Choice((_NEVER_OVER, _NEAREST)),
            "The nearest shim may be thicker than the gap allows; if it is, it binds.",
            default=_NEVER_OVER),
    ),
    outputs=(
        Output("shim", "Shim needed", "mm", 2),
        Output("pick", "Shims to use"),
        Output("left", "Gap left", "mm", 2),
        Output("pieces", "Pieces in the stack", "", 0),
        Output("single", "Best single piece"),
        Output("single_left", "Gap left with a single piece", "mm", 2),
        Output("above", "Next size up"),
        Output("above_by", "Next size up, too thick by", "mm", 2),
        Output("picked", "Thickness of the stack", "mm", 3),
    ),
    source=(
        Source("Elementary geometry: shim = gap − part; the stack to use is the one that fills it best", "computed"),
        _HABIT,
    ),
    valid="Flat pieces between parallel faces, up to four in a stack, from no more than twenty thicknesses, each as often as "
    "you like. Taller stacks slip. Pieces vary: measure the stack before you fit it. A gap smaller than the part is refused.",
    examples=(
        Example({"gap": "16 mm", "part": "12.7 mm", "stock": "0.5, 1, 1.5, 2, 3 mm"}, {"shim": 3.3, "pick": "3 mm", "left": 0.3,
            "single": "3 mm", "above": "3 mm + 0.5 mm", "above_by": 0.2},
            Source("Elementary geometry: 16 − 12.7 = 3.3 mm, nearest 3.0, 0.3 mm left", "computed"), rel=1e-9),
        Example({"gap": "5/8 in", "part": "1/2 in", "stock": "inch", "pieces": "1"}, {"shim": 25.4 / 8, "pick": "1/8 in",
            "left": 0.0, "pieces": 1, "above": "3/16 in", "above_by": 25.4 / 16},
            Source("Arithmetic of fractions: 5/8 − 1/2 = 1/8; 3/16 − 1/8 = 1/16", "computed"), rel=1e-9),
        Example({"gap": "7 mm", "part": "3.4 mm", "stock": "0.5, 1, 1.5, 2, 3 mm", "fit": "nearest", "pieces": "3"}, {"shim": 3.6,
            "pick": "3 mm + 0.5 mm", "left": 0.1, "single": "3 mm", "single_left": 0.6, "above": "3 mm + 1 mm"},
            Source("All stacks of up to three listed by hand: 3.5 is the next size down, 4.0 the next up", "computed"), rel=1e-9),
    ),
    asked=("gap", "part", "stock"),
    compute=_compute, thresholds=(_PLAY, _MANY),
)  # fmt: skip
