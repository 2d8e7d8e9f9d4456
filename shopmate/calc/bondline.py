"""Bead that fills a bond line of given width and thickness, and whether the bead you lay fills it or leaves a dry strip."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Count,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Stock,
    Threshold,
    Value,
    joined,
)
from shopmate.models.fields import in_unit, missing, refuse, round_up
from shopmate.models.humid_air import DEW_MARGIN, RULE, WET
from shopmate.picture import Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.records import dataclass
from shopmate.units import Quantity

_GEOMETRY = Source("Elementary geometry: the adhesive keeps its volume when it is pressed", "computed")
_HABIT = Source(
    "Moisture cures 2 mm in the first day, 5.3 mm in a week; open time halves for every 10 °C warmer; waste 10 to 15 %; "
    "squeeze-out of more than half the bond line's volume is a lot; no bond line thinner than 0.1 mm, as parts "
    "and spacers are not that true; a dry run takes no more than 80 % of the open time",
    "common practice",
)

FULL_WITHIN = 0.001
"""Fraction of the bond line that may be missing and still count as full: a bead typed to 0.01 mm can be off by that much
[computed]. No Threshold needed: it covers the rounding of what is typed."""

_MUCH_SQUEEZE_OUT = Threshold(0.5, "", _HABIT, "Much squeeze-out", "", "6.90 mm", "6.92 mm", "bead")
"""Squeeze-out, as a fraction of the bond line's volume, above which a smaller bead is advised."""

_WIDE = Threshold(10.6, "mm", _HABIT, "work out the cure time with the bondcure calculator", "width", "10.6 mm", "10.7 mm")
"""Width above which a cure from both edges takes more than a week to meet in the middle: 2 × 2 × √7 mm."""

_THINNEST = Threshold(0.1, "mm", _HABIT, "press it to", "", "1.78 mm", "1.79 mm", "bead", {"width": "25 mm"})
"""Thinnest bond line that is advised."""

MOST_BEADS = 50
"""Maximum number of beads side by side (our choice). No Threshold needed: no more can be entered, so no more are advised."""

HALVES_PER = 10.0
"""Warming in K that halves an open time [common practice]."""

DRY_RUN = 0.8
"""Share of the open time that spreading and closing may take in a dry run [common practice]. No Threshold needed: recipes compare
with the minutes it gives."""

_TENTH_SPARED = 1.05
"""Diameter ratio that leaves 10 % to spare: the section grows with the square of the diameter [computed]."""

_MOISTURE, _TWO_PART = "moisture", "two-part"
"""How an adhesive cures."""


def _round_section(diameter: float) -> float:
    """Return the section in mm² of a round bead of that diameter in mm."""
    return math.pi * diameter**2 / 4


def _to_lay(number: float) -> float:
    """Return a diameter in mm rounded up to 0.1 mm: rounded down it would leave a dry strip."""
    return round_up(number * 10) / 10


def _or_fewer(beads: int) -> str:
    return ", or fewer, thicker beads" if beads > 1 else ""


