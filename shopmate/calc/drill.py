"""The drill for a hole: the nearest one, the next one up or the next one down, in the drills you have."""

from __future__ import annotations

from typing import cast

from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import INCH
from shopmate.tables.drills import SERIES, Direction, Drill, choose, drills, said
from shopmate.units import Quantity

_FAR = Threshold(
    0.25, "mm", Source("half a step of 1/64 in is 0.2 mm: a bigger difference means a gap in the series", "computed"),
    "mm off", "difference", "0.2501 mm", "0.2499 mm", "diameter", {"round": "up", "series": "metric"},
)  # fmt: skip
"""A drill further than this from the size wanted gets a caution."""

_DIRECTIONS = {
    "nearest": "nearest drill (the smaller if two are equally near)",
    "up": "smallest drill not below that size",
    "down": "largest drill not above that size",
}
"""The rounding rules, in words."""


class _Hole(Measure):
    """A diameter, or the name of a drill, which stands for its size."""

    def read(self, text: str) -> Quantity:
        drill = said(text)
        return Measure.read(self, text) if drill is None else self.within(Quantity(drill.diameter / INCH, "in"), text)

    def describe(self, unit: str = "") -> str:
        return f"{Measure.describe(self)}; or a drill such as #7, F or 1/4"


def _compute(*, diameter: Quantity, round: str, series: str) -> Answer:
    wanted = diameter.to("mm").value
    drill = choose(wanted, series, cast(Direction, round))
    if drill is None:
        raise InputError(_out_of_reach(float(wanted), round, series))
    got = float(drill.diameter)
    difference = got - float(wanted)
    below, above = choose(wanted, series, "down"), choose(wanted, series, "up")
    working = [
        f"wanted {_size(float(wanted))}, {_DIRECTIONS[round]}, series {series}",
        f"next down {_named(below)}; next up {_named(above)}",
        f"{drill.name} = {_size(got)}, difference {difference:+.3f} mm ({difference / INCH:+.3f} in)",
    ]
    same = [other.name for other in drills("all") if other.diameter == drill.diameter and other.name != drill.name]
    if same:
        working.append(f"{drill.name} and {', '.join(same)} are the same size")
    cautions = []
    if round == "nearest" and difference < 0:
        cautions.append(
            f"The drill is smaller than {_size(float(wanted))}: fine for a pilot hole; for a clearance hole use the next one "
            f"up, {_named(above)}."
        )
    if abs(difference) > _FAR.value:
        cautions.append(
            f"The drill is {abs(difference):.2f} mm off. Another series may have a closer one; choose 'all' to search them all."
        )
    return Answer(
        values={
            "drill": drill.name,
            "diameter": got,
            "difference": difference,
            "below": float(below.diameter) if below else None,
            "above": float(above.diameter) if above else None,
        },
        working=tuple(working),
        cautions=tuple(cautions),
    )


def _size(mm: float) -> str:
    return f"{mm:.3f} mm ({mm / INCH:.3f} in)"


def _named(drill: Drill | None) -> str:
    return f"{drill.name}, {_size(float(drill.diameter))}" if drill else "none in this series"


def _out_of_reach(wanted: float, direction: str, series: str) -> FieldProblem:
    smallest, largest = drills(series)[0], drills(series)[-1]
    end = "below the smallest" if wanted < float(smallest.diameter) else "above the largest"
    known = smallest if wanted < float(smallest.diameter) else largest
    turn = "up" if known is smallest else "down"
    return FieldProblem(
        "diameter",
        f"{_size(wanted)} is {end} drill in the {series} series, {known.name} ({float(known.diameter):.3f} mm)",
        f"choose another series, or round {turn} to get {known.name}" if direction != turn else "choose another series",
    )


CALCULATOR = Calculator(
    name="drill", title="Drill size for a hole",
    inputs=(
        Field("diameter", "Diameter of the hole", _Hole("mm", low=0.1, high=26, soft_low=0.5),
            "Or the name of a drill: #7, F, 1/4.", required=True),
        Field("round", "Rounding", Choice(("nearest", "up", "down")),
            help="Up for a clearance hole, nearest or down for a pilot hole.", default="nearest"),
        Field("series", "Drills at hand", Choice(SERIES),
            help="Inch means fractional, number and letter drills together; 'all' adds the metric ones.", default="all"),
    ),
    outputs=(
        Output("drill", "Drill"),
        Output("diameter", "Drill diameter", "mm", 3, gauged=True),
        Output("difference", "Difference, drill minus hole", "mm", 3, gauged=True),
        Output("below", "Next drill down", "mm", 3, gauged=True),
        Output("above", "Next drill up", "mm", 3, gauged=True),
    ),
    source=(
        Source("number and letter sizes: ASME B94.11M, in the table drill_sizes; fractional 1/64 to 1 in by 1/64", "read"),
        Source("metric 0.5 to 13 mm in steps of 0.1 mm: common stock, as in ISO 235", "memory"),
    ),
    valid="Fractional 1/64 to 1 in, number #80 to #1, letter A to Z, metric 0.5 to 13 mm. A drill cuts a few hundredths of a "
    "millimetre oversize, more if it is blunt or wanders.",
    examples=(
        Example({"diameter": "0.142 in", "round": "up", "series": "inch"}, {"drill": "#27", "diameter": 3.6576},
            Source("the drill tool of nf6x-eetools 1.0.1, run on the fractional, "
                "number and letter tables", "computed"), abs=0.001),
        Example({"diameter": "0.1179 in", "round": "nearest", "series": "number"}, {"drill": "#32", "diameter": 2.9464},
            Source("the drill tool of nf6x-eetools 1.0.1, run on the number table", "computed"), abs=0.001),
        Example({"diameter": "0.168 in", "round": "up", "series": "fractional"}, {"drill": "11/64 in", "diameter": 4.365625},
            Source("the drill tool of nf6x-eetools 1.0.1, run on the fractional table", "computed"), abs=0.001),
    ),
    asked=("diameter", "round", "series"),
    compute=_compute, thresholds=(_FAR,),
)  # fmt: skip
