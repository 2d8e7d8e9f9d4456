"""Where a trailer balances and what it puts on coupling and axle, from its loads and their places."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Threshold, Value, joined
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse
from shopmate.models.loads import Load, PlacedLoads, centre
from shopmate.picture import Curve, Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_LEVER = Source("Lever: axle load = mass × (cg − coupling) / (axle − coupling), the rest is on the nose", "computed")
_HANDBOOK = Source(
    "Car owner's handbook on towing, Europe and UK: about 7 % of the trailer's mass on the nose, at least 4 %", "read"
)
_ADVICE = Source("UK advice: 5 to 7 % on the nose, towards the top of what is allowed", "common practice")
_TYPE = Source(
    "EU type-approval text, in copies that differ: a car's coupling must take 4 % of the towable mass and 25 kg",
    "read",
)
_AMERICA = Source("Car handbooks of North America: 10 to 15 % on the nose, another 9 to 11 %", "read")

_LIGHT = Threshold(
    4.0, "%", _HANDBOOK, "Light nose", "nose_share", "1812.6 mm", "1812.4 mm", "axle", {"minimum": "0 kg"}
)  # fmt: skip
"""Share of the mass on the nose below which a trailer sways."""

_HEAVY = Threshold(7.0, "%", _ADVICE, "Heavy nose", "nose_share", "1870.9 mm", "1871.1 mm", "axle")
"""Share of the mass on the nose above which it loads the car's rear axle, where no band is typed."""

_WHEELBASE = (300.0, 12_000.0)
"""Axle behind the coupling in mm that can be worked out (ours). No threshold: other distances are refused."""

_WRITTEN = 8
"""Loads that are written out in the working (ours). No threshold: how it looks."""

_TEN = 10.0
"""A load in kg to say what moving one does (ours)."""


@dataclass(frozen=True, slots=True)
class _Band:
    """Two shares in %, such as '5 to 7 %'."""

    share: Measure

    def read(self, text: str) -> str:
        low, high = self.shares(text)
        return " ".join((sig(low), "to", sig(high), "%"))

    def shares(self, text: str) -> tuple[float, float]:
        """Return the two shares in %, the lower one first; EntryError for what is no band."""
        parts = [part.strip() for part in re.split(r"\s+to\s+|\s*[–;]\s*|(?<=[\d%])\s*-\s*", text.strip())]
        if len(parts) != 2:
            raise EntryError(f"'{text}' is not two shares", "write it like '5 to 7 %'")
        low, high = (self.share.read(part).value_in("%") for part in parts)
        if low >= high:
            raise EntryError(f"'{text}' does not rise", "write the lower share first, like '5 to 7 %'")
        return low, high

    def describe(self, unit: str = "") -> str:
        return "two shares, such as 5 to 7 %"


_BAND = _Band(Measure("%", low=0, high=50))
_AT = Measure("mm", low=-15_000, high=15_000, soft_low=-2_000, soft_high=10_000)
_LOADS = PlacedLoads(_AT, most=3)


@dataclass(frozen=True, slots=True)
class _Trailer:
    """A trailer with its centre of gravity, mm from the same point as its coupling and axle; mass in kg."""

    mass: float
    cg: float
    coupling: float
    axle: float

    @property
    def base(self) -> float:
        """The axle behind the coupling, in mm."""
        return self.axle - self.coupling

    @property
    def axle_load(self) -> float:
        return self.mass * (self.cg - self.coupling) / self.base

    @property
    def nose_load(self) -> float:
        """What the coupling carries in kg: below zero it is pulled up."""
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
    masses, terms = "Σ mass", "Σ mass × place"
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
    """Return where the axle is in mm, and for two, counted as one in their middle, the line that says so."""
    pair = {"axle_front": front, "axle_rear": rear}
    if axle is not None:
        refuse(*given(pair, "given beside axle", "leave it empty, or leave axle empty and give both of the pair"))
        return axle.value_in("mm"), ""
    if front is None and rear is None:
        return None, ""
    refuse(*missing(pair, "nothing given", "axle_front and axle_rear go together: give it too, or give axle for a single one"))
    assert front is not None
    assert rear is not None
    ahead, behind = front.value_in("mm"), rear.value_in("mm")
    if ahead >= behind:
        refuse(FieldProblem("axle_rear", "is not behind axle_front", "give the places back from the coupling"))
    middle = (ahead + behind) / 2
    return middle, f"axle = middle of the pair = ({sig(ahead, 6)} + {sig(behind, 6)}) / 2 = {sig(middle, 6)} mm"