def _close_within(minutes: float, at: float, temperature: float) -> float:
    """Return the minutes to close the joint: halved for every 10 K above the data sheet's temperature, never lengthened below.

    Cold lengthens the open time, but the rule leaves out humidity and the skin it forms, so no extra minutes are promised.
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
    open_time: Quantity | None,
    open_temperature: Quantity,
    temperature: Quantity | None,
    closing: Quantity | None,
) -> Answer:
    _check(open_time, temperature, closing)
    w, t, run, d = width.value_in("mm"), thickness.value_in("mm"), length.value_in("m"), in_unit(bead, "mm")
    line = _Line(w, t, run, beads)
    laid = line.gap if d is None else beads * _round_section(d)
    return joined(
        _unlaid(line) if d is None else _laid(line, d, laid),
        _wanted(line, laid, cartridge, waste),
        _open(open_time, open_temperature.value_in("°C"), temperature, closing),
        Answer({}, (), _damp(w, cure, open_time)),
    )


def _check(open_time: Quantity | None, temperature: Quantity | None, closing: Quantity | None) -> None:
    """Raise InputError if only one of open time and bench temperature is entered, or the time to close without them."""
    need = "the closing time needs open time and bench temperature: enter it"
    blank = [
        *missing({"open_time": open_time}, "still blank", f"{need} from the data sheet"),
        *missing({"temperature": temperature}, "still blank", f"{need} as measured on the parts"),
    ]
    if closing is not None or len(blank) == 1:
        refuse(*blank)


@dataclass(frozen=True, slots=True)
class _Line:
    """The bond line to fill: width and thickness in mm, length in m, and the number of beads."""

    width: float
    thickness: float
    length: float
    beads: int

    @property
    def gap(self) -> float:
        """Its section in mm²."""
        return self.width * self.thickness

    @property
    def fills(self) -> float:
        """Diameter in mm of beads whose volume just fills the line."""
        return math.sqrt(4 * self.gap / (math.pi * self.beads))

    @property
    def enough(self) -> float:
        """Smallest diameter in mm that fills the line and is as high as the line, so that it reaches the second face."""
        return max(self.fills, self.thickness)

    @property
    def working(self) -> str:
        """Working line of the bead that just fills it."""
        root = f"√(4 × {self.width:g} × {self.thickness:g} / (π × {self.beads}))"
        return f"just enough: bead = √(4 × width × thickness / (π × beads)) = {root} = {self.fills:.2f} mm"


def _unlaid(line: _Line) -> Answer:
    """Return what fills the line, where no bead diameter is entered."""
    volume = line.gap * line.length
    working = (
        f"volume = width × thickness × length = {line.width:g} × {line.thickness:g} mm × {line.length:g} m = {volume:.1f} mL"
    )
    low = (
        f"A bead of {line.fills:.2f} mm is enough adhesive, but it is lower than the {line.thickness:g} mm bond line and won't "
        f"touch the second face. Lay {_to_lay(line.enough):.1f} mm or more{_or_fewer(line.beads)}, or fill the gap from its edge."
    )
    values = dict.fromkeys(
        ("squeeze_out", "coverage", "spread", "verdict", "dry", "pressed_to", "squeezed_per_metre", "bead_to_lay")
    )
    return Answer(
        {**values, "bead": line.fills, "volume": volume, "bead_to_lay": _to_lay(line.enough), "section": line.gap},
        (line.working, working),
        (low,) if line.fills < line.thickness else (),
    )


def _laid(line: _Line, d: float, laid: float) -> Answer:
    """Return how well beads of `d` mm, with `laid` mm² of section in total, fill the line."""
    w, t, gap, run = line.width, line.thickness, line.gap, line.length
    filled, spread = laid / gap, laid / t
    squeeze_out, coverage = max(0.0, (laid - gap) * run), min(1.0, filled)
    touches = d >= t * (1 - FULL_WITHIN)
    verdict = "full" if filled >= 1 - FULL_WITHIN and touches else "dry strip"
    caution, to_lay = "", _to_lay(line.enough)
    if not touches or verdict == "dry strip":
        caution = _dry(line, d, laid, touches)
    elif filled > 1 + _MUCH_SQUEEZE_OUT.value:
        spared = line.fills * _TENTH_SPARED
        to_lay = _to_lay(max(spared, t))
        caution = (
            f"Much squeeze-out: {laid - gap:.1f} mL per metre to clean off before it skins over. "
            f"A bead of {to_lay:.1f} mm still fills the line with 10 % to spare."
        )
    return Answer(
        {
            "bead": line.fills,
            "volume": laid * run,
            "squeeze_out": squeeze_out,
            "coverage": coverage,
            "spread": spread,
            "verdict": verdict,
            "dry": max(0.0, w - spread),
            "squeezed_per_metre": max(0.0, laid - gap),
            "bead_to_lay": to_lay,
            "section": gap,
            "pressed_to": _pressed_to(line, laid),
        },
        (
            line.working,
            f"laid = beads × π × bead² / 4 = {line.beads} × π × {d:g}² / 4 = {laid:.2f} mm²; the bond line needs {gap:.2f} mm²",
            f"height: a bead of {d:g} mm in a bond line of {t:g} mm {'touches' if touches else 'does not touch'} the second face",
            f"volume = laid × length = {laid:.2f} mm² × {run:g} m = {laid * run:.1f} mL",
            f"squeeze-out = laid − bond line, or 0 where that is negative = {squeeze_out:.1f} mL",
            f"coverage = laid / bond line, no more than 1 = {coverage:.3f}; {verdict}",
        ),
        (caution,) if caution else (),
    )


def _pressed_to(line: _Line, laid: float) -> float:
    """Return the thickness in mm, rounded down, at which beads of section `laid` mm² fill the whole width."""
    return math.floor(laid / line.width * 100) / 100


def _dry(line: _Line, d: float, laid: float, touches: bool) -> str:
    """Return the caution about a dry strip, with every way to avoid it."""
    each = "one bead" if line.beads == 1 else f"{line.beads} beads, each"
    bigger = f"{each} of {_to_lay(line.enough):.1f} mm or more"
    if not touches:
        return (
            f"Dry strip: a bead of {d:g} mm is lower than the {line.thickness:g} mm bond line, so the second face stays dry. Lay "
            f"{bigger}{_or_fewer(line.beads)}, or close the gap as far as the data sheet allows."
        )
    ways = [bigger]
    more, thinner = round_up(line.gap / _round_section(d)), _pressed_to(line, laid)
    if more <= MOST_BEADS and more * d <= line.width:
        ways.append(f"{more} beads of {d:g} mm")
    if thinner >= _THINNEST.value:
        ways.append(f"press it to {thinner:.2f} mm if the adhesive's data sheet allows a bond line that thin")
    return (
        f"Dry strip: {line.width - laid / line.thickness:.1f} mm of the {line.width:g} mm width gets no adhesive and can trap "
        f"water. Lay {', or '.join(ways)}."
    )


def _wanted(line: _Line, laid: float, cartridge: Quantity | None, waste: Quantity | None) -> Answer:
    """Return the volume with waste and the cartridges needed, for beads of section `laid` mm²."""
    run, lost = line.length, (in_unit(waste, "%") or 0.0) / 100
    # Even where the bead entered leaves a dry strip, the cartridges must fill the whole line.
    filling = max(laid, line.gap) * run
    needed = filling * (1 + lost)
    working, cautions, cartridges = [], [], None
    if filling > laid * run:
        working.append(f"needed: {filling:.1f} mL for the whole bond line, as the dry strip has to be filled too")
    if waste is not None:
        working.append(f"needed = volume × (1 + waste) = {filling:.1f} × {1 + lost:.2f} = {needed:.1f} mL")
    if cartridge is not None:
        content = cartridge.value_in("mL")
        cartridges = round_up(needed / content)
        working.append(f"cartridges = {needed:.1f} / {content:.1f} = {needed / content:.2f}, so {cartridges}")
        if waste is None:
            cautions.append(
                "Waste is not counted here. Nozzle, first squeeze and scraping lose 10 to 15 % (common practice): enter 10 %."
            )
    return Answer({"volume_needed": needed, "volume_filling": filling, "cartridges": cartridges}, tuple(working), tuple(cautions))


def _damp(w: float, cure: str | None, open_time: Quantity | None) -> tuple[str, ...]:
    """Return the cautions about moisture in the air, which cures one kind of adhesive and spoils the other; `w` in mm."""
    if cure == _TWO_PART:
        return (
            f"Bond dry faces only, {DEW_MARGIN:g} °C or more above the dew point, in air below {WET:g} % humidity: check with "
            "the dewpoint calculator. A two-part adhesive won't stick to a damp face, and epoxy blushes in cold, damp air.",
        )
    said = []
    if open_time is not None:
        said.append(
            "Humid air shortens the open time further, and no rule says by how much: touch the bead, and close before it skins."
        )
    if w > _WIDE.value:
        said.append(
            f"{'A' if cure else 'If it cures by moisture, a'} bond line this wide between metal, glass or sealed epoxy takes "
            "weeks to cure, because moisture gets in only at the edges. Before you load it, work out the cure time with "
            "the bondcure calculator."
        )
    return tuple(said)


def _open(open_time: Quantity | None, at: float, temperature: Quantity | None, closing: Quantity | None) -> Answer:
    """Return the times to close the joint, for a dry run, and to spread before `closing`, from the open time at `at` °C."""
    if open_time is None or temperature is None:
        return Answer({"close_within": None, "dry_run": None, "spread_within": None})
    minutes, now = open_time.value_in("min"), temperature.value_in("°C")
    close_within = _close_within(minutes, at, now)
    working = f"close within = the data sheet's {minutes:g} min; no extra time is counted for being colder than {at:.1f} °C"
    if now > at:
        working = (
            f"close within = open time × 2^((data sheet − now) / 10 K)"
            f" = {minutes:g} × 2^(({at:.1f} − {now:.1f}) / 10) = {close_within:.1f} min"
        )
    dry_run = close_within * DRY_RUN
    spared = f"dry run = {DRY_RUN:g} × close within = {DRY_RUN:g} × {close_within:.1f} = {dry_run:.1f} min"
    times = Answer({"close_within": close_within, "dry_run": dry_run}, (working, spared))
    return joined(times, _before_closing(dry_run, in_unit(closing, "min")))


def _before_closing(dry_run: float, closing: float | None) -> Answer:
    """Return the minutes left to mix and spread where closing alone takes `closing` of the dry run's minutes."""
    if closing is None:
        return Answer({"spread_within": None})
    left = max(0.0, dry_run - closing)
    if not left:
        late = "Closing takes up all the time of the dry run, and none is left to mix and spread. Get a helper or a slower glue."
        return Answer({"spread_within": left}, (), (late,))
    return Answer(
        {"spread_within": left}, (f"spread within = dry run − closing = {dry_run:.1f} − {closing:.1f} = {left:.1f} min",)
    )


