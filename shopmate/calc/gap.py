"""Two L-shaped bars lapping across a gap, with a seal between: whether they lap, clear and seal in the worst case."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Measures, Output, Source, Threshold, Value, joined
from shopmate.errors import FieldProblem
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import in_unit, missing, refuse, round_up, together
from shopmate.picture import Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.records import dataclass, replace
from shopmate.units import Quantity
from shopmate.units import significant as sig

_TOLERANCES = Measures(Measure("mm", low=0.001, high=100))
"""Tolerances, plus or minus, on the sizes that set the overlap."""

_ROOM = 3
"""Two equal legs fit only if the gap is more than 3 times the worst-case tolerance: they lap if 2 leg > gap + tolerance and
clear if leg < gap − tolerance [computed]. No Threshold needed: it follows from the geometry, and the leg lengths are outputs."""

_OPEN = "does not close"
"""Verdict where something keeps the gap open: a leg longer than the gap, or a seal squeezed solid."""

_WALLS = Source("A hollow seal is solid when its walls meet; each wall is about a tenth of the seal's height", "common practice")

_SOLID = Threshold(
    80.0, "%", _WALLS, _OPEN, "compression", "2.41 mm", "2.39 mm", "at", {"seal": "12 mm", "tolerances": ""}
)  # fmt: skip
"""Squeeze above which a hollow seal is solid."""

_GEOMETRY = Source(
    "Geometry: overlap = leg A + leg B − gap; clearance = gap − leg; squeeze = (free height − squeezed height) / free height",
    "computed",
)
_STACK = Source(
    "Report Tolerance Stack Analysis Methods, 1995: worst case = sum of the tolerances t; statistical = √Σt² (RSS)", "read"
)
_TEN_PARTS = Source("Web page on tolerance stacks: ten parts of ±0.1 mm are ±1.0 mm worst case and ±0.316 mm RSS", "read")
_UNIFORM = Source("An error equally likely anywhere within ±t has variance t²/3, so three sigma of a sum is √3 × RSS", "computed")
_WINDOW = Source("A hollow seal is squeezed by 20 to 40 % of its free height", "common practice")
_PAVEMENT = Source(
    "US Army TM 5-822-11 appendix C: compression seals in pavement joints are squeezed by 20 to 60 % of their width", "read"
)


@dataclass(frozen=True, slots=True)
class _Lap:
    """Sizes of the lap in mm, and the worst-case tolerance on each (`slack`)."""

    gap: float
    leg_a: float
    leg_b: float
    slack: float = 0.0

    @property
    def overlap(self) -> float:
        return self.leg_a + self.leg_b - self.gap

    @property
    def clearance(self) -> float:
        """The smaller of the two gaps between a leg's tip and the face opposite, mm."""
        return self.gap - max(self.leg_a, self.leg_b)

    @property
    def legs(self) -> tuple[float, float, float] | None:
        """For two equal legs, in mm: longer than, shorter than, and the best length; None where no length fits."""
        if self.gap <= _ROOM * self.slack:
            return None
        return (self.gap + self.slack) / 2, self.gap - self.slack, (_ROOM * self.gap - self.slack) / 4

    def faults(self) -> list[str]:
        """Return what is wrong in the worst case; a clearance of exactly zero is a fault.

        A leg longer than the gap keeps it open; one that is longer only in the worst case touches.
        """
        tip = _OPEN if self.clearance < -NOISE else "touches"
        return [word for word, left in ((tip, self.clearance), ("no overlap", self.overlap)) if left - self.slack <= NOISE]


