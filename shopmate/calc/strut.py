"""Gas struts under a roof in slides or a lid on a hinge: the force to buy, and what is left to the hand, cold and hot."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Value
from shopmate.errors import FieldProblem, InputError
from shopmate.picture import Curve, Label, Mark, Picture, both, number, size
from shopmate.records import dataclass
from shopmate.units import Quantity, significant

_GRAVITY = 9.80665
"""Standard gravity in m/s²: ISO 80000-3 [memory]."""

_ZERO = 273.15
"""0 °C in kelvin, exactly: BIPM SI brochure [memory]."""

_RATED_AT = 20.0
"""Temperature in °C at which the force of a strut is stated [read: a strut maker's note on thrust measurement]."""

_USUAL_PROGRESSIVITY = 1.3
"""F2/F1 taken for the hand forces where none is given; struts run from 1.2 to 1.5 [memory; typical: use your data sheet]."""

_AGED = 0.85
"""Force left at the end of a strut's life, of the new one: it loses 10 to 15 % [memory]."""

_DEAD_CENTRE = 0.05
"""Sine of the angle between a strut and the line it cannot lift along (about 3°) under which the force has no useful figure:
the play of the mounts changes it by half [computed: 1 mm over 40 mm is 0.025]."""

_SHALLOW = 0.5
"""Sine of the same angle (30°) under which more than half the force is lost [computed]."""

_LONGEST_STROKE = 0.5
"""Stroke over extended length that no strut of usual build reaches: rod and tube each take a stroke, ends come on top
[common practice]."""

_STEPS = 60
"""Steps in which the travel is walked for the greatest force and for dead centre (ours)."""

_NOISE = 1e-9
"""Part of the load under which a hand force is the rounding of floats, not a force."""

_LOAD_CONSTANT = 23.0
"""Most in kg that a person should lift in the best posture: NIOSH 94-110 [read: a textbook's transcription]."""

_UPRIGHT = 90.0
"""Angle in ° of a strut that stands upright and keeps its angle as the roof rises (by definition)."""

_GUIDED, _HINGED = "guided", "hinged"
_GUIDED_POINTS = ("base_offset", "height_closed", "rise")
_HINGED_POINTS = ("lid_mount", "body_x", "body_y")
"""What fixes the place of a strut in each mode; all of them, or the one simple figure."""

_ALWAYS = (
    "Struts are no safety device: put a prop that locks under an open roof before anybody goes under it. Where it can fall on a "
    "person, have mounts, slides and struts checked by somebody licensed to do so; wind and snow come on top of these figures",
    "Prop the roof before you touch, fit or take off a strut; fit struts last and with the roof open; keep hands clear of "
    "slides, hinge and seal line, where it pinches (common practice)",
    "A strut holds its energy for good, hot or cold, fitted or not: never drill, heat, cut or open it; get rid of it by its data "
    "sheet",
)
"""What is said with every strut [common practice]."""

_OUTPUTS = (
    Output("force", "Force to buy, F1, each", "N", 0),
    Output("verdict", "Verdict"),
    Output("hand_closed", "Hand, closed, 20 °C", "N", 0),
    Output("hand_open", "Hand, open, 20 °C", "N", 0),
    Output("hand_closed_cold", "Hand, closed, cold", "N", 0),
    Output("hand_open_cold", "Hand, open, cold", "N", 0),
    Output("hand_closed_hot", "Hand, closed, hot", "N", 0),
    Output("hand_open_hot", "Hand, open, hot", "N", 0),
    Output("hand_middle", "Hand, half-way, 20 °C", "N", 0),
    Output("hand_middle_cold", "Hand, half-way, cold", "N", 0),
    Output("hand_middle_hot", "Hand, half-way, hot", "N", 0),
    Output("hand_one_lost", "Hand, open, a strut lost", "N", 0),
    Output("side_force", "Side force, just balanced", "N", 0),
    Output("side_force_most", "Greatest side force, each", "N", 0),
    Output("friction_force", "Friction of the slides", "N", 0),
    Output("force_closed", "Balances closed, each", "N", 0),
    Output("force_open", "Balances open, each", "N", 0),
    Output("arm_closed", "Arm of the strut, closed", "mm", 0),
    Output("arm_open", "Arm of the strut, open", "mm", 0),
    Output("length_closed", "Strut length, closed", "mm", 0),
    Output("length_open", "Strut length, open", "mm", 0),
    Output("stroke_used", "Stroke the travel takes", "mm", 0),
    Output("force_cold", "Strut F1 when cold", "N", 0),
    Output("force_hot", "Strut F1 when hot", "N", 0),
    Output("push_closed", "Strut force, closed, 20 °C", "N", 0),
    Output("progressivity_used", "F2/F1 counted", "", 2),
    Output("gas_pressure", "Gas pressure, rod out", "MPa", 1),
    Output("stored_energy", "Stored energy, J each", "", 0),
)

_STATICS = Source("Statics: moments about the hinge, or forces along the guides, in balance", "computed")
_GAS = Source(
    "Ideal gas at constant volume, F = F20 (273.15 + T)/293.15; a strut maker's note gives 3 to 4 % a 10 K (read)", "computed"
)
_BOYLE = Source("Boyle's law: F2/F1 = V/(V − rod area × stroke); pressure acts on the rod's section, not the bore's", "computed")


@dataclass(frozen=True, slots=True)
class _Position:
    """One place of the travel; on guides load and lever are a force and a sine, on a hinge a moment and an arm."""

    depth: float
    """How far the rod is in, from 0 (out) to 1 (all of its stroke)."""
    load: float
    """Weight along the guides in N, or its moment about the hinge in N·m; positive closes."""
    lever: float
    """What one newton of strut does against the load: the sine of its angle, or its arm in m; positive opens."""
    sine: float
    """Sine of the angle between the strut and the direction in which it lifts nothing: 0 is dead centre."""
    reach: float = 1.0
    """Arm of the hand: 1 along guides, metres from the hinge."""
    side: float = 0.0
    """Part of a strut's force that presses on the slides; 0 on a hinge."""
    length: float | None = None
    """Metres between the strut's two pivots; None where its mounts are not known."""

    def balance(self, struts: int, friction: float) -> float:
        """Return the force in N of each strut that just raises the load here; the rising lever must be above 0."""
        return max(0.0, self.load) / (struts * self.rising(friction))

    def rising(self, friction: float) -> float:
        """Return the lever less what the strut's own side force costs in friction of the slides."""
        return self.lever - friction * self.side

    def hand(self, struts: int, force: float) -> float:
        """Return the force in N left to the hand while each strut gives `force` N; negative: it lifts itself."""
        pushed = struts * force * self.lever
        left = self.load - pushed
        return 0.0 if abs(left) <= _NOISE * (abs(self.load) + abs(pushed)) else left / self.reach


@dataclass(frozen=True, slots=True)
class _Strut:
    """A strut by its force at 20 °C with the rod nearly out (F1, in N), and its progressivity (F2/F1)."""

    force: float
    progressivity: float

    def at(self, depth: float, celsius: float = _RATED_AT) -> float:
        """Return its force in N with the rod in to `depth` of the stroke: linear from F1 to F2, then by temperature."""
        return self.force * (1 + (self.progressivity - 1) * depth) * _warmth(celsius)


@dataclass(frozen=True, slots=True)
class _Roof:
    """What hangs on the struts, how many there are, and the places of the travel from closed to open."""

    struts: int
    friction: float
    walk: tuple[_Position, ...]
    """Evenly spaced from closed to open; only the closed one where no more is known."""
    travel: float | None
    """Metres of stroke the travel takes; None where the mounts are not known."""
    cold: float
    hot: float

    @property
    def closed(self) -> _Position:
        return self.walk[0]

    @property
    def ends(self) -> tuple[tuple[str, _Position | None], ...]:
        """The places reported, closed, half-way and open; None where not known."""
        whole = len(self.walk) > 1
        return (
            ("closed", self.closed),
            ("middle", self.walk[len(self.walk) // 2] if whole else None),
            ("open", self.walk[-1] if whole else None),
        )

    @property
    def opened(self) -> _Position | None:
        return self.walk[-1] if len(self.walk) > 1 else None

    def hand(self, position: _Position, strut: _Strut, celsius: float = _RATED_AT) -> float:
        return position.hand(self.struts, strut.at(position.depth, celsius))

    def trouble(self) -> str | None:
        """Return the verdict that leaves the force without a figure, or None."""
        least = min(position.sine for position in self.walk)
        if least <= 0:
            return "over-centre"
        if least < _DEAD_CENTRE:
            return "near dead centre"
        if min(position.rising(self.friction) for position in self.walk) < _DEAD_CENTRE * max(p.lever for p in self.walk):
            return "jams"
        return None

    def required(self, progressivity: float) -> float:
        """Return the least F1 in N, at 20 °C and without margin, that carries the load all along the travel."""
        shapes = (1 + (progressivity - 1) * position.depth for position in self.walk)
        return max(
            position.balance(self.struts, self.friction) / shape for position, shape in zip(self.walk, shapes, strict=True)
        )


def _warmth(celsius: float) -> float:
    """Return the gas force at a temperature over that at 20 °C: ideal gas at constant volume, in kelvin."""
    return (_ZERO + celsius) / (_ZERO + _RATED_AT)


def _guided(
    weight: float,
    angle: Quantity | None,
    base_offset: Quantity | None,
    height_closed: Quantity | None,
    rise: Quantity | None,
    stroke: float | None,
) -> tuple[tuple[_Position, ...], float | None]:
    """Return the places of a roof in vertical guides, sin a = h/√(c² + h²), and the stroke its travel takes in m."""
    if base_offset is None or height_closed is None or rise is None:
        assert angle is not None
        slope = math.radians(angle.value_in("°"))
        only = _Position(depth=1.0, load=weight, lever=math.sin(slope), sine=math.sin(slope), side=math.cos(slope))
        if angle.value_in("°") != _UPRIGHT:
            return (only,), None
        # An upright strut keeps its angle: only the rod moves.
        return tuple(replace(only, depth=1 - step / _STEPS, side=0.0) for step in range(_STEPS + 1)), None
    across, low, up = base_offset.value_in("m"), height_closed.value_in("m"), rise.value_in("m")
    heights = [low + up * step / _STEPS for step in range(_STEPS + 1)]
    lengths = [math.hypot(across, height) for height in heights]
    travel, depths = _depths(lengths, stroke)
    return tuple(
        _Position(
            depth=depth,
            load=weight,
            lever=height / length if length else 0.0,
            sine=height / length if length else 0.0,
            side=across / length if length else 1.0,
            length=length,
        )
        for height, length, depth in zip(heights, lengths, depths, strict=True)
    ), travel


def _hinged(
    weight: float,
    cg: float,
    arm: Quantity | None,
    lid_mount: Quantity | None,
    lid_mount_y: Quantity | None,
    body_x: Quantity | None,
    body_y: Quantity | None,
    closed: float,
    opened: float | None,
    handle: float,
    stroke: float | None,
) -> tuple[tuple[_Position, ...], float | None]:
    """Return the places of a lid hinged at the origin, and the stroke its travel takes in m.

    x runs along the closed lid away from the hinge, y up; angles in radians. The strut pushes from its mount B on
    the body to its mount P on the lid along u = (P − B)/|P − B|; its arm is Px uy − Py ux, positive where it opens.
    """
    if lid_mount is None or body_x is None or body_y is None:
        assert arm is not None
        lever = arm.value_in("m")
        return (_Position(depth=1.0, load=weight * cg * math.cos(closed), lever=lever, sine=1.0, reach=handle),), None
    along, off = lid_mount.value_in("m"), lid_mount_y.value_in("m") if lid_mount_y is not None else 0.0
    body = (body_x.value_in("m"), body_y.value_in("m"))
    last = 0 if opened is None else _STEPS
    angles = [closed + ((opened or 0.0) - closed) * step / _STEPS if last else closed for step in range(last + 1)]
    mounts = [(along * math.cos(turn) - off * math.sin(turn), along * math.sin(turn) + off * math.cos(turn)) for turn in angles]
    lengths = [math.dist(mount, body) for mount in mounts]
    travel, depths = _depths(lengths, stroke)
    walk = []
    for turn, (px, py), length, depth in zip(angles, mounts, lengths, depths, strict=True):
        lever = (py * body[0] - px * body[1]) / length if length else 0.0
        walk.append(
            _Position(
                depth=depth if last else 1.0,
                load=weight * cg * math.cos(turn),
                lever=lever,
                sine=lever / math.hypot(px, py),
                reach=handle,
                length=length,
            )
        )
    return tuple(walk), travel if last else None


def _depths(lengths: list[float], stroke: float | None) -> tuple[float, list[float]]:
    """Return the stroke the travel takes, and how far the rod is in at each length, as a part of the strut's stroke.

    The rod is fully out when open, so all of the play that a longer stroke gives lies beyond closed.
    """
    travel = lengths[-1] - min(lengths)
    whole = stroke or travel
    return travel, [min(1.0, max(0.0, (lengths[-1] - length) / whole)) if whole > 0 else 0.0 for length in lengths]


def _compute(
    *,
    mode: str,
    mass: Quantity | None,
    weight: Quantity | None,
    struts: int,
    angle: Quantity | None,
    base_offset: Quantity | None,
    height_closed: Quantity | None,
    rise: Quantity | None,
    friction: Quantity | None,
    cg_distance: Quantity | None,
    arm: Quantity | None,
    lid_mount: Quantity | None,
    lid_mount_y: Quantity | None,
    body_x: Quantity | None,
    body_y: Quantity | None,
    lid_angle: Quantity | None,
    open_angle: Quantity | None,
    handle: Quantity | None,
    margin: Quantity,
    force: Quantity | None,
    progressivity: Quantity | None,
    stroke: Quantity | None,
    rod: Quantity | None,
    gas_volume: Quantity | None,
    cold: Quantity,
    hot: Quantity,
) -> Answer:
    _check(
        mode,
        {"mass": mass, "weight": weight},
        {"angle": angle, "base_offset": base_offset, "height_closed": height_closed, "rise": rise, "friction": friction},
        {
            "cg_distance": cg_distance,
            "arm": arm,
            "lid_mount": lid_mount,
            "body_x": body_x,
            "body_y": body_y,
            "lid_mount_y": lid_mount_y,
            "lid_angle": lid_angle,
            "open_angle": open_angle,
            "handle": handle,
        },
        {"progressivity": progressivity, "gas_volume": gas_volume, "rod": rod, "stroke": stroke},
    )
    working: list[str] = []
    assumed: list[str] = []
    if mass is not None:
        newtons = mass.value_in("kg") * _GRAVITY
        working.append(f"weight = mass × g = {significant(mass.value_in('kg'))} kg × {_GRAVITY} m/s² = {newtons:.1f} N")
    else:
        assert weight is not None
        newtons = weight.value_in("N")
        working.append(f"weight = {newtons:.1f} N, as given")
    own_stroke = stroke.value_in("m") if stroke is not None else None
    if mode == _GUIDED:
        walk, travel = _guided(newtons, angle, base_offset, height_closed, rise, own_stroke)
    else:
        assert cg_distance is not None
        cg = cg_distance.value_in("m")
        reach = handle.value_in("m") if handle is not None else 2 * cg
        if handle is None:
            assumed.append(
                f"The hand is taken to act {reach * 1000:.0f} mm from the hinge, square to the lid: the free edge of an even "
                "lid, twice the distance of its centre of gravity. Give handle if yours is elsewhere"
            )
        walk, travel = _hinged(
            newtons,
            cg,
            arm,
            lid_mount,
            lid_mount_y,
            body_x,
            body_y,
            math.radians(lid_angle.value_in("°")) if lid_angle is not None else 0.0,
            math.radians(open_angle.value_in("°")) if open_angle is not None else None,
            reach,
            own_stroke,
        )
    if own_stroke is not None and travel is not None and travel > own_stroke * (1 + _NOISE):
        raise InputError(
            FieldProblem(
                "stroke",
                f"the travel takes {travel * 1000:.1f} mm and the strut has {own_stroke * 1000:.1f} mm",
                "give a strut with at least that stroke, or move its mounts",
            )
        )
    roof = _Roof(
        struts, friction.value_in("") if friction is not None else 0.0, walk, travel, cold.value_in("°C"), hot.value_in("°C")
    )
    ratio = _progressivity(progressivity, gas_volume, rod, own_stroke, working)
    return _answer(roof, mode, margin.value_in("%") / 100, force, ratio, own_stroke, rod, working, assumed)


def _progressivity(
    given: Quantity | None, gas_volume: Quantity | None, rod: Quantity | None, stroke: float | None, working: list[str]
) -> float | None:
    """Return F2/F1 as given, or by Boyle's law from gas volume (rod out), rod and stroke; None where neither is known."""
    if given is not None:
        return given.value_in("")
    if gas_volume is None or rod is None or stroke is None:
        return None
    area, volume = _section(rod.value_in("mm")), gas_volume.value_in("mL") * 1000
    swept = area * stroke * 1000
    if swept >= volume:
        raise InputError(
            FieldProblem(
                "gas_volume",
                f"the rod takes {swept / 1000:.1f} mL of it, all there is",
                "give the gas volume with the rod out, from the data sheet",
            )
        )
    ratio = volume / (volume - swept)
    working.append(
        f"progressivity = V/(V − rod area × stroke) = {significant(volume / 1000)} mL/"
        f"({significant(volume / 1000)} − {swept / 1000:.3f}) mL = {ratio:.3f}"
    )
    return ratio


def _section(diameter: float) -> float:
    """Return the area in mm² of a round section of that diameter in mm."""
    return math.pi * diameter**2 / 4


def _answer(
    roof: _Roof,
    mode: str,
    margin: float,
    chosen: Quantity | None,
    ratio: float | None,
    stroke: float | None,
    rod: Quantity | None,
    working: list[str],
    assumed: list[str],
) -> Answer:
    trouble = roof.trouble()
    values: dict[str, Value | None] = {output.name: None for output in _OUTPUTS}
    for name, position in roof.ends:
        if position is not None and trouble is None and name != "middle":
            values[f"force_{name}"] = Quantity(position.balance(roof.struts, roof.friction), "N")
            working.append(_balance_line(roof, mode, name, position))
        if position is not None and name != "middle":
            if mode == _HINGED:
                values[f"arm_{name}"] = Quantity(position.lever * 1000, "mm")
            if position.length is not None:
                values[f"length_{name}"] = Quantity(position.length * 1000, "mm")
    needed = None
    if trouble is None:
        needed = roof.required(ratio or 1.0) * (1 + margin)
        values["force"] = Quantity(needed, "N")
        counted = f"with F2/F1 = {ratio:.3g} counted" if ratio else "as if the force did not rise as the rod goes in (safe)"
        working.append(
            f"force to buy (F1 at 20 °C) = greatest along the travel, {counted}, × (1 + margin) "
            f"= {needed / (1 + margin):.1f} × {1 + margin:.2f} = {needed:.1f} N each"
        )
        if mode == _GUIDED:
            values["side_force"] = Quantity(roof.closed.balance(roof.struts, roof.friction) * roof.closed.side, "N")
    fitted = chosen.value_in("N") if chosen is not None else needed
    cautions: list[str] = []
    verdict = trouble
    if roof.travel is not None:
        values["stroke_used"] = Quantity(roof.travel * 1000, "mm")
    if fitted is not None:
        strut = _Strut(fitted, ratio or _USUAL_PROGRESSIVITY)
        _fill_hand(roof, strut, values, working, chosen is not None)
        _fill_strut(roof, mode, strut, stroke, rod, values, working)
        verdict = trouble or _verdict(roof, strut)
        if trouble is None:
            cautions += _remedies(roof, strut, verdict)
        if ratio is None:
            assumed.append(
                f"The hand forces count F2/F1 = {_USUAL_PROGRESSIVITY}, typical (1.2 to 1.5): use your data sheet. "
                "The force to buy counts no rise at all, so that it is not too small"
            )
    values["verdict"] = verdict
    working.append(f"verdict: {verdict}")
    # Danger to persons first, but for the struts that give no figure at all; then how it is built, then what is assumed.
    told = (*_trouble_cautions(roof, trouble), *cautions, *_ALWAYS, *_build(roof, mode), *assumed)
    return Answer(values, tuple(working), told)


def _balance_line(roof: _Roof, mode: str, name: str, position: _Position) -> str:
    got = position.balance(roof.struts, roof.friction)
    if mode == _HINGED:
        return (
            f"{name}: force = weight × its arm/(struts × strut's arm) = {position.load:.2f} N·m/({roof.struts} × "
            f"{position.lever:.5f} m) = {got:.1f} N each (no less than 0)"
        )
    slide = f" − {roof.friction:g} × cos a" if roof.friction else ""
    return (
        f"{name}: force = weight/(struts × (sin a{slide})) = {position.load:.1f}/({roof.struts} × "
        f"{position.rising(roof.friction):.4f}) = {got:.1f} N each, a = {math.degrees(math.asin(position.lever)):.1f}° from "
        "horizontal"
    )


def _fill_hand(roof: _Roof, strut: _Strut, values: dict[str, Value | None], working: list[str], own: bool) -> None:
    """Put in the hand force at each known place, at 20 °C, cold and hot."""
    working.append(
        f"hand forces with {'the strut chosen' if own else 'a strut of the force to buy'}: F1 {strut.force:.1f} N, "
        f"F2/F1 {strut.progressivity:.3g}; + you lift, − it lifts itself"
    )
    working.append(
        f"gas force goes with kelvin: × {_warmth(roof.cold):.4f} at {roof.cold:.1f} °C, × {_warmth(roof.hot):.4f} at "
        f"{roof.hot:.1f} °C"
    )
    for name, position in roof.ends:
        if position is None:
            continue
        figures = []
        for suffix, celsius in (("", _RATED_AT), ("_cold", roof.cold), ("_hot", roof.hot)):
            got = roof.hand(position, strut, celsius)
            values[f"hand_{name}{suffix}"] = Quantity(got, "N")
            figures.append(f"{got:.1f}")
        working.append(
            f"{name}: hand = (load − struts × force × lever)/reach = ({position.load:.2f} − {roof.struts} × "
            f"{strut.at(position.depth):.1f} × {position.lever:.4f})/{position.reach:.3g} = {figures[0]} N; "
            f"cold {figures[1]} N, hot {figures[2]} N"
        )
    if roof.opened is not None and roof.struts > 1:
        force = strut.at(roof.opened.depth)
        values["hand_one_lost"] = Quantity(roof.opened.hand(roof.struts - 1, force), "N")


def _fill_strut(
    roof: _Roof,
    mode: str,
    strut: _Strut,
    stroke: float | None,
    rod: Quantity | None,
    values: dict[str, Value | None],
    working: list[str],
) -> None:
    """Put in what the strut itself does: its forces, the side force it can bring, its gas and its energy."""
    values["force_cold"] = Quantity(strut.at(0.0, roof.cold), "N")
    values["force_hot"] = Quantity(strut.at(0.0, roof.hot), "N")
    values["push_closed"] = Quantity(strut.at(roof.closed.depth), "N")
    values["progressivity_used"] = Quantity(strut.progressivity, "")
    if mode == _GUIDED:
        most = max(strut.at(position.depth, roof.hot) * position.side for position in roof.walk)
        values["side_force_most"] = Quantity(most, "N")
        working.append(f"greatest side force = force × cos a, hot = {most:.1f} N from each strut")
        if roof.friction:
            drag = max(roof.friction * roof.struts * strut.at(position.depth) * position.side for position in roof.walk)
            values["friction_force"] = Quantity(drag, "N")
            working.append(f"friction of the slides: up to {drag:.1f} N more to raise and as much less to lower")
    whole = stroke if stroke is not None else roof.travel
    if whole:
        energy = strut.force * (1 + strut.progressivity) / 2 * whole
        values["stored_energy"] = Quantity(energy, "")
        working.append(f"stored energy = (F1 + F2)/2 × stroke = {strut.at(0.5):.1f} N × {whole:.3f} m = {energy:.0f} J each")
    if rod is not None:
        area = _section(rod.value_in("mm"))
        values["gas_pressure"] = Quantity(strut.force / area, "MPa")
        working.append(f"gas pressure = F1/rod area = {strut.force:.1f} N/{area:.2f} mm² = {strut.force / area:.2f} MPa")


def _verdict(roof: _Roof, strut: _Strut) -> str:
    """Return what the roof does with that strut, closed and open, cold and hot, by the signs of the hand force."""
    found = []
    opened = roof.opened
    if opened is not None and roof.hand(opened, strut, roof.cold) > 0:
        found.append("drops" if roof.hand(opened, strut) > 0 else "drops when cold")
    if roof.hand(roof.closed, strut, roof.hot) < 0:
        found.append("lifts by itself" if roof.hand(roof.closed, strut) < 0 else "lifts by itself when hot")
    if found:
        return ", ".join(found)
    return "holds" if opened is not None else "stays closed"


def _remedies(roof: _Roof, strut: _Strut, verdict: str) -> list[str]:
    """Return what to do about a roof that drops or lifts by itself; each figure named is enough when followed.

    What the struts do as they are comes before what they do once they are worn.
    """
    said, worn, carries = [], [], 0.0
    closed, opened = roof.closed, roof.opened
    cold, hot = f"{roof.cold:.0f} °C", f"{roof.hot:.0f} °C"
    stays = strut.force * closed.load / (roof.struts * closed.lever * strut.at(closed.depth, roof.hot))
    if opened is not None:
        carries = strut.force * max(0.0, opened.load) / (roof.struts * opened.lever * strut.at(opened.depth, roof.cold))
        aged = roof.hand(opened, _Strut(strut.force * _AGED, strut.progressivity), roof.cold)
        if "drops" in verdict:
            said.append(
                f"Open at {cold}, {roof.hand(opened, strut, roof.cold):.0f} N come down on the hand. Struts of "
                f"{_up(carries)} N hold it while new, {_up(carries / _AGED)} N when they have lost 15 % as well (typical of "
                "their life). In any case prop it before anybody goes under it"
            )
        elif aged > 0:
            worn.append(
                f"It stays open while the struts are new. When they have lost 15 % (typical of their life) {aged:.0f} N come "
                f"down at {cold}; {_up(carries / _AGED)} N would still hold it. Prop it, and try the struts each season"
            )
    if "lifts by itself" in verdict:
        said.append(
            f"Closed, it pushes up with {-roof.hand(closed, strut, roof.hot):.0f} N at {hot}: a latch at the hand must hold "
            "more than that, one nearer the hinge more still, and when it is opened the roof springs up, so keep your face "
            f"away and a hand on it. To stay closed without a latch, struts of {math.floor(stays)} N at most"
        )
        if stays < carries:
            said.append(
                "With these mounts no force both stays closed hot and holds open cold: use a latch and a prop, or mounts "
                "that give the struts more lever open and less closed"
            )
    most = max(roof.hand(position, strut, roof.cold) for position in roof.walk)
    if most > _LOAD_CONSTANT * _GRAVITY:
        said.append(
            f"Up to {most:.0f} N to lift by hand at {cold}: more than the {_LOAD_CONSTANT:g} kg that one person should lift "
            "at best (NIOSH 94-110). Take stronger struts, or a second person or a hoist"
        )
    if opened is not None and roof.struts > 1:
        lost = opened.hand(roof.struts - 1, strut.at(opened.depth))
        if lost > 0:
            said.append(f"If one strut fails, the open roof comes down with {lost:.0f} N: the other struts are no prop")
    if roof.struts == 1:
        said.append("One strut twists what it lifts, and when it fails nothing is left: use two, one each side, and a prop")
    return said + worn


def _trouble_cautions(roof: _Roof, trouble: str | None) -> list[str]:
    """Return what it means that no force can be given, where along the travel, and what to change."""
    if trouble is None:
        return []
    if trouble == "jams":
        return [
            "The struts lean so far that friction on the slides takes what they lift: no force raises it, the slides jam. "
            "Stand the struts steeper, or use slides with less friction"
        ]
    last = max(1, len(roof.walk) - 1)
    bad = [100 * step / last for step, position in enumerate(roof.walk) if position.sine < _DEAD_CENTRE]
    where = "closed" if bad[-1] == 0 else f"at {bad[0]:.0f} to {bad[-1]:.0f} % of the travel"
    if trouble == "over-centre":
        return [
            f"Over-centre {where}: the line of the struts passes the wrong side, so they push it shut and no force can lift "
            "it there. If it is meant to hold the lid shut, the hand must pull it past that point, where it springs on. If "
            "not, move the mounts"
        ]
    return [
        f"Near dead centre {where}: the struts push almost straight at the hinge or across the guides, so the force has no "
        "useful figure and the play of the mounts decides. Move the mounts to give them more lever"
    ]


def _build(roof: _Roof, mode: str) -> list[str]:
    """Return cautions on how the struts are placed."""
    said = []
    opened = roof.opened
    if opened is None:
        said.append(
            "Only the closed place is known, so nothing is said of the open one. One strut force cannot balance all places: give "
            + ("base_offset, height_closed and rise" if mode == _GUIDED else "the mount points and open_angle")
        )
    elif opened.length is not None and roof.travel is not None and roof.travel >= _LONGEST_STROKE * opened.length:
        said.append(
            f"The travel takes {roof.travel * 1000:.0f} mm of stroke from a strut {opened.length * 1000:.0f} mm long when "
            "out. A strut of usual build is longer than twice its stroke (common practice): move the mounts so that the "
            "stroke is less than half"
        )
    if _DEAD_CENTRE <= roof.closed.sine < _SHALLOW:
        said.append(
            f"Closed, the struts lie {math.degrees(math.asin(roof.closed.sine)):.0f}° from dead centre: a few mm in the "
            "mounts change the force noticeably. Measure the mounts as built and work it out again"
        )
    if mode == _GUIDED and max(position.side for position in roof.walk) > _NOISE:
        said.append(
            "Struts lean, so each pushes sideways on its slide. A mirrored pair on a stiff panel cancels it; the same lean "
            "on both sides, or a strut alone, loads the slides: check them against their data sheet at the greatest side "
            "force"
        )
    return said


def _up(newtons: float) -> int:
    """Return a force rounded up to whole newtons, with a hair more than balance so that it holds."""
    return math.floor(newtons) + 1


def _check(
    mode: str,
    loads: Mapping[str, Quantity | None],
    guided: Mapping[str, Quantity | None],
    hinged: Mapping[str, Quantity | None],
    gas: Mapping[str, Quantity | None],
) -> None:
    """Raise InputError with every set of fields that does not go together."""
    problems = []
    given = [name for name, value in loads.items() if value is not None]
    if len(given) > 1:
        problems.append(
            FieldProblem("weight", "mass and weight are both given", "give one: kilograms as mass, or newtons as weight")
        )
    if not given:
        problems.append(FieldProblem("mass", "nothing given", "give mass (kg or lb), or weight as a force (N or lbf)"))
    own, other, foreign = (guided, hinged, _HINGED) if mode == _GUIDED else (hinged, guided, _GUIDED)
    problems += [
        FieldProblem(name, f"goes with mode {foreign}, not {mode}", f"leave it out, or give mode={foreign}")
        for name, value in other.items()
        if value is not None
    ]
    single, several = ("angle", _GUIDED_POINTS) if mode == _GUIDED else ("arm", _HINGED_POINTS)
    points = [name for name in several if own[name] is not None]
    listed = f"{', '.join(several[:-1])} and {several[-1]}"
    if own[single] is not None and points:
        problems.append(FieldProblem(single, f"given together with {', '.join(points)}", f"give {single}, or {listed}"))
    elif own[single] is None and not points:
        problems.append(FieldProblem(single, "nothing says how the struts stand", f"give {single}, or {listed}"))
    elif points and len(points) < len(several):
        problems += [
            FieldProblem(name, f"nothing given, and {', '.join(points)} need it", f"give {listed}")
            for name in several
            if name not in points
        ]
    if mode == _HINGED:
        if hinged["cg_distance"] is None:
            problems.append(FieldProblem("cg_distance", "nothing given", "give the distance from hinge to centre of gravity"))
        if own["arm"] is not None:
            problems += [
                FieldProblem(name, "the arm of the strut is known closed only", f"leave it out, or give {listed} instead of arm")
                for name in ("open_angle", "lid_mount_y")
                if own[name] is not None
            ]
        low, high = own["lid_angle"], own["open_angle"]
        if high is not None and high.value_in("°") <= (low.value_in("°") if low is not None else 0.0):
            problems.append(FieldProblem("open_angle", "is not above the angle when closed", "give the greater angle, lid open"))
    if gas["gas_volume"] is not None:
        if gas["progressivity"] is not None:
            problems.append(FieldProblem("gas_volume", "given together with progressivity", "give one of them"))
        problems += [
            FieldProblem(name, "nothing given, and gas_volume needs it", "give rod, stroke and gas_volume, or progressivity")
            for name in ("rod", "stroke")
            if gas[name] is None
        ]
    if problems:
        raise InputError(*problems)


def _length(name: str, title: str, help: str, low: float | None = None, above: float | None = None) -> Field:
    return Field(name, title, Measure("mm", low=low, above=above, high=5000), help)


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the force that each strut needs and gives along the travel, in N from closed to open; None where it is not known."""
    roof = _drawn_roof(inputs)
    first = size(inputs, "force") or size(outputs, "force")
    if first is None or roof.opened is None or roof.trouble() is not None:
        return None
    strut = _Strut(first.value_in("N"), number(outputs, "progressivity_used", ""))
    curves: list[tuple[str, Mark, list[float]]] = [
        ("needed", "plus", [position.balance(roof.struts, roof.friction) for position in roof.walk])
    ]
    marks: tuple[tuple[str, float, Mark], ...] = (
        (f"cold, {roof.cold:.4g} °C", roof.cold, "ring"),
        (f"at {_RATED_AT:g} °C", _RATED_AT, "dot"),
        (f"hot, {roof.hot:.4g} °C", roof.hot, "cross"),
    )
    curves += [(name, mark, [strut.at(position.depth, celsius) for position in roof.walk]) for name, celsius, mark in marks]
    every = [force for _, _, forces in curves for force in forces]
    room = 0.1 * (max(every) - min(every)) or 1.0
    last = len(roof.walk) - 1
    ends = [", ".join(f"{both(Quantity(round(forces[place]), 'N'))} {name}" for name, _, forces in curves) for place in (0, last)]
    return Picture(
        (),
        tuple(Label(name, (last, forces[-1]), Quantity(forces[-1], "N"), 0) for name, _, forces in curves),
        f"Force of each strut, closed: {ends[0]}; open: {ends[1]}.",
        (0.0, min(every) - room),
        (float(last), max(every) + room),
        tuple(
            Curve(tuple((float(place), force) for place, force in enumerate(forces)), name, mark) for name, mark, forces in curves
        ),
        foot=("closed", "open"),
        unit="",
        to_scale=False,
    )


def _drawn_roof(inputs: Mapping[str, Value]) -> _Roof:
    """Return the roof of inputs that a result was worked out from."""
    newtons = number(inputs, "weight", "N") or number(inputs, "mass", "kg") * _GRAVITY
    stroke, opened = size(inputs, "stroke"), size(inputs, "open_angle")
    long = stroke.value_in("m") if stroke else None
    if inputs["mode"] == _GUIDED:
        walk, travel = _guided(
            newtons, size(inputs, "angle"), size(inputs, "base_offset"), size(inputs, "height_closed"), size(inputs, "rise"), long
        )
    else:
        cg = number(inputs, "cg_distance", "m")
        walk, travel = _hinged(
            newtons,
            cg,
            size(inputs, "arm"),
            size(inputs, "lid_mount"),
            size(inputs, "lid_mount_y"),
            size(inputs, "body_x"),
            size(inputs, "body_y"),
            math.radians(number(inputs, "lid_angle", "°")),
            math.radians(opened.value_in("°")) if opened else None,
            number(inputs, "handle", "m") or 2 * cg,
            long,
        )
    struts = inputs["struts"]
    assert isinstance(struts, int)
    cold, hot = number(inputs, "cold", "°C"), number(inputs, "hot", "°C")
    return _Roof(struts, number(inputs, "friction", ""), walk, travel, cold, hot)


CALCULATOR = Calculator(
    name="strut",
    title="Gas struts for a roof or lid",
    inputs=(
        Field(
            "mode",
            "How it moves",
            Choice((_GUIDED, _HINGED)),
            "guided: straight up in slides; hinged: on a hinge, as a lid.",
            required=True,
        ),
        Field("mass", "Mass lifted", Measure("kg", above=0, high=1000, soft_high=150), "Weigh it; or give weight."),
        Field("weight", "or weight, as a force", Measure("N", above=0, high=10_000, soft_high=1500)),
        Field("struts", "Struts", Count(1, 12), default="2"),
        Field(
            "angle",
            "Guided: angle, closed",
            Measure("°", above=0, high=90, soft_low=30),
            "Of the struts from horizontal. Only closed is worked out with it, unless they stand upright (90°).",
        ),
        _length("base_offset", "Guided: lower pivot aside", "Of the upper one, measured horizontally.", low=0),
        _length(
            "height_closed", "Guided: height, closed", "Of the upper pivot over the lower one; under it is negative.", low=-5000
        ),
        _length("rise", "Guided: rise to open", "How far the roof goes up.", above=0),
        Field(
            "friction",
            "Guided: slide friction",
            Measure("", low=0, high=1, soft_high=0.4),
            "Coefficient, where the side force of the struts presses on the slides; a mirrored pair on a stiff panel: none.",
        ),
        _length("cg_distance", "Hinged: hinge to CG", "Centre of gravity, along the lid: where it balances on a rod.", above=0),
        _length("arm", "Hinged: arm of the strut", "Hinge to the line of the strut, square to it, lid closed.", low=5),
        _length("lid_mount", "Hinged: hinge to lid mount", "Along the lid.", above=0),
        _length(
            "lid_mount_y", "Hinged: lid mount, off", "Square to the lid from the hinge's line; under it is negative.", low=-5000
        ),
        _length("body_x", "Hinged: body mount, x", "From the hinge, horizontally; towards the lid is positive.", low=-5000),
        _length("body_y", "Hinged: body mount, y", "From the hinge, upwards; under it is negative.", low=-5000),
        Field(
            "lid_angle",
            "Hinged: lid angle, closed",
            Measure("°", low=-60, high=80),
            "From horizontal, opening is positive; 0 where empty.",
        ),
        Field("open_angle", "Hinged: lid angle, open", Measure("°", low=-59, high=135, soft_high=110)),
        _length("handle", "Hinged: hinge to hand", "Twice the distance of the centre of gravity where empty.", above=0),
        Field(
            "margin",
            "Margin on the force",
            Measure("%", low=0, high=100, soft_low=10, soft_high=30),
            "Counted once, on the force: 10 to 20 % (common practice).",
            default="15 %",
        ),
        Field(
            "force",
            "Strut chosen: force F1",
            Measure("N", above=0, high=10_000, soft_high=2500),
            "Each, at 20 °C with the rod nearly out, as printed on it. Empty: the force to buy.",
        ),
        Field(
            "progressivity",
            "Strut: F2/F1",
            Measure("", low=1, high=3, soft_low=1.05, soft_high=1.6),
            "Force with the rod in over force with the rod out, from the data sheet.",
        ),
        Field("stroke", "Strut: stroke", Measure("mm", above=0, high=1500, soft_low=20, soft_high=800)),
        Field("rod", "Strut: rod diameter", Measure("mm", above=0, high=40, soft_low=4, soft_high=20)),
        Field(
            "gas_volume",
            "Strut: gas volume",
            Measure("mL", above=0, high=10_000, soft_high=1000),
            "With the rod out; with rod and stroke it gives F2/F1.",
        ),
        Field("cold", "Coldest use", Measure("°C", low=-60, high=20, soft_low=-40), default="-10 °C"),
        Field(
            "hot", "Hottest use", Measure("°C", low=20, high=80, soft_high=60), "In the sun, more than the air.", default="40 °C"
        ),
    ),
    outputs=_OUTPUTS,
    source=(
        _STATICS,
        _GAS,
        _BOYLE,
        Source("Force linear along the stroke, F1 + (F2 − F1) s/S; F1 is stated at about 20 °C (strut makers' notes)", "read"),
        Source("Margin 10 to 20 %; stroke under half the length; prop first, never drill, heat or cut", "common practice"),
        Source("F2/F1 1.2 to 1.5; new struts ±5 to 7 %, 10 to 15 % lost over their life", "memory"),
        Source("Load constant 23 kg of the NIOSH lifting equation, 94-110 (a textbook's transcription)", "read"),
    ),
    valid="Slow movement in one plane, all struts alike and sharing the load; on a hinge the centre of gravity lies on the line "
    "from the hinge along the lid. Rod fully out when open. Signs: hand forces are what you must lift with, along the "
    "guides or square to the lid at the hand; negative, it lifts itself and you hold it down. Strut arms are positive where "
    "they open. Cold to −60 and hot to 80 °C, where the gas is nearly ideal; struts' own limits are narrower. Hand forces "
    "leave out the friction of the slides, told apart. Wind, snow, seals, oil damping and the friction of the strut's own "
    "seals are not counted.",
    examples=(
        Example(
            {"mode": "guided", "mass": "30 kg", "struts": "2", "angle": "60°", "margin": "15 %"},
            {"force": 195.33, "force_closed": 169.86, "side_force": 84.928},
            _STATICS,
            rel=0.005,
        ),
        Example(
            {"mode": "hinged", "mass": "20 kg", "struts": "2", "cg_distance": "0.5 m", "arm": "0.15 m", "margin": "15 %"},
            {"force": 375.92, "force_closed": 326.89},
            _STATICS,
            rel=0.005,
        ),
        Example(
            {
                "mode": "hinged",
                "mass": "18 kg",
                "cg_distance": "0.45 m",
                "lid_mount": "0.25 m",
                "body_x": "0.05 m",
                "body_y": "-0.2 m",
                "lid_angle": "0°",
                "open_angle": "30°",
            },
            {"force_closed": 224.67, "force_open": 253.48, "arm_open": 135.69, "length_open": 365.17},
            _STATICS,
            rel=0.005,
        ),
        Example(
            {"mode": "guided", "weight": "300 N", "struts": "1", "angle": "90°", "force": "300 N", "progressivity": "1"},
            {"hand_open": 0.0, "hand_open_cold": 30.701, "verdict": "drops when cold, lifts by itself when hot"},
            _GAS,
            rel=0.01,
        ),
        Example(
            {
                "mode": "guided",
                "weight": "200 N",
                "struts": "1",
                "base_offset": "0 mm",
                "height_closed": "450 mm",
                "rise": "200 mm",
                "force": "250 N",
                "stroke": "200 mm",
                "rod": "8 mm",
                "gas_volume": "50 mL",
            },
            {"progressivity_used": 1.2517, "push_closed": 312.9},
            _BOYLE,
            rel=0.005,
        ),
    ),
    compute=_compute,
    picture=_picture,
)