def _problems(
    at: float | None,
    hitch: float,
    axle: Quantity | None,
    track: Quantity | None,
    target: Quantity | None,
    moving: Quantity | None,
) -> list[FieldProblem]:
    """Return what is wrong between the fields, once the axle is known or known to be missing."""
    problems = []
    if at is None:
        wanting = {"track": track, "target": target, "moving": moving}
        problems += given(wanting, "given without an axle", "give axle too, or leave it empty")
    elif not _WHEELBASE[0] * (1 - NOISE) <= at - hitch <= _WHEELBASE[1] * (1 + NOISE):
        low, high = _WHEELBASE
        what = f"{at - hitch:.6g} mm behind the coupling, and {low:g} to {high:g} mm can be worked out"
        problems.append(FieldProblem("axle" if axle is not None else "axle_front", what, "measure back from the coupling"))
    if moving is not None and target is None:
        problems.append(FieldProblem("target", "nothing given", "give the share wanted on the nose, such as 6 %"))
    return problems


def _on_axle(trailer: _Trailer | None, pair: str) -> Answer:
    """Return what axle and coupling carry; nothing of it without an axle."""
    if trailer is None:
        return Answer(dict.fromkeys(("axle_load", "nose_load", "nose_share", "moved_10")))
    hitch, base, nose = trailer.coupling, trailer.base, trailer.nose_load
    gains = _TEN * 1000 / base
    lines = (
        *([pair] if pair else []),
        f"axle load = mass × (cg − coupling) / (axle − coupling) = {sig(trailer.mass, 6)} × "
        f"({sig(trailer.cg, 6)} − {sig(hitch, 6)}) / {sig(base, 6)} = {sig(trailer.axle_load, 5)} kg",
        f"nose load = mass − axle load = {sig(trailer.mass, 6)} − {sig(trailer.axle_load, 6)} = {sig(nose)} kg",
        f"nose share = {sig(nose, 5)} / {sig(trailer.mass, 6)} = {sig(trailer.share)} %",
        f"{_TEN:g} kg moved 1 m forward adds {_TEN:g} × 1000 / {sig(base, 6)} = {sig(gains)} kg to the nose",
    )
    values = {"axle_load": trailer.axle_load, "nose_load": nose, "nose_share": trailer.share, "moved_10": gains}
    return Answer(values, lines)


def _side(loads: Sequence[Load], track: float | None) -> tuple[Answer, Answer]:
    """Return how far the centre of gravity is to the right and what the right wheel carries, and how high it is."""
    cg_y = right = cg_z = None
    lines = []
    if any(len(load.place) > 1 for load in loads):
        _, cg_y = centre([(load.kilograms, load.at(1)) for load in loads])
        lines.append(f"cg to the right = Σ mass × y / mass = {sig(cg_y)} mm; what has no y counts as on the middle line")
    if cg_y is not None and track is not None:
        right = 100 * (1 / 2 + cg_y / track)
        lines.append(f"right wheels = 1/2 + {sig(cg_y)} / {sig(track, 5)} = {sig(right)} %")
    highs = [load for load in loads if _is_high(load)]
    if len(highs) == len(loads):
        _, cg_z = centre([(load.kilograms, load.at(2)) for load in loads])
        lines.append(f"cg height = Σ mass × z / mass = {sig(cg_z)} mm")
    elif highs:
        lines.append("no height of the cg: give z for each load")
    return Answer({"cg_y": cg_y, "right_share": right}, tuple(lines)), Answer({"cg_z": cg_z})


def _is_high(load: Load) -> bool:
    """Return whether its height is known."""
    return len(load.place) == _LOADS.axes


def _moved(trailer: _Trailer | None, target: float | None, moving: float | None) -> Answer:
    """Return where axle or a moved load would have to go for the share wanted on the nose."""
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
            f"{sig(trailer.mass, 6)} / {sig(moving, 6)} = {sig(shift)} mm, forward positive"
        )
    return Answer(values, tuple(lines))


def _judged(trailer: _Trailer | None, band: str | None, minimum: float, limit: float | None) -> Answer:
    """Return the verdict: tail heavy, heavy, light or ok."""
    if trailer is None:
        return Answer({"verdict": None}, (), ("Give the axle to see what nose and wheels carry.",))
    low, high = _BAND.shares(band) if band is not None else (_LIGHT.value, _HEAVY.value)
    nose, share = trailer.nose_load, trailer.share
    if nose < -NOISE * trailer.mass:
        said = f"Never tow it like this: with {nose:.1f} kg the nose pulls up on the coupling. Move load forward of the axle."
        return Answer({"verdict": "tail heavy"}, (), (said,))
    over_limit = limit is not None and nose > limit * (1 + NOISE)
    if over_limit or share > high + NOISE:
        most = f"the {sig(limit)} kg of its limit" if over_limit and limit is not None else f"{sig(high)} % of the mass"
        said = f"Heavy nose: {nose:.1f} kg is more than {most}. Move load back towards the axle, low down."
        return Answer({"verdict": "heavy"}, (), (said,))
    if share < low - NOISE or nose < minimum * (1 - NOISE):
        least = f"{sig(low)} % of the mass" if share < low - NOISE else f"{sig(minimum)} kg"
        said = f"Light nose: {nose:.1f} kg is less than {least}, and a light nose sways. Move load forward of the axle."
        return Answer({"verdict": "light"}, (), (said,))
    return Answer({"verdict": "ok"})


