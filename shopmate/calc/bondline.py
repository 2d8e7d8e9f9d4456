"""What bead fills a bond line of given width and thickness, and what the bead laid does: full, or a dry strip."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Value, round_up
from shopmate.errors import FieldProblem, InputError
from shopmate.picture import Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.units import Quantity

FULL_WITHIN = 0.001
"""Missing fraction of the bond line still called full: what typing a bead diameter to 0.01 mm can cost (arithmetic)."""

MUCH_SQUEEZE_OUT = 0.5
"""Squeeze-out, as a fraction of the bond line's volume, above which a smaller bead is advised (common practice)."""

CURE_DEPTHS = (2.0, 3.0)
"""Typical depths that moisture cures in the first day, mm (common practice; the data sheet outranks them)."""

LONG_CURE = 7.0
"""Days of moisture cure from which the caution speaks: the full cure most data sheets promise (common practice)."""

THINNEST = 0.1
"""Bond line in mm under which pressing thinner is not advised: parts and spacers are not that even (common practice)."""

MOST_BEADS = 50
"""Beads side by side that may be given (ours)."""

HALVES_PER = 10.0
"""Warming in K that halves an open time (common practice)."""

_MOISTURE, _TWO_PART = "moisture", "two-part"
"""How an adhesive may cure."""

_GEOMETRY = Source("Elementary geometry: the adhesive keeps its volume when it is pressed", "computed")
_DIFFUSION = Source("Diffusion: depth goes as the square root of time, so time goes with the width squared", "computed")


def _round_section(diameter: float) -> float:
    """Return the section in mm² of a round bead of that diameter in mm."""
    return math.pi * diameter**2 / 4


def _tenth_up(number: float) -> float:
    """Return a diameter rounded up to 0.1 mm, so that following the advice never leaves a dry strip."""
    return round_up(number * 10) / 10


