"""Nose weight and axle load of a trailer, from its loads and where each one sits."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Threshold, Value, joined
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse
from shopmate.models.loads import Load, PlacedLoads, centre
from shopmate.picture import Curve, Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_LEVER = Source("Lever: axle load = mass × (cg − coupling) / (axle − coupling); the nose carries the remainder", "computed")
_HANDBOOK = Source("Car handbook on towing, Europe and UK: nose weight about 7 % of the trailer's mass, minimum 4 %", "read")
_ADVICE = Source("UK advice: nose weight 5 to 7 % of the trailer's mass, as near the nose limit as you can", "common practice")
_TYPE = Source(
    "EU type-approval text (copies differ): a car's coupling must carry 4 % of the towable mass, and 25 kg or more",
    "read",
)
_AMERICA = Source("North American car handbooks: nose weight 10 to 15 % of the trailer's mass; one says 9 to 11 %", "read")

_LIGHT = Threshold(
    4.0, "%", _HANDBOOK, "Light nose", "nose_share", "1812.6 mm", "1812.4 mm", "axle", {"minimum": "0 kg"}
)  # fmt: skip
"""Share of the mass on the nose below which a trailer may sway."""

_HEAVY = Threshold(7.0, "%", _ADVICE, "Heavy nose", "nose_share", "1870.9 mm", "1871.1 mm", "axle")
"""Share of the mass on the nose above which the nose overloads the car's rear axle; used if no range is entered."""

_WHEELBASE = (300.0, 12_000.0)
"""Minimum and maximum distance in mm from coupling to axle (our choice). No Threshold needed: the form refuses anything else."""

_WRITTEN = 8
"""Up to this many loads are written out in the working (our choice). No Threshold needed: it only keeps the working short."""

_TEN = 10.0
"""Mass in kg for the example of how much nose weight moving a load forward adds (our choice)."""


@dataclass(frozen=True, slots=True)
class _Band:
    """Two shares in %, such as '5 to 7 %'."""

    share: Measure

    def read(self, text: str) -> str:
        low, high = self.shares(text)
        return " ".join((sig(low), "to", sig(high), "%"))

    def shares(self, text: str) -> tuple[float, float]:
        """Return the two shares in %, the lower one first; EntryError for any other text."""
        parts = [part.strip() for part in re.split(r"\s+to\s+|\s*[–;]\s*|(?<=[\d%])\s*-\s*", text.strip())]
        if len(parts) != 2:
            raise EntryError(f"'{text}' is not a range", "write it like '5 to 7 %'")
        low, high = (self.share.read(part).value_in("%") for part in parts)
        if low >= high:
            raise EntryError(f"'{text}' has the larger figure first", "write the smaller one first, like '5 to 7 %'")
        return low, high

    def describe(self, unit: str = "") -> str:
        return "a range such as 5 to 7 %"


_BAND = _Band(Measure("%", low=0, high=50))
_AT = Measure("mm", low=-15_000, high=15_000, soft_low=-2_000, soft_high=10_000)
_LOADS = PlacedLoads(_AT, most=3)


@dataclass(frozen=True, slots=True)
class _Trailer:
    """A trailer: mass in kg; centre of gravity, coupling and axle in mm, all measured from one point."""

    mass: float
    cg: float
    coupling: float
    axle: float

    @property
    def base(self) -> float:
        """Distance from coupling to axle in mm."""
        return self.axle - self.coupling

    @property
    def axle_load(self) -> float:
        return self.mass * (self.cg - self.coupling) / self.base

    @property
    def nose_load(self) -> float:
        """What the coupling carries in kg; negative where the nose pulls up on it."""
        return self.mass * (self.axle - self.cg) / self.base

    @property
    def share(self) -> float:
        """What the coupling carries, in % of the mass."""
        return 100 * (self.axle - self.cg) / self.base