_OF_THICKNESS, _OF_BEAD, _OF_SQUEEZED = 1.5, 0.3, 1.2
"""A piece is drawn this many times as thick as the glue line, the bead and the radius of the squeeze-out (our choice). No
Threshold needed: they only shape the drawing."""

_AIR = 0.6
"""Air gap drawn between bead and upper piece ÷ bead diameter (our choice). No Threshold needed: it only shapes the drawing."""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A cross-section of the joint in mm, drawn twice: beads just laid above, pressed below."""

    beads: int
    width: float
    thickness: float
    bead: float
    """Diameter of each bead."""
    out: float
    """Radius of the half-round squeezed out at each edge."""

    @property
    def reaches(self) -> bool:
        """Whether the beads reach the upper piece."""
        return self.bead >= self.thickness

    @property
    def middles(self) -> list[float]:
        """Distance of each bead's centre from the left edge."""
        return [(count + 0.5) * self.width / self.beads for count in range(self.beads)]

    @property
    def filled(self) -> float:
        """The width that the pressed beads cover."""
        return min(self.beads * _round_section(self.bead) / self.thickness, self.width)

    @property
    def piece(self) -> float:
        """Drawn thickness of the pieces, thick enough to show beside the adhesive."""
        return max(_OF_THICKNESS * self.thickness, _OF_BEAD * self.bead, _OF_SQUEEZED * self.out)

    @property
    def laid_on(self) -> float:
        """Height of the face the beads are laid on, drawn above the pressed joint with a gap between."""
        return 3 * self.piece + self.thickness + max(_AIR * self.bead, self.thickness)

    @property
    def in_the_air(self) -> float:
        """Height of the upper piece before it is put on."""
        return self.laid_on + 1.2 * self.bead


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    beads, thickness = inputs["beads"], size(inputs, "thickness")
    given = size(inputs, "bead")
    bead = given or size(outputs, "bead")
    assert isinstance(beads, int)
    assert thickness is not None
    assert bead is not None
    t, d = thickness.value_in("mm"), bead.value_in("mm")
    # 1 mL per metre is 1 mm². Half comes out at each edge, drawn as a half-round.
    out = math.sqrt(number(outputs, "squeeze_out", "mL") / number(inputs, "length", "m") / math.pi) if d >= t else 0.0
    drawn = _Drawn(beads, number(inputs, "width", "mm"), t, d, out)
    how, found = _how_it_fills(drawn, outputs["verdict"] == "dry strip")
    last, middle = drawn.middles[-1], drawn.piece + t / 2
    labels = [
        Label("bead" if given else "just enough bead", (last, drawn.laid_on + d / 2), bead, None if given else 2),
        *found,
        Label("pressed to", (last, middle), thickness),
    ]
    laid = f"One bead of {both(bead)}" if beads == 1 else f"{beads} beads of {both(bead)} each"
    words = f"{laid}, pressed to {both(thickness)}, {how}."
    low, high = (-out, 0.0), (drawn.width + out, drawn.in_the_air + drawn.piece)
    return Picture(tuple(_shapes(drawn)), tuple(labels), words, low, high, least=t)