@dataclass(frozen=True, slots=True)
class _Seal:
    """A seal squeezed from its free height to `at` ± `slack` (mm); limits of the squeeze as fractions of the free height."""

    free: float
    at: float
    least: float
    most: float
    slack: float = 0.0

    def squeeze(self, off: float) -> float:
        """Return the squeeze as a fraction of the free height with the seal `off` mm higher than set: 0 (untouched) to 1."""
        return min(1.0, max(0.0, (self.free - self.at - off) / self.free))

    @property
    def setting(self) -> float:
        """Squeezed height in mm at the middle of the allowed range."""
        return self.free * (1 - (self.least + self.most) / 2)

    @property
    def reach(self) -> float:
        """How far the height may be off `setting`, in mm."""
        return self.free * (self.most - self.least) / 2

    @property
    def instead(self) -> tuple[int, float] | None:
        """Free height and setting in mm of a seal that stays in range at this tolerance; None if this seal already does."""
        if self.slack <= self.reach:
            return None
        free = round_up(2 * self.slack / (self.most - self.least))
        return free, replace(self, free=free).setting

    @property
    def held(self) -> float:
        """The tolerance in mm, rounded down, that would keep this seal in range."""
        return math.floor(self.reach * 100) / 100

    def faults(self) -> list[str]:
        """Return what is wrong in the worst case; the seal counts as solid only if it is solid at its set height."""
        if self.squeeze(0) > _SOLID.value / 100 + NOISE:
            return [_OPEN]
        crushed = self.squeeze(-self.slack) > self.most + NOISE
        loose = self.squeeze(self.slack) < self.least - NOISE
        if crushed and loose:
            return ["seal crushed or loose"]
        return [word for word, wrong in (("seal crushed", crushed), ("seal too loose", loose)) if wrong]


def _compute(
    *,
    gap: Quantity,
    leg_a: Quantity,
    leg_b: Quantity,
    tolerances: str | None,
    seal: Quantity | None,
    at: Quantity | None,
    at_tolerance: Quantity | None,
    squeeze_least: Quantity,
    squeeze_most: Quantity,
    seal_force: Quantity | None,
    opening_length: Quantity | None,
    opening_width: Quantity | None,
) -> Answer:
    window = squeeze_least.value_in("%") / 100, squeeze_most.value_in("%") / 100
    closing = {"seal_force": seal_force, "opening_length": opening_length, "opening_width": opening_width}
    problems = together(
        closing, "missing", "enter the force of the seal and both the length and width of the opening, or leave all three blank"
    )
    if at is not None:
        problems += missing(
            {"seal": seal}, "missing", "enter the free height of the seal too, or leave its squeezed height blank"
        )
    if at_tolerance is not None:
        problems += missing({"at": at}, "missing", "enter the squeezed height of the seal, or leave its tolerance blank")
    if window[0] >= window[1]:
        problems.append(FieldProblem("squeeze_most", "is no more than the minimum squeeze", "enter a larger maximum squeeze"))
    refuse(*problems)
    lap = _Lap(gap.value_in("mm"), leg_a.value_in("mm"), leg_b.value_in("mm"))
    stack, rss = _stack(lap, tolerances)
    if tolerances is not None:
        lap = replace(lap, slack=math.fsum(_sizes(tolerances)))
    pressed, sealed = _sealed(lap, seal, at, in_unit(at_tolerance, "mm"), window)
    verdict, where = _judge(lap, pressed)
    judged = Answer({"verdict": verdict}, (f"verdict: {verdict} ({where})",), tuple(_lap_cautions(lap, rss)))
    pressing = Answer({}, (), tuple(_seal_cautions(pressed)) if pressed is not None else ())
    return joined(stack, sealed, judged, pressing, _closing(seal_force, opening_length, opening_width))


def _sizes(tolerances: str) -> list[float]:
    """Return the tolerances in mm."""
    return [part.value_in("mm") for part in _TOLERANCES.quantities(tolerances)]