def _compute(
    *,
    parts: str,
    coupling: Quantity,
    axle: Quantity | None,
    axle_front: Quantity | None,
    axle_rear: Quantity | None,
    band: str | None,
    minimum: Quantity,
    nose_limit: Quantity | None,
    track: Quantity | None,
    target: Quantity | None,
    moving: Quantity | None,
) -> Answer:
    loads = _LOADS.loads(parts)
    at, pair = _axle(axle, axle_front, axle_rear)
    hitch = coupling.value_in("mm")
    refuse(*_problems(at, hitch, axle, track, target, moving))
    mass, cg = centre([(load.kilograms, load.at(0)) for load in loads])
    masses, terms = "Σ mass", "Σ mass × position"
    if len(loads) <= _WRITTEN:
        masses = " + ".join(sig(load.kilograms, 6) for load in loads)
        terms = f"({' + '.join(f'{sig(load.kilograms, 6)} × {sig(load.at(0), 6)}' for load in loads)})"
    middle = Answer(
        {"mass": mass, "cg": cg},
        (f"mass = {masses} = {sig(mass, 6)} kg", f"cg = {terms} / {sig(mass, 6)} = {sig(cg, 6)} mm"),
    )
    share_right, side = _side(loads, in_unit(track, "mm"))
    trailer = None if at is None else _Trailer(mass, cg, hitch, at)
    return joined(
        middle,
        _on_axle(trailer, pair),
        share_right,
        side,
        _moved(trailer, in_unit(target, "%"), in_unit(moving, "kg")),
        _judged(trailer, band, minimum.value_in("kg"), in_unit(nose_limit, "kg")),
        _said_of_all(trailer, bool(pair)),
    )


def _axle(axle: Quantity | None, front: Quantity | None, rear: Quantity | None) -> tuple[float | None, str]:
    """Return the axle's position in mm, midway for a pair, and the pair's working line ('' for a single axle)."""
    pair = {"axle_front": front, "axle_rear": rear}
    if axle is not None:
        refuse(
            *given(pair, "a single axle is entered too", "clear this one, or clear the single axle and enter both of the pair")
        )
        return axle.value_in("mm"), ""
    if front is None and rear is None:
        return None, ""
    refuse(*missing(pair, "still blank", "enter both axles of the pair, or the single axle alone"))
    assert front is not None
    assert rear is not None
    ahead, behind = front.value_in("mm"), rear.value_in("mm")
    if ahead >= behind:
        refuse(FieldProblem("axle_rear", "is not behind the front axle", "measure both back from the coupling"))
    middle = (ahead + behind) / 2
    return middle, f"axle = midway between the pair = ({sig(ahead, 6)} + {sig(behind, 6)}) / 2 = {sig(middle, 6)} mm"


def _problems(
    at: float | None,
    hitch: float,
    axle: Quantity | None,
    track: Quantity | None,
    target: Quantity | None,
    moving: Quantity | None,
) -> list[FieldProblem]:
    """Return where the fields contradict one another; `at` is the axle's position, None if none is entered."""
    problems = []
    if at is None:
        wanting = {"track": track, "target": target, "moving": moving}
        problems += given(wanting, "can't be used without an axle", "enter the axle too, or clear this")
    elif not _WHEELBASE[0] * (1 - NOISE) <= at - hitch <= _WHEELBASE[1] * (1 + NOISE):
        low, high = _WHEELBASE
        what = f"{at - hitch:.6g} mm behind the coupling; it must be {low:g} to {high:g} mm"
        problems.append(FieldProblem("axle" if axle is not None else "axle_front", what, "measure back from the coupling"))
    if moving is not None and target is None:
        problems.append(FieldProblem("target", "still blank", "enter the nose weight to aim for, such as 6 %"))
    return problems


def _on_axle(trailer: _Trailer | None, pair: str) -> Answer:
    """Return what axle and coupling carry; all None without an axle."""
    if trailer is None:
        return Answer(dict.fromkeys(("axle_load", "nose_load", "nose_share", "moved_10")))
    hitch, base, nose = trailer.coupling, trailer.base, trailer.nose_load
    gains = _TEN * 1000 / base
    lines = (
        *([pair] if pair else []),
        f"axle load = mass × (cg − coupling) / (axle − coupling) = {sig(trailer.mass, 6)} × "
        f"({sig(trailer.cg, 6)} − {sig(hitch, 6)}) / {sig(base, 6)} = {sig(trailer.axle_load, 5)} kg",
        f"nose weight = mass − axle load = {sig(trailer.mass, 6)} − {sig(trailer.axle_load, 6)} = {sig(nose)} kg",
        f"nose weight, share of the mass = {sig(nose, 5)} / {sig(trailer.mass, 6)} = {sig(trailer.share)} %",
        f"{_TEN:g} kg moved 1 m forward adds {_TEN:g} × 1000 / {sig(base, 6)} = {sig(gains)} kg to the nose",
    )
    values = {"axle_load": trailer.axle_load, "nose_load": nose, "nose_share": trailer.share, "moved_10": gains}
    return Answer(values, lines)