def _shapes(drawn: _Drawn) -> list[Shape]:
    """Return the shapes of the pieces and the beads."""
    w, t, d, piece, laid_on = drawn.width, drawn.thickness, drawn.bead, drawn.piece, drawn.laid_on
    shapes = [Shape(rectangle(0, y, w, y + piece), "lower piece", "hatch") for y in (0.0, laid_on - piece)]
    shapes += [Shape(rectangle(0, y, w, y + piece), "upper piece", "back hatch") for y in (piece + t, drawn.in_the_air)]
    half = drawn.filled / drawn.beads / 2
    for x in drawn.middles:
        pressed = rectangle(x - half, piece, x + half, piece + t) if drawn.reaches else arc((x, piece + d / 2), d / 2, 0, 360)
        shapes += [Shape(outline, "adhesive", "solid") for outline in (arc((x, laid_on + d / 2), d / 2, 0, 360), pressed)]
    if drawn.out:
        for x, begin in ((0.0, 90), (w, -90)):
            shapes.append(Shape(arc((x, piece + t / 2), drawn.out, begin, begin + 180), "adhesive", "solid"))
    return shapes


def _how_it_fills(drawn: _Drawn, is_dry: bool) -> tuple[str, list[Label]]:
    """Return a clause on how the beads fill the joint ('fill the joint ...'), and the label of the dry strip or squeeze-out."""
    ending, middle = "s" if drawn.beads == 1 else "", drawn.piece + drawn.thickness / 2
    if not drawn.reaches:
        are, do = ("is", "does") if drawn.beads == 1 else ("are", "do")
        return f"{are} lower than the bond line and {do} not touch the upper piece", []
    if is_dry:
        dry, filled = Quantity(drawn.width - drawn.filled, "mm"), Quantity(drawn.filled, "mm")
        label = Label("dry in total", (drawn.width - 0.25 * dry.value_in("mm") / drawn.beads, middle), dry, 1)
        return f"cover{ending} {both(filled)} of the width and leave{ending} {both(dry)} dry", [label]
    if drawn.out:
        label = Label("squeezed out", (drawn.width + 0.5 * drawn.out, middle))
        return f"fill{ending} the joint and squeeze{ending} out at its edges", [label]
    return f"just fill{ending} the joint", []


