"""What bead fills a bond line of given width and thickness, and what the bead laid does: full, or a dry strip."""

from __future__ import annotations

import math

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, round_up
from shopmate.errors import FieldProblem, InputError
from shopmate.units import Quantity

FULL_WITHIN = 0.001
"""Missing fraction of the bond line still called full: what typing a bead diameter to 0.01 mm can cost (arithmetic)."""

MUCH_SQUEEZE_OUT = 0.5
"""Squeeze-out, as a fraction of the bond line's volume, above which a smaller bead is advised (common practice)."""

CURE_DEPTHS = (2.0, 3.0)
"""Typical depths that moisture cures in the first day, mm (common practice; the data sheet outranks them)."""

LONG_CURE = 7.0
"""Days of moisture cure from which the caution speaks: the full cure most data sheets promise (common practice)."""

HALVES_PER = 10.0
"""Warming in K that halves an open time (common practice)."""

_GEOMETRY = Source("Elementary geometry: the adhesive keeps its volume when it is pressed", "computed")
_DIFFUSION = Source("Diffusion: depth goes as the square root of time, so time goes with the width squared", "computed")


def _round_section(diameter: float) -> float:
    """Return the section in mm² of a round bead of that diameter in mm."""
    return math.pi * diameter**2 / 4


def _tenth_up(number: float) -> float:
    """Return a diameter rounded up to 0.1 mm, so that following the advice never leaves a dry strip."""
    return round_up(number * 10) / 10


def _cure_days(width: float, depth: float) -> float:
    """Return the days until moisture coming from both edges meets mid-width: (width / 2 / depth in a day)², mm."""
    return (width / 2 / depth) ** 2


def _close_within(minutes: float, at: float, temperature: float) -> float:
    """Return the minutes to close the joint: halved every 10 K above the sheet's °C, never lengthened below it.

    Cold lengthens the open time of the sheet's bead, but the dry air that comes with cold and the skin that
    moisture forms are not in the rule, so nothing is gained on paper.
    """
    return minutes * 2 ** (min(0.0, at - temperature) / HALVES_PER)