def _side(loads: Sequence[Load], track: float | None) -> tuple[Answer, Answer]:
    """Return first how far right the centre of gravity is and what the right wheels carry, then how high it is."""
    cg_y = right = cg_z = None
    lines = []
    if any(len(load.place) > 1 for load in loads):
        _, cg_y = centre([(load.kilograms, load.at(1)) for load in loads])
        lines.append(f"cg to the right = Σ mass × y / mass = {sig(cg_y)} mm; a blank distance to the right counts as 0")
    if cg_y is not None and track is not None:
        right = 100 * (1 / 2 + cg_y / track)
        lines.append(f"right wheels = 1/2 + {sig(cg_y)} / {sig(track, 5)} = {sig(right)} %")
    highs = [load for load in loads if _is_high(load)]
    if len(highs) == len(loads):
        _, cg_z = centre([(load.kilograms, load.at(2)) for load in loads])
        lines.append(f"cg height = Σ mass × z / mass = {sig(cg_z)} mm")
    elif highs:
        lines.append("cg height not worked out: enter the height of every load")
    return Answer({"cg_y": cg_y, "right_share": right}, tuple(lines)), Answer({"cg_z": cg_z})


def _is_high(load: Load) -> bool:
    """Return whether the load's height is known."""
    return len(load.place) == _LOADS.axes


def _moved(trailer: _Trailer | None, target: float | None, moving: float | None) -> Answer:
    """Return how far to move a load, or where to put the axle, for the nose weight to aim for."""
    values: dict[str, float | None] = dict.fromkeys(("shift", "axle_wanted"))
    if trailer is None or target is None:
        return Answer(values)
    share, hitch = target / 100, trailer.coupling
    wanted = hitch + (trailer.cg - hitch) / (1 - share)
    values["axle_wanted"] = wanted
    lines = [
        f"axle for {sig(target)} % = coupling + (cg − coupling) / (1 − target) = {sig(hitch, 6)} + "
        f"({sig(trailer.cg, 6)} − {sig(hitch, 6)}) / {sig(1 - share)} = {sig(wanted, 5)} mm"
    ]
    if moving is not None:
        place = hitch + trailer.base * (1 - share)
        shift = values["shift"] = (trailer.cg - place) * trailer.mass / moving
        lines.append(
            f"shift = (cg − {sig(place, 6)}) × mass / moving = ({sig(trailer.cg, 6)} − {sig(place, 6)}) × "
            f"{sig(trailer.mass, 6)} / {sig(moving, 6)} = {sig(shift)} mm (+ forward, − back)"
        )
    return Answer(values, tuple(lines))


def _judged(trailer: _Trailer | None, band: str | None, minimum: float, limit: float | None) -> Answer:
    """Return the verdict (tail heavy, heavy, light or ok) with what to do."""
    if trailer is None:
        return Answer({"verdict": None}, (), ("Enter the axle to see what the nose and the wheels carry.",))
    low, high = _BAND.shares(band) if band is not None else (_LIGHT.value, _HEAVY.value)
    nose, share = trailer.nose_load, trailer.share
    if nose < -NOISE * trailer.mass:
        pull = units.show_number(-nose, 1)
        said = f"Do not tow it like this: the nose pulls up on the coupling with {pull} kg. Move load forward of the axle."
        return Answer({"verdict": "tail heavy"}, (), (said,))
    shown = units.show_number(nose, 1)
    over_limit = limit is not None and nose > limit * (1 + NOISE)
    if over_limit or share > high + NOISE:
        most = f"the {sig(limit)} kg limit" if over_limit and limit is not None else f"{sig(high)} % of the trailer's mass"
        said = f"Heavy nose: {shown} kg is more than {most}. Move load back towards the axle and keep it low."
        return Answer({"verdict": "heavy"}, (), (said,))
    if share < low - NOISE or nose < minimum * (1 - NOISE):
        least = f"{sig(low)} % of the trailer's mass" if share < low - NOISE else f"the {sig(minimum)} kg minimum"
        said = f"Light nose: {shown} kg is less than {least}, so the trailer may sway. Move load forward of the axle."
        return Answer({"verdict": "light"}, (), (said,))
    return Answer({"verdict": "ok"})