def _stack(lap: _Lap, tolerances: str | None) -> tuple[Answer, float | None]:
    """Return overlap and clearances with their tolerances, and the RSS of the tolerances in mm."""
    overlap, clear_a, clear_b = lap.overlap, lap.gap - lap.leg_a, lap.gap - lap.leg_b
    values = {"overlap": overlap, "clearance_a": clear_a, "clearance_b": clear_b}
    names = (
        "worst",
        "rss",
        "overlap_least",
        "overlap_most",
        "overlap_rss",
        "uniform",
        "three_sigma",
        "leg_over",
        "leg_under",
        "leg_cut",
        "tolerance_held",
    )
    parts = _sizes(tolerances) if tolerances is not None else []
    worst = math.fsum(parts)
    legs = replace(lap, slack=worst).legs
    found: tuple[float | None, ...] = (*(legs or (None, None, None)), lap.gap / _ROOM)
    working: tuple[str, ...] = (
        f"overlap = leg A + leg B − gap = {sig(lap.leg_a, 5)} + {sig(lap.leg_b, 5)} − {sig(lap.gap, 5)} = {overlap:.2f} mm",
        f"clearance at tip A = gap − leg A = {sig(lap.gap, 5)} − {sig(lap.leg_a, 5)} = {clear_a:.2f} mm",
        f"clearance at tip B = gap − leg B = {sig(lap.gap, 5)} − {sig(lap.leg_b, 5)} = {clear_b:.2f} mm",
    )
    if tolerances is None:
        caution = (
            "No tolerances are entered, so these sizes are as drawn, not as built. Enter a tolerance for the gap, for each leg "
            "and for the position of each bar, or measure the gap as built."
        )
        found = (None,) * 7 + found
        return Answer(values | dict(zip(names, found, strict=True)), working, (caution,)), None
    # Tolerance Stack Analysis Methods, 1995: RSS of independent errors is never more than their sum.
    rss = min(math.hypot(*parts), worst)
    sigma = math.sqrt(3) * rss
    uniform = min(sigma, worst)
    named = [f"{sig(part)}" for part in parts]
    found = (worst, rss, overlap - worst, overlap + worst, overlap - rss, uniform, sigma, *found)
    working += (
        f"worst case = {' + '.join(named)} = {worst:.3f} mm: overlap {overlap - worst:.2f} to {overlap + worst:.2f} mm",
        f"RSS = √({' + '.join(f'{name}²' for name in named)}) = {rss:.3f} mm, for many parts with independent errors",
        f"three sigma, if every error within ± is equally likely = √3 × RSS = {sigma:.4f} mm; capped at the worst case: "
        f"{uniform:.4f} mm",
    )
    return Answer(values | dict(zip(names, found, strict=True)), working), rss


def _sealed(
    lap: _Lap, seal: Quantity | None, at: Quantity | None, own: float | None, window: tuple[float, float]
) -> tuple[_Seal | None, Answer]:
    """Return the seal, where its height is known, and its heights and squeezes; `own` is the tolerance on its height in mm."""
    values = dict.fromkeys(
        (
            "compression",
            "compression_least",
            "compression_most",
            "at_least",
            "at_most",
            "set_at",
            "hold_to",
            "seal_instead",
            "instead_at",
        )
    )
    if seal is None:
        return None, Answer(values)
    least, most = window
    free = seal.value_in("mm")
    low, high = free * (1 - most), free * (1 - least)
    working = [
        f"height for {_percent(least)} to {_percent(most)} squeeze = free height × (1 − squeeze) = {low:.2f} to {high:.2f} mm"
    ]
    values |= {"at_least": low, "at_most": high}
    if at is None:
        return None, Answer(values, tuple(working))
    pressed = _Seal(free, at.value_in("mm"), least, most, lap.slack if own is None else own)
    squeeze, tight, loose = (pressed.squeeze(off) for off in (0, -pressed.slack, pressed.slack))
    working.append(
        f"squeeze = (free height − squeezed height) / free height = ({sig(free, 5)} − {sig(pressed.at, 5)}) / {sig(free, 5)} = "
        f"{_percent(squeeze)}" + ("" if squeeze else "; the seal is not touched")
    )
    if pressed.slack:
        basis = "the sum of the tolerances" if own is None else "the seal's own tolerance"
        working.append(f"at ±{sig(pressed.slack, 3)} mm ({basis}): squeeze {_percent(loose)} to {_percent(tight)}")
    values |= {"compression": 100 * squeeze, "compression_least": 100 * loose, "compression_most": 100 * tight}
    values |= {"set_at": pressed.setting, "hold_to": pressed.held}
    values |= dict(zip(("seal_instead", "instead_at"), pressed.instead or (None, None), strict=True))
    return pressed, Answer(values, tuple(working))