CALCULATOR = Calculator(
    name="bondline", title="Bond line: bead to lay, adhesive and cartridges needed",
    inputs=(
        Field("width", "Joint width", Measure("mm", low=0.5, high=2000, soft_low=3, soft_high=150), required=True),
        Field("thickness", "Bond-line thickness", Measure("mm", low=0.01, high=25, soft_low=0.1, soft_high=6),
            "The thickness your spacers or wire set.", required=True),
        Field("length", "Joint length", Measure("m", low=0.001, high=10000, soft_high=200), required=True),
        Field("beads", "Beads side by side", Count(1, MOST_BEADS), default="1"),
        Field("bead", "Bead you lay", Measure("mm", low=0.1, high=50, soft_low=2, soft_high=20),
            "Diameter of each bead. Leave it blank to get only the bead that fills the line."),
        Field("cartridge", "Cartridge volume", Measure("mL", low=1, high=5000, soft_low=20, soft_high=1000)),
        Field("waste", "Waste", Measure("%", low=0, high=200, soft_high=50),
            "What is lost on top of what you lay: 10 to 15 % (common practice)."),
        Field("cure", "How the adhesive cures", Choice((_MOISTURE, _TWO_PART)),
            "Two-part (epoxy) cures right through. Moisture-cure sets from the edges inwards; work out the days with bondcure."),
        Field("open_time", "Open time", Measure("min", low=0.1, high=600, soft_high=120),
            "Open time or skin time from the data sheet."),
        Field("open_temperature", "Data-sheet temperature", Measure("°C", low=10, high=40, soft_low=18, soft_high=25),
            "The temperature the data sheet gives the open time for.", default="23 °C"),
        Field("temperature", "Bench temperature", Measure("°C", low=0, high=45, soft_low=10, soft_high=35),
            "Temperature of parts and adhesive. Needed with the open time."),
        Field("closing", "Time to close", Measure("min", low=0.1, high=600, soft_high=120),
            "Timed dry, from the glue spread to the last clamp on."),
    ),
    outputs=(
        Output("bead", "Bead that is just enough", "mm", 2),
        Output("verdict", "Verdict"),
        Output("cartridges", "Cartridges needed", "", 0),
        Output("coverage", "Coverage (1 = the whole width)", "", 3),
        Output("volume", "Adhesive laid", "mL", 0),
        Output("volume_needed", "Adhesive needed, waste included", "mL", 0),
        Output("squeeze_out", "Total squeeze-out", "mL"),
        Output("spread", "Width the beads spread to", "mm"),
        Output("close_within", "Close the joint within", "min"),
        Output("dry_run", "Dry run no longer than", "min"),
        Output("spread_within", "Mix and spread within", "min"),
        Output("volume_filling", "Adhesive to fill the line, before waste", "mL", 0),
        Output("section", "Bond-line section", "mm²"),
        Output("pressed_to", "Thickness at which these beads fill the width", "mm", 2),
        Output("dry", "Width left dry", "mm"),
        Output("squeezed_per_metre", "Squeeze-out per metre", "mL"),
        Output("bead_to_lay", "Bead to lay, rounded up", "mm"),
    ),
    source=(_GEOMETRY, _HABIT, RULE), valid="Round beads at least as high as the bond line, pressed flat between faces that "
    "spacers hold that far apart. Squeeze-out, coverage, spread and verdict stay blank until you enter the bead you lay. Open "
    "time from 0 to 45 °C; warmth shortens it, cold never lengthens it here.",
    examples=(
        Example({"width": "25 mm", "thickness": "1 mm", "length": "1 m"}, {"bead": 5.6419}, _GEOMETRY, rel=0.003),
        Example({"width": "20 mm", "thickness": "1 mm", "length": "2 m", "bead": "6 mm"}, {"squeeze_out": 16.549, "coverage": 1.0,
            "verdict": "full"}, _GEOMETRY, rel=0.005),
        Example({"width": "25 mm", "thickness": "1 mm", "length": "14.4 m", "waste": "10 %", "cartridge": "300 mL"},
            {"volume": 360.0, "volume_needed": 396.0, "cartridges": 2}, _GEOMETRY, rel=0.003),
        Example({"width": "25 mm", "thickness": "1 mm", "length": "1 m", "bead": "5 mm"}, {"spread": 19.635,
            "squeeze_out": 0.0, "coverage": 0.7854, "verdict": "dry strip"}, _GEOMETRY, rel=0.003),
    ),
    asked=("width", "thickness", "length"),
    stock=Stock("adhesive", {"cartridge": "cartridge", "thickness": "bond_thickness", "open_time": "open_time"}),
    readings={"temperature": ("air",)},
    compute=_compute, pictures=(_picture,), thresholds=(_MUCH_SQUEEZE_OUT, _WIDE, _THINNEST),
)  # fmt: skip