def _compute(
    width: Quantity,
    thickness: Quantity,
    length: Quantity,
    beads: int,
    bead: Quantity | None,
    cartridge: Quantity | None,
    waste: Quantity | None,
    cure_depth: Quantity | None,
    open_time: Quantity | None,
    open_temperature: Quantity,
    temperature: Quantity | None,
) -> Answer:
    if (open_time is None) != (temperature is None):
        missing, purpose = (
            ("open_time", "from the data sheet") if open_time is None else ("temperature", "of the parts at the bench")
        )
        raise InputError(FieldProblem(missing, "nothing given", f"open_time and temperature go together: give it, {purpose}"))

    w, t, run = width.value_in("mm"), thickness.value_in("mm"), length.value_in("m")
    gap = w * t
    fills = math.sqrt(4 * gap / (math.pi * beads))
    each = "one bead" if beads == 1 else f"{beads} beads, each"
    working = [
        f"just fills: bead = √(4 × width × thickness / (π × beads)) = √(4 × {w:g} × {t:g} / (π × {beads})) = {fills:.2f} mm"
    ]
    cautions: list[str] = []

    laid = gap
    squeeze_out = coverage = spread = None
    verdict: str | None = None
    if bead is None:
        working.append(f"volume = width × thickness × length = {w:g} × {t:g} mm × {run:g} m = {gap * run:.1f} mL")
    else:
        d = bead.value_in("mm")
        laid = beads * _round_section(d)
        filled = laid / gap
        squeeze_out, coverage, spread = max(0.0, (laid - gap) * run), min(1.0, filled), laid / t
        verdict = "full" if filled >= 1 - FULL_WITHIN else "dry strip"
        working += [
            f"laid = beads × π × bead² / 4 = {beads} × π × {d:g}² / 4 = {laid:.2f} mm²; the bond line takes {gap:.2f} mm²",
            f"volume = laid × length = {laid:.2f} mm² × {run:g} m = {laid * run:.1f} mL",
            f"squeeze-out = laid − bond line, not under zero = {squeeze_out:.1f} mL",
            f"coverage = laid / bond line, at most 1 = {coverage:.3f}; under 1 is a dry strip: {verdict}",
        ]
        if verdict == "dry strip":
            cautions.append(
                f"Dry strip: {w - spread:.1f} mm of the {w:g} mm width stays without adhesive and can hold water. Lay {each} of "
                f"{_tenth_up(fills):.1f} mm or more, or {round_up(gap / _round_section(d))} beads of {d:g} mm, "
                f"or press it to {math.floor(laid / w * 100) / 100:.2f} mm if the adhesive's data sheet allows so thin a line."
            )
        elif filled > 1 + MUCH_SQUEEZE_OUT:
            cautions.append(
                f"Much squeeze-out: {laid - gap:.1f} mL a metre to clean off before it skins. "
                f"A bead of {_tenth_up(fills * 1.05):.1f} mm still fills with a tenth to spare."
            )

    lost = 0.0 if waste is None else waste.value_in("%") / 100
    needed = laid * run * (1 + lost)
    cartridges = None
    if waste is not None:
        working.append(f"needed = volume × (1 + waste) = {laid * run:.1f} × {1 + lost:.2f} = {needed:.1f} mL")
    if cartridge is not None:
        content = cartridge.value_in("mL")
        cartridges = round_up(needed / content)
        working.append(f"cartridges = {needed:.1f} / {content:.1f} = {needed / content:.2f}, so {cartridges}")
        if waste is None:
            cautions.append(
                "No waste counted. Nozzle, first squeeze and scraping take 10 to 15 % (common practice): count 10 % waste."
            )

    cure_time = None
    depths: tuple[float, ...] = CURE_DEPTHS
    if cure_depth is not None:
        k = cure_depth.value_in("mm")
        depths, cure_time = (k,), _cure_days(w, k)
        working.append(f"moisture cure = (width / 2 / depth in a day)² = ({w:g} / 2 / {k:g})² = {cure_time:.1f} d")
    slowest = _cure_days(w, min(depths))
    if slowest > LONG_CURE:
        days = f"{slowest:.0f}" if cure_time is not None else f"{_cure_days(w, max(depths)):.0f} to {slowest:.0f}"
        basis = (
            "your figure"
            if cure_time is not None
            else f"{depths[0]:g} to {depths[1]:g} mm in the first day, typical: use your data sheet"
        )
        cautions.append(
            f"If the adhesive cures by moisture and both faces are impervious (metal, glass, sealed epoxy), it cures only from "
            f"the edges: about {days} days across {w:g} mm ({basis}). Twice the width takes four times as long: "
            f"do not load it before, use strips with air between them, or a two-part adhesive."
        )

    close_within = None
    if open_time is not None and temperature is not None:
        minutes, at, now = open_time.value_in("min"), open_temperature.value_in("°C"), temperature.value_in("°C")
        close_within = _close_within(minutes, at, now)
        if now > at:
            working.append(
                f"close within = open time × 2^((sheet − now) / 10 K)"
                f" = {minutes:g} × 2^(({at:.1f} − {now:.1f}) / 10) = {close_within:.1f} min"
            )
        else:
            working.append(f"close within = the sheet's {minutes:g} min; being colder than {at:.1f} °C is not counted as a gain")
        cautions.append(
            "Humid air shortens the open time further, by how much no rule tells: touch the bead, and close before it skins."
        )

    return Answer(
        {
            "bead": Quantity(fills, "mm"),
            "volume": Quantity(laid * run, "mL"),
            "volume_needed": Quantity(needed, "mL"),
            "squeeze_out": None if squeeze_out is None else Quantity(squeeze_out, "mL"),
            "coverage": None if coverage is None else Quantity(coverage, ""),
            "spread": None if spread is None else Quantity(spread, "mm"),
            "cartridges": cartridges,
            "verdict": verdict,
            "cure_time": None if cure_time is None else Quantity(cure_time, "d"),
            "close_within": None if close_within is None else Quantity(close_within, "min"),
        },
        tuple(working),
        tuple(cautions),
    )