def _closing(seal_force: Quantity | None, length: Quantity | None, width: Quantity | None) -> Answer:
    """Return the force it takes to close a seal round an opening, where its force per metre is known."""
    if seal_force is None or length is None or width is None:
        return Answer(dict.fromkeys(("seal_length", "closing_force", "closing_mass")))
    line, long, wide = seal_force.value_in("N/m"), length.value_in("m"), width.value_in("m")
    around = 2 * (long + wide)
    force = line * around
    working = (
        f"seal length = 2 × ({sig(long, 5)} + {sig(wide, 5)}) = {around:.2f} m",
        f"closing force = {sig(line)} N/m × {around:.2f} m = {force:.0f} N",
    )
    caution = (
        f"The seal pushes back with {force:.0f} N, like {force / GRAVITY:.0f} kg: latches and hands must overcome that force to "
        "shut the part, and it helps the struts open the part. Measure the force on a piece of the seal at this squeeze. Prop "
        "the moving part and keep your hands clear of the seal, where they can be pinched (common practice)."
    )
    return Answer({"seal_length": around, "closing_force": force, "closing_mass": force / GRAVITY}, working, (caution,))


def _judge(lap: _Lap, seal: _Seal | None) -> tuple[str, str]:
    """Return the verdict, and whether it is as drawn or in the worst case: a fault as drawn comes first."""
    slack = max(lap.slack, seal.slack if seal is not None else 0.0)
    as_drawn = [*replace(lap, slack=0.0).faults(), *(replace(seal, slack=0.0).faults() if seal is not None else ())]
    at_worst = [*lap.faults(), *(seal.faults() if seal is not None else ())]
    if as_drawn:
        return as_drawn[0], "as drawn"
    if at_worst:
        return at_worst[0], "in the worst case"
    return ("laps" if seal is None else "laps and seals"), "even in the worst case" if slack else "as drawn"


def _lap_cautions(lap: _Lap, rss: float | None) -> list[str]:
    as_drawn = replace(lap, slack=0.0).faults()
    faults = sorted(lap.faults(), key=lambda fault: fault not in as_drawn)
    if not faults:
        return []
    reach = f"a leg's tip {'clears' if lap.clearance > 0 else 'reaches past'} the opposite face by {_size(lap.clearance)} mm"
    found = {
        _OPEN: f"{reach}, so the part stands open",
        "touches": reach,
        "no overlap": f"the legs {'overlap' if lap.overlap > 0 else 'fall short'} by {_size(lap.overlap)} mm",
    }
    what = " and ".join(found[fault] for fault in faults)
    against = f", and the sizes can be off by a total of {_size(lap.slack)} mm" if lap.slack else ""
    if lap.legs is not None:
        over, under, cut = lap.legs
        remedy = f"Two equal legs of {_size(over)} to {_size(under)} mm both lap and clear: cut both to {_size(cut)} mm."
    else:
        remedy = (
            f"No leg length both laps and clears in a {sig(lap.gap)} mm gap at this tolerance: keep the total tolerance below a "
            f"third of the gap, {_size(lap.gap / _ROOM)} mm, or measure the gap as built, cut the legs to suit it and shim."
        )
    said = [f"{faults[0].capitalize()}: {what}{against}. {remedy}"]
    if rss is not None and rss < lap.slack and not replace(lap, slack=rss).faults():
        said.append(
            f"With the RSS tolerance ({_size(rss)} mm) the lap would pass, but RSS is for many parts with independent errors; "
            "for a single build use the worst case (common practice)."
        )
    return said