def _said_of_all(trailer: _Trailer | None, tandem: bool) -> Answer:
    """Return what to do whatever the figures are."""
    if trailer is None:
        return Answer({})
    said = ["Weigh the nose, laden as you tow, water and gas in: a sum misses what is in the lockers."]
    if tandem:
        said.append("Two axles are counted as one between them: that is so only where the suspension shares the load.")
    said.append(
        "The lowest plate decides: car, tow bar, coupling or trailer. Keep heavy things low, over the axle and tied down."
    )
    said.append("This is the trailer standing still. It says nothing of sway, brakes or wind.")
    return Answer({}, (), tuple(said))


_WHEEL, _FRAME, _BLOCK, _PAD = 0.055, 0.02, 0.1, 0.06
"""Radius of the wheel, height of the frame, side of the heaviest load and room around, of the length drawn (ours).
No threshold: how it looks."""

_NAMED = 3
"""Loads labelled, the heaviest (ours). No threshold: how it looks."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the trailer from the side, coupling to the left, with its loads and its centre of gravity; None without an axle."""
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
    """Return a load as a block whose area goes with its mass, on the frame where its height is not known."""
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
    """Return what coupling, axle and centre of gravity carry, and the heaviest loads."""
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
    nose, axle = (Quantity(round(number(outputs, name, "kg"), 1), "kg") for name in ("nose_load", "axle_load"))
    cg = Quantity(round(number(outputs, "cg", "mm")), "mm")
    return (
        f"Centre of gravity {both(cg)} from where you measured; {both(nose)} on the nose and {both(axle)} on the axle: "
        f"{outputs['verdict']}."
    )


_MOMENTS = Source("moments by hand", "computed")


CALCULATOR = Calculator(
    name="balance", title="Trailer: nose and axle load",
    inputs=(
        Field("parts", "Loads", _LOADS,
            "Each as name mass @ distance back from the coupling, and after that, if known, to the right and up.", required=True),
        Field("axle", "Axle", _AT, "Back from the coupling. Blank: mass and centre of gravity only."),
        Field("axle_front", "Front axle of a pair", _AT, "In place of axle, with the rear one."),
        Field("axle_rear", "Rear axle of a pair", _AT),
        Field("nose_limit", "Nose limit", Measure("kg", above=0, high=2000, soft_high=350),
            "The lowest plate of car, tow bar, coupling and trailer."),
        Field("band", "Share wanted on the nose", _BAND,
            "Blank: 4 to 7 %, as in Europe, best 5 to 7 %; in North America 10 to 15 %."),
        Field("minimum", "Minimum on the nose", Measure("kg", low=0, high=500, soft_high=100), default="25 kg"),
        Field("target", "Nose share to reach", Measure("%", low=0, high=20, soft_low=4, soft_high=15)),
        Field("moving", "Load you can move", Measure("kg", low=0.1, high=5000), "To reach that share."),
        Field("track", "Track", Measure("mm", low=500, high=2600, soft_low=1000), "Between the middles of left and right tyres."),
        Field("coupling", "Coupling", _AT, "Only where you measure from another point.", default="0 mm"),
    ),
    outputs=(
        Output("nose_load", "On the nose", "kg"),
        Output("nose_share", "Share on the nose", "%"),
        Output("axle_load", "On the axle", "kg"),
        Output("mass", "Mass", "kg"),
        Output("cg", "Centre of gravity, back", "mm", 0),
        Output("shift", "Move the load forward by (−: back)", "mm", 0),
        Output("axle_wanted", "Or put the axle at", "mm", 0),
        Output("moved_10", "10 kg moved 1 m adds", "kg"),
        Output("right_share", "On the right wheels", "%"),
        Output("cg_y", "Centre of gravity, to the right", "mm", 0),
        Output("cg_z", "Centre of gravity, up", "mm", 0),
        Output("verdict", "Verdict"),
    ),
    source=(_LEVER, _HANDBOOK, _ADVICE, _TYPE, _AMERICA),
    valid="A trailer standing level and still, coupled at one point. A pair of axles counts as one in its middle, which needs "
    "suspension that shares the load. Nothing is said of sway, braking or wind.",
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