CALCULATOR = Calculator(
    name="bondline",
    title="Bead for a bond line",
    inputs=(
        Field("width", "Width of the joint", Measure("mm", above=0, high=2000, soft_low=3, soft_high=150)),
        Field(
            "thickness",
            "Thickness of the bond line",
            Measure("mm", above=0, high=25, soft_low=0.1, soft_high=6),
            "What spacers or beads of wire hold it to.",
        ),
        Field("length", "Length of the joint", Measure("m", above=0, high=10000, soft_high=200)),
        Field("beads", "Beads side by side", Count(1, 50), default="1"),
        Field(
            "bead",
            "Bead laid",
            Measure("mm", above=0, high=50, soft_low=2, soft_high=20),
            "Diameter of each; without it nothing is said of squeeze-out, coverage and verdict.",
            optional=True,
        ),
        Field("cartridge", "Cartridge", Measure("mL", above=0, high=5000, soft_low=20, soft_high=1000), optional=True),
        Field(
            "waste",
            "Waste",
            Measure("%", low=0, high=200, soft_high=50),
            "Lost on top of what is laid: 10 to 15 % (common practice).",
            optional=True,
        ),
        Field(
            "cure_depth",
            "Cured depth in a day",
            Measure("mm", above=0, high=20, soft_low=1, soft_high=5),
            "Of a moisture-curing adhesive, first day, from its data sheet.",
            optional=True,
        ),
        Field(
            "open_time",
            "Open time",
            Measure("min", above=0, high=600, soft_high=120),
            "Or skin time, from the data sheet.",
            optional=True,
        ),
        Field(
            "open_temperature",
            "Open time is stated at",
            Measure("°C", low=10, high=40, soft_low=18, soft_high=25),
            "Temperature on the data sheet.",
            default="23 °C",
        ),
        Field(
            "temperature",
            "Temperature at the bench",
            Measure("°C", low=0, high=45, soft_low=10, soft_high=35),
            "Of parts and adhesive; wanted with the open time.",
            optional=True,
        ),
    ),
    outputs=(
        Output("bead", "Bead that just fills", "mm", 2),
        Output("verdict", "Verdict"),
        Output("cartridges", "Cartridges"),
        Output("coverage", "Coverage", "", 3),
        Output("volume", "Volume laid (without a bead: of the bond line)", "mL", 0),
        Output("volume_needed", "Volume with waste", "mL", 0),
        Output("squeeze_out", "Squeeze-out", "mL"),
        Output("spread", "Width the beads press out to", "mm"),
        Output("cure_time", "Moisture cure between impervious faces", "d"),
        Output("close_within", "Close the joint within", "min"),
    ),
    source=(
        _GEOMETRY,
        _DIFFUSION,
        Source("Cured depth 2 to 3 mm in the first day; open time halves per 10 K; waste 10 to 15 %", "common practice"),
    ),
    valid="Round beads pressed evenly between flat faces held at the thickness. Squeeze-out, coverage, spread and verdict "
    "speak of a bead laid, so they stay empty until its diameter is given. Open time: 0 to 45 °C, and only shortened.",
    examples=(
        Example({"width": "25 mm", "thickness": "1 mm", "length": "1 m"}, {"bead": 5.6419}, _GEOMETRY, rel=0.003),
        Example(
            {"width": "20 mm", "thickness": "1 mm", "length": "2 m", "bead": "6 mm"},
            {"squeeze_out": 16.549, "coverage": 1.0, "verdict": "full"},
            _GEOMETRY,
            rel=0.005,
        ),
        Example(
            {"width": "25 mm", "thickness": "1 mm", "length": "14.4 m", "waste": "10 %", "cartridge": "300 mL"},
            {"volume": 360.0, "volume_needed": 396.0, "cartridges": 2},
            _GEOMETRY,
            rel=0.003,
        ),
        Example(
            {"width": "25 mm", "thickness": "1 mm", "length": "1 m", "bead": "5 mm", "cure_depth": "3 mm"},
            {"spread": 19.635, "squeeze_out": 0.0, "coverage": 0.7854, "verdict": "dry strip", "cure_time": 17.361},
            _DIFFUSION,
            rel=0.003,
        ),
    ),
    compute=_compute,
)