def _seal_cautions(seal: _Seal) -> list[str]:
    faults = seal.faults()
    if not faults:
        return []
    low, high = _percent(seal.squeeze(seal.slack)), _percent(seal.squeeze(-seal.slack))
    got = f"{low} to {high}" if seal.slack else low
    harm = {
        _OPEN: f"above {_SOLID.value:g} % the walls of a hollow seal meet and hold the part open (common practice)",
        "seal crushed": "squeezed too far, the seal takes a set and holds the part open",
        "seal too loose": "squeezed too little, the seal leaks when the part moves",
        "seal crushed or loose": "squeezed too far, the seal takes a set and holds the part open; squeezed too little, it leaks",
    }[faults[0]]
    remedy = f"Set the seal at {sig(seal.setting)} mm."
    if seal.instead is not None:
        free, at = seal.instead
        remedy = (
            f"No setting keeps this seal in range at ±{sig(seal.slack, 3)} mm: keep its height within ±{_size(seal.held)} mm "
            f"of {sig(seal.setting)} mm, or use a seal with a free height of {free} mm, set at {sig(at)} mm."
        )
    return [
        f"{faults[0].capitalize()}: squeeze {got}, allowed {_percent(seal.least)} to {_percent(seal.most)}; {harm}. {remedy} The "
        "range on the seal's data sheet overrides this one."
    ]


def _size(mm: float) -> str:
    """Return a size in mm to two decimals, without its sign; a very small one to two digits, so that it never prints as zero."""
    return f"{abs(mm):.2f}" if round(abs(mm), 2) or not mm else sig(abs(mm), 2)


def _percent(fraction: float) -> str:
    """Return a fraction as a percentage to three digits."""
    return f"{sig(100 * fraction, 3)} %"


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return a section across the gap, in mm: bar A left with its leg on top, bar B right, the seal between."""
    gap, leg_a, leg_b, overlap = (
        Quantity(number(values, name, "mm"), "mm")
        for values, name in ((inputs, "gap"), (inputs, "leg_a"), (inputs, "leg_b"), (outputs, "overlap"))
    )
    wide, a, b, over = (length.value_in("mm") for length in (gap, leg_a, leg_b, overlap))
    free, height = size(inputs, "seal"), size(inputs, "at") or size(inputs, "seal")
    # The legs' thickness is not asked for: they are drawn thick enough to see.
    seen = (0.12 * wide, 0.05 * max(a, b))
    thick = max(seen)
    between = height.value_in("mm") if height else thick
    top = 2 * thick + between
    left, right = (-0.3 * wide, wide - b - thick), (1.3 * wide, a + thick)
    ends = (min(left), max(right))
    shapes = [
        Shape(rectangle(ends[0], -thick, 0, top + thick), "bar A", "hatch"),
        Shape(rectangle(wide, -thick, ends[1], top + thick), "bar B", "back hatch"),
        Shape(rectangle(0, top - thick, a, top), "bar A", "hatch"),
        Shape(rectangle(wide - b, 0, wide, thick), "bar B", "back hatch"),
    ]
    middle = (a + wide - b) / 2
    labels = [
        Label("leg A", (0.15 * a, top - thick / 2), size(inputs, "leg_a")),
        _clear("B", (a + wide) / 2, top - thick / 2, wide - a),
    ]
    if height and free:
        half = free.value_in("mm") / 2
        shapes.append(Shape(arc((middle, thick + between / 2), half, 0, 360, height=between / 2), "seal", "shade"))
        labels.append(Label("seal, squeezed" if "at" in inputs else "seal, free", (middle, thick + between / 2), height))
    labels += [
        _clear("A", (wide - b) / 2, thick / 2, wide - b),
        Label("overlap" if over > 0 else "short by", (middle, thick / 2), Quantity(abs(over), "mm"), 1),
        Label("leg B", (wide - 0.15 * b, thick / 2), size(inputs, "leg_b")),
        Label("gap", (0.9 * wide, -thick / 2), size(inputs, "gap")),
    ]
    said = f"Across a gap of {both(gap)} the legs of {both(leg_a)} and {both(leg_b)} "
    said += f"lap by {both(overlap)}" if over > 0 else f"fall short of each other by {both(Quantity(-over, 'mm'))}"
    if (squeeze := size(outputs, "compression")) and height and free:
        said += f"; the seal of {both(free)} is squeezed to {both(height)}, by {_percent(squeeze.value_in('%') / 100)}"
    return Picture(
        tuple(shapes), tuple(labels), f"{said}: {outputs['verdict']}.", (ends[0], -thick), (ends[1], top + thick), least=thick / 2
    )


def _clear(bar: str, x: float, y: float, clearance: float) -> Label:
    """Return the label for a tip's clearance to the bar opposite, mm, or for how far the tip would run into it."""
    return Label(f"clear of {bar}" if clearance > 0 else f"into {bar}", (x, y), Quantity(abs(clearance), "mm"), 1)