def _said_of_all(trailer: _Trailer | None, tandem: bool) -> Answer:
    """Return the cautions that apply to every trailer."""
    if trailer is None:
        return Answer({})
    said = ["Weigh the nose with the trailer loaded for the road, water and gas on board: no calculation sees into the lockers."]
    if tandem:
        said.append("The two axles count as one midway between them. That is right only if the suspension shares the load.")
    said.append(
        "Look at the plates on car, tow bar, coupling and trailer: the lowest figure is your limit. "
        "Keep heavy things low, over the axle and tied down."
    )
    said.append("These figures are for the trailer standing still; sway, braking and wind are not covered.")
    return Answer({}, (), tuple(said))


_WHEEL, _FRAME, _BLOCK, _PAD = 0.055, 0.02, 0.1, 0.06
"""Wheel radius, frame height, side of the heaviest load and margin, each as a share of the length drawn (our choice). No
Threshold needed: it only shapes the drawing."""

_NAMED = 3
"""How many loads get a label, the heaviest first (our choice). No Threshold needed: it only keeps the drawing clear."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return a side view of the trailer, coupling to the left, with loads and centre of gravity; None without an axle."""
    if size(outputs, "axle_load") is None:
        return None
    loads = _LOADS.loads(str(inputs["parts"]))
    hitch, cg = number(inputs, "coupling", "mm"), number(outputs, "cg", "mm")
    axles = [number(inputs, name, "mm") for name in ("axle", "axle_front", "axle_rear") if size(inputs, name) is not None]
    ends = [hitch, *axles, *(load.at(0) for load in loads)]
    left, right = min(ends), max(ends)
    long = right - left
    floor = 2 * _WHEEL * long
    blocks = [_block(load, max(other.kilograms for other in loads), long, floor) for load in loads]
    high = number(outputs, "cg_z", "mm") if size(outputs, "cg_z") is not None else floor + _BLOCK * long / 2
    high = max(high, floor)
    top = max(high, *(y for block in blocks for _, y in block.outline))
    wheels = [Shape(arc((at, _WHEEL * long), _WHEEL * long, 0, 360), "wheel", "solid") for at in axles]
    frame = Shape(rectangle(min(left, hitch), floor, right, floor + _FRAME * long), "frame", "shade")
    room = _PAD * long
    ground = Curve(((left - room, 0.0), (right + room, 0.0)), "", "rule")
    middle = Curve(((cg, high),), "centre of gravity", "plus")
    return Picture(
        (*wheels, frame, *blocks),
        tuple(_labels(loads, blocks, outputs, (hitch, floor), (sum(axles) / len(axles), _WHEEL * long), (cg, high))),
        _words(outputs),
        (left - room, -room / 2),
        (right + room, top + room),
        (ground, middle),
        foot=("front", "back"),
        least=2 * _WHEEL * long,
    )


def _block(load: Load, heaviest: float, long: float, floor: float) -> Shape:
    """Return a load as a block whose area is in proportion to its mass; it sits on the frame if its height is not known."""
    half = _BLOCK * long * (load.kilograms / heaviest) ** 0.5 / 2
    on = floor + _FRAME * long
    bottom = max(on, load.at(2) - half) if _is_high(load) else on
    return Shape(rectangle(load.at(0) - half, bottom, load.at(0) + half, bottom + 2 * half), "load", "hatch")


def _labels(
    loads: Sequence[Load],
    blocks: Sequence[Shape],
    outputs: Mapping[str, Value | None],
    hitch: tuple[float, float],
    hub: tuple[float, float],
    middle: tuple[float, float],
) -> list[Label]:
    """Return the labels for nose weight, centre of gravity, the heaviest loads and axle load."""
    heaviest = sorted(zip(loads, blocks, strict=True), key=lambda pair: -pair[0].kilograms)[:_NAMED]
    named = [
        Label(load.name or "load", (load.at(0), sum(y for _, y in block.outline) / len(block.outline)), load.mass, 1)
        for load, block in heaviest
    ]
    return [
        Label("nose", hitch, size(outputs, "nose_load"), 1),
        Label("centre of gravity at", middle, size(outputs, "cg"), 0),
        *named,
        Label("axle", hub, size(outputs, "axle_load"), 1),
    ]


def _words(outputs: Mapping[str, Value | None]) -> str:
    nose, axle = (both(Quantity(number(outputs, name, "kg"), "kg"), 1) for name in ("nose_load", "axle_load"))
    cg = both(Quantity(number(outputs, "cg", "mm"), "mm"), 0)
    return f"Centre of gravity {cg} back from your measuring point. Nose weight {nose}, axle load {axle}: {outputs['verdict']}."