def _or_fewer(beads: int) -> str:
    return ", or fewer and larger ones" if beads > 1 else ""


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
    cure: str | None,
    cure_depth: Quantity | None,
    open_time: Quantity | None,
    open_temperature: Quantity,
    temperature: Quantity | None,
) -> Answer:
    problems = []
    if cure == _TWO_PART and cure_depth is not None:
        problems.append(
            FieldProblem("cure_depth", f"a {_TWO_PART} adhesive cures without moisture", "leave it empty, or choose moisture")
        )
    if (open_time is None) != (temperature is None):
        missing, purpose = (
            ("open_time", "from the data sheet") if open_time is None else ("temperature", "of the parts at the bench")
        )
        problems.append(FieldProblem(missing, "nothing given", f"open_time and temperature go together: give it, {purpose}"))
    if problems:
        raise InputError(*problems)

    w, t, run = width.value_in("mm"), thickness.value_in("mm"), length.value_in("m")
    gap = w * t
    fills = math.sqrt(4 * gap / (math.pi * beads))
    # A bead lower than the bond line, however much adhesive it holds, never reaches the second face.
    enough = max(fills, t)
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
        if fills < t:
            cautions.append(
                f"A bead of {fills:.2f} mm holds enough but is lower than the {t:g} mm bond line and does not reach the second "
                f"face: lay one of {_tenth_up(enough):.1f} mm or more{_or_fewer(beads)}, or fill the gap from its edge."
            )
    else:
        d = bead.value_in("mm")
        laid = beads * _round_section(d)
        filled = laid / gap
        squeeze_out, coverage, spread = max(0.0, (laid - gap) * run), min(1.0, filled), laid / t
        touches = d >= t * (1 - FULL_WITHIN)
        verdict = "full" if filled >= 1 - FULL_WITHIN and touches else "dry strip"
        working += [
            f"laid = beads × π × bead² / 4 = {beads} × π × {d:g}² / 4 = {laid:.2f} mm²; the bond line takes {gap:.2f} mm²",
            f"height: {d:g} mm bead on a {t:g} mm bond line {'reaches' if touches else 'does not reach'} the second face",
            f"volume = laid × length = {laid:.2f} mm² × {run:g} m = {laid * run:.1f} mL",
            f"squeeze-out = laid − bond line, not under zero = {squeeze_out:.1f} mL",
            f"coverage = laid / bond line, at most 1 = {coverage:.3f}; under 1, or out of reach, is a dry strip: {verdict}",
        ]
        if not touches:
            cautions.append(
                f"Dry strip: a bead of {d:g} mm is lower than the {t:g} mm bond line, so the second face stays dry. Lay {each} "
                f"of {_tenth_up(enough):.1f} mm or more{_or_fewer(beads)}, or close the line by the data sheet."
            )
        elif verdict == "dry strip":
            ways = [f"{each} of {_tenth_up(enough):.1f} mm or more"]
            more, thinner = round_up(gap / _round_section(d)), math.floor(laid / w * 100) / 100
            if more <= MOST_BEADS and more * d <= w:
                ways.append(f"{more} beads of {d:g} mm")
            if thinner >= THINNEST:
                ways.append(f"press it to {thinner:.2f} mm if the adhesive's data sheet allows so thin a line")
            cautions.append(
                f"Dry strip: {w - spread:.1f} mm of the {w:g} mm width stays without adhesive and can hold water. "
                f"Lay {', or '.join(ways)}."
            )
        elif filled > 1 + MUCH_SQUEEZE_OUT:
            least = max(fills * 1.05, t)
            cautions.append(
                f"Much squeeze-out: {laid - gap:.1f} mL a metre to clean off before it skins. "
                f"A bead of {_tenth_up(least):.1f} mm still fills with a tenth to spare."
            )

    lost = 0.0 if waste is None else waste.value_in("%") / 100
    # A dry strip has to be filled after all: what is missing is counted, so that the cartridges are enough.
    filling = max(laid, gap)
    needed = filling * run * (1 + lost)
    cartridges = None
    if filling > laid:
        working.append(f"needed: the whole bond line, {filling * run:.1f} mL, for a dry strip has to be filled")
    if waste is not None:
        working.append(f"needed = volume × (1 + waste) = {filling * run:.1f} × {1 + lost:.2f} = {needed:.1f} mL")
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
    if slowest > LONG_CURE and cure != _TWO_PART:
        days = f"{slowest:.0f}" if cure_time is not None else f"{_cure_days(w, max(depths)):.0f} to {slowest:.0f}"
        basis = (
            "your figure"
            if cure_time is not None
            else f"{depths[0]:g} to {depths[1]:g} mm in the first day, typical: use your data sheet"
        )
        cautions.append(
            f"If {'' if cure else 'the adhesive cures by moisture and '}both faces are impervious (metal, glass, sealed epoxy), "
            f"it cures only from the edges: about {days} days across {w:g} mm ({basis}). Twice the width takes four times as "
            f"long: do not load it before, use strips with air between them, or a two-part adhesive."
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


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return the joint across its width, in mm: above as the beads are laid, below as they are pressed."""
    beads, thickness = inputs["beads"], size(inputs, "thickness")
    given = size(inputs, "bead")
    bead = given or size(outputs, "bead")
    assert isinstance(beads, int)
    assert thickness is not None
    assert bead is not None
    w, t, d = number(inputs, "width", "mm"), thickness.value_in("mm"), bead.value_in("mm")
    laid, pitch = beads * _round_section(d), w / beads
    middles = [(count + 0.5) * pitch for count in range(beads)]
    filled = min(laid / t, w)
    # 1 mL over 1 m is 1 mm²; as much comes out at either edge, drawn as half a round of that section.
    out = math.sqrt(number(outputs, "squeeze_out", "mL") / number(inputs, "length", "m") / math.pi) if d >= t else 0.0
    piece = max(1.5 * t, 0.3 * d, 1.2 * out)
    # The pressed joint lies lowest; over it the one just laid, its upper piece still in the air.
    laid_on = 2 * piece + t + max(0.6 * d, t) + piece
    shapes = [Shape(rectangle(0, y, w, y + piece), "lower piece", "hatch") for y in (0.0, laid_on - piece)]
    shapes += [Shape(rectangle(0, y, w, y + piece), "upper piece", "back hatch") for y in (piece + t, laid_on + 1.2 * d)]
    for x in middles:
        strip = rectangle(x - filled / beads / 2, piece, x + filled / beads / 2, piece + t)
        pressed = strip if d >= t else arc((x, piece + d / 2), d / 2, 0, 360)
        shapes += [Shape(outline, "adhesive", "solid") for outline in (arc((x, laid_on + d / 2), d / 2, 0, 360), pressed)]
    if out:
        for x, begin in ((0.0, 90), (w, -90)):
            shapes.append(Shape(arc((x, piece + t / 2), out, begin, begin + 180), "adhesive", "solid"))
    labels = [Label("bead" if given else "bead that just fills", (middles[-1], laid_on + d / 2), bead, None if given else 2)]
    one = beads == 1
    ending = "s" if one else ""
    said = f"{'One bead' if one else f'{beads} beads'} of {both(bead)}{'' if one else ' each'}, pressed to {both(thickness)},"
    dry = Quantity(w - filled, "mm")
    if d < t:
        said += f" {'is' if one else 'are'} lower than that and {'does' if one else 'do'} not reach the upper piece"
    elif outputs["verdict"] == "dry strip":
        labels.append(Label("dry, all told", (w - 0.25 * dry.value_in("mm") / beads, piece + t / 2), dry, 1))
        said += f" cover{ending} {both(Quantity(filled, 'mm'))} of the width and leave{ending} {both(dry)} dry"
    elif out:
        labels.append(Label("squeezed out", (w + 0.5 * out, piece + t / 2)))
        said += f" fill{ending} the joint and come{ending} out at its edges"
    else:
        said += f" just fill{ending} the joint"
    labels.append(Label("pressed to", (middles[-1], piece + t / 2), thickness))
    return Picture(tuple(shapes), tuple(labels), f"{said}.", (-out, 0.0), (w + out, laid_on + 1.2 * d + piece), least=t)


CALCULATOR = Calculator(
    name="bondline",
    title="Bead for a bond line",
    inputs=(
        Field("width", "Width of the joint", Measure("mm", low=0.5, high=2000, soft_low=3, soft_high=150), required=True),
        Field(
            "thickness",
            "Thickness of the bond line",
            Measure("mm", low=0.01, high=25, soft_low=0.1, soft_high=6),
            "What spacers or beads of wire hold it to.",
            required=True,
        ),
        Field("length", "Length of the joint", Measure("m", low=0.001, high=10000, soft_high=200), required=True),
        Field("beads", "Beads side by side", Count(1, MOST_BEADS), default="1"),
        Field(
            "bead",
            "Bead laid",
            Measure("mm", low=0.1, high=50, soft_low=2, soft_high=20),
            "Diameter of each; without it nothing is said of squeeze-out, coverage and verdict.",
        ),
        Field("cartridge", "Cartridge", Measure("mL", low=1, high=5000, soft_low=20, soft_high=1000)),
        Field(
            "waste",
            "Waste",
            Measure("%", low=0, high=200, soft_high=50),
            "Lost on top of what is laid: 10 to 15 % (common practice).",
        ),
        Field(
            "cure",
            "How it cures",
            Choice((_MOISTURE, _TWO_PART)),
            "Two-part (epoxy) cures throughout; moisture-curing adhesive only from the edges where both faces are sealed.",
        ),
        Field(
            "cure_depth",
            "Cured depth in a day",
            Measure("mm", low=0.1, high=20, soft_low=1, soft_high=5),
            "Of a moisture-curing adhesive, first day, from its data sheet.",
        ),
        Field("open_time", "Open time", Measure("min", low=0.1, high=600, soft_high=120), "Or skin time, from the data sheet."),
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
    valid="Round beads pressed evenly between flat faces held at the thickness, each as high as the line at the least. "
    "Squeeze-out, coverage, spread and verdict speak of a bead laid, so they stay empty until its diameter is given. "
    "Open time: 0 to 45 °C, and only shortened.",
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
    picture=_picture,
)