CALCULATOR = Calculator(
    name="gap", title="Lap and seal squeeze of two bars across a gap",
    inputs=(
        Field("gap", "Gap between the faces", Measure("mm", low=0.1, high=500, soft_low=3, soft_high=100),
            "Measure it in several places with the part shut, and enter how much it varies as a tolerance.", required=True),
        Field("leg_a", "Leg of bar A", Measure("mm", low=0.1, high=500, soft_high=100),
            "How far the leg sticks out into the gap from its own face.", required=True),
        Field("leg_b", "Leg of bar B", Measure("mm", low=0.1, high=500, soft_high=100), "How far the leg sticks out into the "
            "gap from its own face.",
            required=True),
        Field("tolerances", "Tolerances, each ±", _TOLERANCES,
            "One each for the gap, both legs and the position of each bar, such as 1 mm, 0.5 mm, 0.5 mm, 0.5 mm. The worst "
            "case is their sum."),
        Field("seal", "Free height of the seal", Measure("mm", low=0.5, high=200, soft_low=4, soft_high=50)),
        Field("at", "Seal squeezed to", Measure("mm", low=0.1, high=200, soft_high=50), "Height of the seal with the gap shut."),
        Field("at_tolerance", "Tolerance on the squeezed height, ±", Measure("mm", low=0, high=100, soft_high=5),
            "Blank: the sum of the tolerances above."),
        Field("squeeze_least", "Minimum squeeze", Measure("%", low=1, high=95, soft_low=10, soft_high=40),
            "From the seal's data sheet; usually 20 % (common practice).", default="20 %"),
        Field("squeeze_most", "Maximum squeeze", Measure("%", low=1, high=95, soft_low=25, soft_high=60),
            "From the seal's data sheet; usually 40 % for hollow seals (common practice).", default="40 %"),
        Field("seal_force", "Force of the seal per metre", Measure("N/m", low=0.1, high=5000, soft_low=5, soft_high=500),
            "At this squeeze: press a measured piece down on a scale."),
        Field("opening_length", "Length of the opening", Measure("m", low=0.01, high=20, soft_high=6)),
        Field("opening_width", "Width of the opening", Measure("m", low=0.01, high=20, soft_high=6)),
    ),
    outputs=(
        Output("overlap", "Overlap", "mm", 2),
        Output("verdict", "Verdict"),
        Output("clearance_a", "Clearance at tip A", "mm", 2),
        Output("clearance_b", "Clearance at tip B", "mm", 2),
        Output("worst", "Total tolerance, worst case ±", "mm", 2),
        Output("rss", "Total tolerance, RSS ±", "mm", 2),
        Output("overlap_least", "Minimum overlap, worst case", "mm", 2),
        Output("overlap_rss", "Minimum overlap, RSS", "mm", 2),
        Output("uniform", "Total tolerance, three sigma ±", "mm", 2),
        Output("compression", "Squeeze of the seal", "%"),
        Output("compression_least", "Smallest squeeze within tolerance", "%"),
        Output("compression_most", "Largest squeeze within tolerance", "%"),
        Output("at_least", "Minimum height of the seal, squeezed", "mm", 2),
        Output("at_most", "Maximum height of the seal, squeezed", "mm", 2),
        Output("seal_length", "Length of seal", "m", 2),
        Output("closing_force", "Closing force", "N", 0),
        Output("overlap_most", "Maximum overlap, worst case", "mm", 2),
        Output("three_sigma", "Three sigma, not limited to the worst case ±", "mm", 2),
        Output("leg_over", "Both legs must be longer than", "mm", 2),
        Output("leg_under", "Both legs must be shorter than", "mm", 2),
        Output("leg_cut", "Cut both legs to", "mm", 2),
        Output("tolerance_held", "Keep the total tolerance below ±", "mm", 2),
        Output("set_at", "Set the seal at", "mm", 2),
        Output("hold_to", "Keep the seal height within ±", "mm", 2),
        Output("seal_instead", "Seal that fits: free height", "mm", 0),
        Output("instead_at", "Seal that fits: set at", "mm", 1),
        Output("closing_mass", "Closing force, as a weight", "kg", 0),
    ),
    source=(_GEOMETRY, _STACK, _UNIFORM, _WINDOW, _PAVEMENT, _WALLS),
    valid="For straight legs, square to faces that stay parallel. The verdict is for the worst case. 'laps' and 'laps and "
    "seals': all is well. 'touches': a leg's tip has no clearance left. 'no overlap': the legs don't reach each other. 'seal "
    "crushed' or 'seal too loose': the squeeze is out of range. 'seal crushed or loose': the squeeze can be out of range "
    "either way. 'does not close': even as drawn, a leg is longer than the gap or the seal is squeezed solid. A fault as "
    "drawn is shown before one that comes from the tolerances. RSS is for many parts with independent errors and is shown for "
    "information only. To be safe, each tip must clear by the whole worst case, including the tolerance of the other leg. The "
    "height of the seal has the same tolerance unless you enter its own.",
    examples=(
        Example({"gap": "16 mm", "leg_a": "12 mm", "leg_b": "12 mm", "tolerances": "1 mm, 0.5 mm, 0.5 mm"}, {"overlap": 8.0,
            "clearance_a": 4.0, "clearance_b": 4.0, "worst": 2.0, "rss": 1.2247, "verdict": "laps"}, _STACK, rel=1e-4),
        Example({"gap": "16 mm", "leg_a": "12 mm", "leg_b": "12 mm", "tolerances": ", ".join(["0.1 mm"] * 10)}, {"worst": 1.0,
            "rss": 0.316}, _TEN_PARTS, rel=0.005),
        Example({"gap": "16 mm", "leg_a": "12 mm", "leg_b": "12 mm", "seal": "12 mm", "at": "8.4 mm"}, {"compression": 30.0,
            "at_least": 7.2, "at_most": 9.6, "verdict": "laps and seals"}, _WINDOW),
        Example({"gap": "0.6 in", "leg_a": "0.4 in", "leg_b": "0.4 in", "seal": "1 in", "at": "0.6 in", "squeeze_most": "60 %"},
            {"at_most": 0.8 * 25.4, "at_least": 0.4 * 25.4, "compression": 40.0, "verdict": "laps and seals"}, _PAVEMENT),
    ),
    asked=("gap", "leg_a", "leg_b", "seal"),
    compute=_compute, pictures=(_picture,), thresholds=(_SOLID,),
)  # fmt: skip