_MOMENTS = Source("moments by hand", "computed")


CALCULATOR = Calculator(
    name="balance", title="Trailer: nose weight and axle load",
    inputs=(
        Field("parts", "Loads", _LOADS,
            "For each: name, mass @ distance back from the coupling. Add distance to the right and height if you know them.",
            required=True),
        Field("axle", "Axle", _AT, "Distance back from the coupling. Blank: you get mass and centre of gravity only."),
        Field("axle_front", "Front axle of a pair", _AT, "Twin axles: enter both of these and leave Axle blank."),
        Field("axle_rear", "Rear axle of a pair", _AT),
        Field("nose_limit", "Nose weight limit", Measure("kg", above=0, high=2000, soft_high=350),
            "The lowest figure on the plates of car, tow bar, coupling and trailer."),
        Field("band", "Nose weight allowed", _BAND,
            "Share of the trailer's mass. Blank: 4 to 7 % (Europe; 5 to 7 % is best). North America uses 10 to 15 %."),
        Field("minimum", "Minimum nose weight", Measure("kg", low=0, high=500, soft_high=100), default="25 kg"),
        Field("target", "Nose weight to aim for", Measure("%", low=0, high=20, soft_low=4, soft_high=15),
            "Share of the trailer's mass."),
        Field("moving", "Load you can move", Measure("kg", low=0.1, high=5000),
            "Mass of the load you would shift to get that nose weight."),
        Field("track", "Track width", Measure("mm", low=500, high=2600, soft_low=1000),
            "From the middle of the left tyre to the middle of the right."),
        Field("coupling", "Coupling", _AT, "Leave at 0 unless you measure from another point.", default="0 mm"),
    ),
    outputs=(
        Output("nose_load", "Nose weight (−: pulls up)", "kg"),
        Output("nose_share", "Nose weight, share of trailer", "%"),
        Output("axle_load", "Axle load", "kg"),
        Output("mass", "Trailer mass", "kg"),
        Output("cg", "Centre of gravity, distance back", "mm", 0),
        Output("shift", "Move the load forward by (−: back)", "mm", 0),
        Output("axle_wanted", "Or move the axle to", "mm", 0),
        Output("moved_10", "Nose weight gained per 10 kg moved 1 m forward", "kg"),
        Output("right_share", "Right wheels carry", "%"),
        Output("cg_y", "Centre of gravity, right of centre line (−: left)", "mm", 0),
        Output("cg_z", "Centre of gravity, height", "mm", 0),
        Output("verdict", "Verdict"),
    ),
    source=(_LEVER, _HANDBOOK, _ADVICE, _TYPE, _AMERICA),
    valid="For a trailer standing level and still, coupled at one point. A pair of axles counts as one midway between them, "
    "which needs suspension that shares the load. Sway, braking and wind are not covered.",
    examples=(
        Example({"parts": "body 300 kg @ 1800 mm; battery 60 kg @ 600 mm; rack 40 kg @ 3000 mm", "axle": "1850 mm"},
            {"mass": 400.0, "cg": 1740.0, "axle_load": 376.22, "nose_load": 23.784, "nose_share": 5.9459, "verdict": "light",
            "moved_10": 5.4054}, _MOMENTS, rel=0.0001),
        Example({"parts": "body 500 kg @ 2150 mm", "axle": "2100 mm", "target": "6 %", "moving": "50 kg"}, {"nose_load": -11.905,
            "verdict": "tail heavy", "shift": 1760.0, "axle_wanted": 2287.23}, _MOMENTS, rel=0.0001),
        Example({"parts": "body 1000 kg @ 3000 mm", "axle_front": "2800 mm", "axle_rear": "3600 mm", "nose_limit": "75 kg"},
            {"axle_load": 937.5, "nose_load": 62.5, "verdict": "ok"}, _MOMENTS),
        Example({"parts": "frame 120 kg @ 1500 mm, 0 mm, 400 mm; roof 60 kg @ 1500 mm, 100 mm, 1900 mm", "axle": "1600 mm",
            "track": "1500 mm"}, {"cg_y": 33.333, "cg_z": 900.0, "right_share": 52.222, "verdict": "light"}, _MOMENTS,
            rel=0.0001),
    ),
    asked=("parts", "axle", "nose_limit"),
    compute=_compute, pictures=(_picture,), thresholds=(_LIGHT, _HEAVY),
)  # fmt: skip
