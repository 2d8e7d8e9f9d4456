"""Gas struts for a roof in slides or a lid on a hinge: the force to buy, and the hand force, cold and hot."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Threshold, joined
from shopmate.errors import FieldProblem
from shopmate.models import hands
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, some, together
from shopmate.models.side_view import Leg, counted, from_the_side, hinged, over_travel, said_of_hinge
from shopmate.models.struts import (
    COLD,
    GAS,
    HOT,
    LINEAR,
    LONGEST_STROKE,
    RATED_AT,
    SHALLOW,
    STATICS,
    STEPS,
    USUAL_PROGRESSIVITY,
    Place,
    Strut,
    Walk,
    can_be_built,
    felt,
    in_guides,
    marks,
    mounts,
    on_hinge,
    one_person,
    said_of_build,
    springs_up,
    upright,
    warmth,
)
from shopmate.picture import Mark, Picture, both, number, size
from shopmate.records import dataclass
from shopmate.units import Quantity, significant

_BOYLE = Source(
    "Boyle's law: F2/F1 = V/(V − rod area × stroke); the pressure acts on the cross-section of the rod, not of the bore",
    "computed",
)
_HABIT = Source(
    "Margin 10 to 20 %; stroke less than half the extended length; prop first; never drill, heat or cut a strut",
    "common practice",
)
_PLAY = Source("1 mm of play on a 40 mm mount changes the sine by 0.025; 30° from dead centre half the force is lost", "computed")

_AGED = 0.85
"""Force of a worn strut as a share of its force when new: struts lose 10 to 15 % over their life [memory]."""

_DEAD_CENTRE = Threshold(0.05, "", _PLAY, "Near dead centre", "", "2.87°", "2.86°", "angle")
"""Sine of the angle from dead centre (about 3°) below which a calculated force is no use:
play in the mounts changes it by half."""

_SHALLOW = Threshold(SHALLOW, "", _PLAY, "a few mm at the mounts", "", "30.01°", "29.99°", "angle")
"""Sine of the angle from dead centre (30°) below which more than half the force is lost."""

_LONGEST_STROKE = Threshold(
    LONGEST_STROKE, "", _HABIT, "An ordinary strut", "", "449.9 mm", "450 mm", "rise",
    {"angle": "", "base_offset": "0 mm", "height_closed": "450 mm"},
)  # fmt: skip
"""Ratio of stroke to extended length at which no ordinary strut is made: rod and tube are each a stroke long, plus the ends."""

_PUSH = Threshold(
    hands.PUSH,
    "N",
    hands.PUSH_SOURCE,
    "limit for one person to push",
    "hand_most",
    "24.6 kg",
    "24.65 kg",
    "mass",
    {"force": "70 N"},
)
"""Largest push up for one person."""

_PULL = Threshold(
    hands.PULL, "N", hands.PULL_SOURCE, "cannot be closed by hand", "hand_pull", "63.2 N", "63.5 N", "force", {"mass": "1 kg"}
)
"""Largest pull down for one person."""

_UPRIGHT = Threshold(
    90.0, "°", Source("Upright means square to the ground", "computed"), "Only the closed position", "angle", "90°", "89.9°"
)
"""Angle of an upright strut, which doesn't change as the roof rises."""

_GUIDED, _HINGED = "guided", "hinged"
_POINTS = {_GUIDED: ("base_offset", "height_closed", "rise"), _HINGED: ("lid_mount", "body_x", "body_y")}
_SIMPLE = {_GUIDED: "angle", _HINGED: "arm"}
"""The fields that locate a strut in each mode: all of the mount points, or a single angle or arm."""

_IN_WORDS = {
    "angle": "the strut angle",
    "arm": "the lever arm",
    "base_offset": "the lower pivot offset",
    "height_closed": "the closed height",
    "rise": "the rise",
    "lid_mount": "the hinge to lid mount distance",
    "body_x": "the body mount x",
    "body_y": "the body mount y",
}
"""Those fields as an error names them."""

_OWN = {
    _GUIDED: ("angle", *_POINTS[_GUIDED], "friction"),
    _HINGED: ("cg_distance", "arm", *_POINTS[_HINGED], "lid_mount_y", "lid_angle", "open_angle", "handle"),
}
"""The fields that belong to one mode only."""

_ALWAYS = (
    "Struts are no safety device: put a locking prop under an open roof before anyone goes under it. If the roof can "
    "fall on someone, have a licensed engineer check mounts, slides and struts. Wind and snow are not included in these figures",
    "Prop the roof before you touch, fit or remove a strut; fit struts last, with the roof open; keep hands clear of slides, "
    "hinge and seal, which can pinch (common practice)",
    "A strut is always under pressure, fitted or not: never drill, heat, cut or open it; dispose of it as its data sheet says",
)
"""Shown with every strut [common practice]."""

_OUTPUTS = (
    Output("force", "F1 to buy, per strut", "N", 0),
    Output("verdict", "Verdict"),
    Output("hand_closed", "Hand force closed, 20 °C", "N", 0),
    Output("hand_open", "Hand force open, 20 °C", "N", 0),
    Output("hand_closed_cold", "Hand force closed, cold", "N", 0),
    Output("hand_open_cold", "Hand force open, cold", "N", 0),
    Output("hand_closed_hot", "Hand force closed, hot", "N", 0),
    Output("hand_open_hot", "Hand force open, hot", "N", 0),
    Output("hand_middle", "Hand force half-way, 20 °C", "N", 0),
    Output("hand_middle_cold", "Hand force half-way, cold", "N", 0),
    Output("hand_middle_hot", "Hand force half-way, hot", "N", 0),
    Output("hand_pull", "Hardest pull down, hot", "N", 0),
    Output("one_person_low", "One person: F1, min", "N", 0),
    Output("one_person_high", "One person: F1, max", "N", 0),
    Output("mount_aside", "Better mounts: lower pivot offset", "mm", 0),
    Output("mount_height", "Better mounts: height, closed", "mm", 0),
    Output("hand_one_lost", "Hand force open, one strut failed", "N", 0),
    Output("side_force", "Side force per strut at balance", "N", 0),
    Output("side_force_most", "Largest side force per strut", "N", 0),
    Output("friction_force", "Force from slide friction", "N", 0),
    Output("force_closed", "F1 to balance the closed roof", "N", 0),
    Output("force_open", "F1 to balance the open roof", "N", 0),
    Output("arm_closed", "Lever arm of the strut, closed", "mm", 0),
    Output("arm_open", "Lever arm of the strut, open", "mm", 0),
    Output("length_closed", "Strut length, closed", "mm", 0),
    Output("length_open", "Strut length, open", "mm", 0),
    Output("stroke_used", "Stroke needed", "mm", 0),
    Output("force_cold", "F1 when cold", "N", 0),
    Output("force_hot", "F1 when hot", "N", 0),
    Output("push_closed", "Strut force, closed, 20 °C", "N", 0),
    Output("progressivity_used", "F2/F1 used", "", 2),
    Output("gas_pressure", "Gas pressure, rod out", "MPa", 1),
    Output("stored_energy", "Stored energy per strut", "J", 0),
    Output("weight_lifted", "Weight lifted", "N", 1),
    Output("hand_most", "Hardest lift, cold", "N", 0),
    Output("stays_closed", "Maximum F1 to stay closed, hot", "N", 0),
    Output("holds_new", "Minimum F1 to hold open, cold, new", "N", 0),
    Output("holds_worn", "Minimum F1 to hold open, cold, worn", "N", 0),
    Output("hand_open_worn", "Hand force open, cold, worn", "N", 0),
    Output("hand_reach", "Hinge to hand", "mm", 0),
    Output("from_dead_centre_closed", "Angle from dead centre, closed", "°"),
    Output("from_dead_centre_open", "Angle from dead centre, open", "°"),
    Output("stuck_from", "No lift, from this share of the travel", "%", 0),
    Output("stuck_to", "No lift, up to this share of the travel", "%", 0),
)
_Fields = Mapping[str, object]
"""The fields as entered, or the inputs of a result."""


def _rising(place: Place, friction: float) -> float:
    """Return the lever, reduced by the slide friction that the strut's own side force causes."""
    return place.lever - friction * place.side


def _carried(place: Place, struts: int, strut: Strut, celsius: float) -> float:
    """Return the F1 in N at which struts like this one just carry the load at that position and temperature."""
    return strut.force * max(0.0, place.load) / (struts * place.lever * strut.at(place.depth, celsius))


@dataclass(frozen=True, slots=True)
class _Roof:
    """The load on the struts, how many there are, and the steps of the travel from closed to open."""

    guided: bool
    struts: int
    friction: float
    walk: Walk
    """Steps equally spaced from closed to open; only the closed one if the open position is not known."""
    travel: float | None
    """Stroke needed in m; None if the mounts are not known."""
    cold: float
    hot: float

    @property
    def closed(self) -> Place:
        return self.walk[0]

    @property
    def opened(self) -> Place | None:
        return self.walk[-1] if len(self.walk) > 1 else None

    @property
    def ends(self) -> dict[str, Place]:
        """The closed and open positions by name, where known."""
        return {"closed": self.closed} | ({} if self.opened is None else {"open": self.opened})

    def hand(self, place: Place, strut: Strut, celsius: float = RATED_AT, lost: int = 0) -> float:
        """Return the hand force in N, negative if the roof lifts by itself; `lost` is how many struts have failed."""
        return place.left((self.struts - lost) * strut.at(place.depth, celsius) * place.lever)

    def balance(self, place: Place) -> float:
        """Return the force in N per strut that just raises the load there; the lever, reduced by friction, must be above 0."""
        return max(0.0, place.load) / (self.struts * _rising(place, self.friction))

    def push(self, strut: Strut) -> float:
        """Return the hardest lift in N over the travel when cold; negative if the roof lifts by itself all the way."""
        return max(self.hand(place, strut, self.cold) for place in self.walk)

    def pull(self, strut: Strut) -> float:
        """Return the hardest pull down in N over the travel when hot; 0 or more."""
        return max(0.0, *(-self.hand(place, strut, self.hot) for place in self.walk))

    def trouble(self) -> str | None:
        """Return the verdict if no strut force can work with these mounts, otherwise None."""
        least = min(position.sine for position in self.walk)
        if least <= 0:
            return "over-centre"
        if least < _DEAD_CENTRE.value:
            return "near dead centre"
        if min(_rising(place, self.friction) for place in self.walk) < _DEAD_CENTRE.value * max(
            place.lever for place in self.walk
        ):
            return "jams"
        return None

    def window(self, progressivity: float) -> tuple[float, float] | None:
        """Return the lowest and highest F1, in whole N, with which one person can move the roof through its whole travel.

        The push up when cold and the pull down when hot stay within their limits. None if no strut can do both.
        """
        if self.trouble() is not None:
            return None
        single = Strut(1.0, progressivity)
        lifted = [(place, self.struts * place.lever * single.at(place.depth)) for place in self.walk]
        suits = one_person(lifted, self.cold, self.hot, _PUSH.value, _PULL.value)
        if suits is None:
            return None
        low, high = suits
        least, most = math.ceil(low), math.floor(high)
        return (least, most) if least <= most else None

    @property
    def can_be_built(self) -> bool:
        """Whether an ordinary strut has the stroke needed."""
        return self.opened is not None and self.travel is not None and can_be_built(self.opened, self.travel)

    def required(self, progressivity: float) -> float:
        """Return the lowest F1 in N, at 20 °C and without margin, that carries the load over the whole travel."""
        return max(self.balance(place) / (1 + (progressivity - 1) * place.depth) for place in self.walk)


def _roof(fields: _Fields) -> _Roof:
    """Return the roof from checked fields."""
    guided, struts, weight = fields["mode"] == _GUIDED, fields["struts"], _weight(fields)
    assert isinstance(struts, int)
    walk, travel = (_guided if guided else _hinged)(fields, weight)
    cold, hot = number(fields, "cold", "°C"), number(fields, "hot", "°C")
    return _Roof(guided, struts, number(fields, "friction", ""), walk, travel, cold, hot)


def _weight(fields: _Fields) -> float:
    """Return the weight lifted in N."""
    return number(fields, "weight", "N") or number(fields, "mass", "kg") * GRAVITY


def _guided(fields: _Fields, weight: float) -> tuple[Walk, float | None]:
    """Return the steps of a roof in vertical guides, and the stroke needed in m."""
    if angle := size(fields, "angle"):
        if angle.value_in("°") >= _UPRIGHT.value:
            return upright(weight), None
        slope = math.radians(angle.value_in("°"))
        return (Place(1.0, weight, math.sin(slope), math.sin(slope), side=math.cos(slope)),), None
    aside, low, rise = (number(fields, name, "m") for name in _POINTS[_GUIDED])
    return in_guides(weight, aside, low, rise, in_unit(size(fields, "stroke"), "m"))


def _hinged(fields: _Fields, weight: float) -> tuple[Walk, float | None]:
    """Return the steps of a lid hinged at the origin, and the stroke needed in m."""
    cg, closed = number(fields, "cg_distance", "m"), math.radians(number(fields, "lid_angle", "°"))
    reach, moment = number(fields, "handle", "m") or 2 * cg, weight * cg
    if own := size(fields, "arm"):
        return (Place(1.0, moment * math.cos(closed), own.value_in("m"), 1.0, reach),), None
    along, x, y = (number(fields, name, "m") for name in _POINTS[_HINGED])
    lid, opened = (along, number(fields, "lid_mount_y", "m")), size(fields, "open_angle")
    swing, last = (math.radians(opened.value_in("°")) - closed, STEPS) if opened else (0.0, 0)
    turns = [closed + swing * step / STEPS for step in range(last + 1)]
    walk, travel = on_hinge(lambda turn: moment * math.cos(turn), reach, lid, (x, y), turns, in_unit(size(fields, "stroke"), "m"))
    return walk, travel if last else None


def _compute(**fields: object) -> Answer:
    refuse(*_problems(fields))
    roof, stroke = _roof(fields), in_unit(size(fields, "stroke"), "m")
    if stroke is not None and roof.travel is not None and roof.travel > stroke * (1 + NOISE):
        what = f"the travel needs {roof.travel * 1000:.1f} mm and the strut has {stroke * 1000:.1f} mm"
        refuse(FieldProblem("stroke", what, "use a strut with at least the stroke needed, or move the mounts"))
    ratio, of_gas = _progressivity(fields)
    trouble, margin = roof.trouble(), 1 + number(fields, "margin", "%") / 100
    needed = None if trouble else roof.required(ratio or 1.0) * margin
    chosen = in_unit(size(fields, "force"), "N")
    fitted = needed if chosen is None else chosen
    parts = [_load(fields, roof), of_gas, _stands(roof, trouble), _to_buy(needed, margin, ratio)]
    verdict, judged = trouble, Answer({})
    if fitted is not None:
        strut = Strut(fitted, ratio or USUAL_PROGRESSIVITY)
        parts += [_hands(roof, strut, chosen is not None), _pushes(roof, strut, fields)]
        if trouble is None:
            verdict = _verdict(roof, strut)
            judged = joined(_by_hand(fields, roof, strut), _remedies(roof, strut, verdict))
    # Danger to people comes first, unless no force can be worked out; then the mounts, then the assumptions.
    told = (*_ALWAYS, *_build(roof), *_assumed(fields, roof, fitted is not None and ratio is None))
    nothing = Answer(dict.fromkeys(output.name for output in _OUTPUTS))
    return joined(nothing, *parts, judged, Answer({"verdict": verdict}, (f"verdict: {verdict}",), told))


def _load(fields: _Fields, roof: _Roof) -> Answer:
    newtons, mass = _weight(fields), size(fields, "mass")
    said = f"weight = {newtons:.1f} N, as entered"
    if mass is not None:
        said = f"weight = mass × g = {significant(mass.value_in('kg'))} kg × {GRAVITY} m/s² = {newtons:.1f} N"
    used = None if roof.travel is None else roof.travel * 1000
    reach = None if roof.guided else roof.closed.reach * 1000
    return Answer({"weight_lifted": newtons, "stroke_used": used, "hand_reach": reach}, (said,))


def _progressivity(fields: _Fields) -> tuple[float | None, Answer]:
    """Return F2/F1 as entered, or by Boyle's law from gas volume (rod out), rod and stroke; None if neither is known."""
    gas, rod = size(fields, "gas_volume"), size(fields, "rod")
    if gas is None or rod is None:
        return in_unit(size(fields, "progressivity"), ""), Answer({})
    volume, swept = gas.value_in("mL"), _section(rod) * number(fields, "stroke", "m")
    if swept >= volume:
        what = f"the rod displaces {swept:.1f} mL, which leaves no room for the gas"
        refuse(FieldProblem("gas_volume", what, "enter the gas volume with the rod out, from the data sheet"))
    ratio = volume / (volume - swept)
    line = f"F2/F1 = V/(V − rod area × stroke) = {significant(volume)} mL/({significant(volume)} − {swept:.3f}) mL = {ratio:.3f}"
    return ratio, Answer({}, (line,))


def _section(rod: Quantity) -> float:
    """Return the cross-section in mm² of a round rod."""
    return math.pi * rod.value_in("mm") ** 2 / 4


def _stands(roof: _Roof, trouble: str | None) -> Answer:
    """Return the strut lengths and angles, closed and open, and the force that balances the roof there."""
    values: dict[str, float | None] = {}
    working = []
    for name, position in roof.ends.items():
        values[f"length_{name}"] = None if position.length is None else position.length * 1000
        if roof.guided or position.length is not None:
            values[f"from_dead_centre_{name}"] = math.degrees(math.asin(position.sine))
        if not roof.guided:
            values[f"arm_{name}"] = position.lever * 1000
        if trouble is None:
            values[f"force_{name}"] = roof.balance(position)
            working.append(f"{name}: force = {_balance(roof, position)}")
    if roof.guided and trouble is None:
        values["side_force"] = roof.balance(roof.closed) * roof.closed.side
    return joined(Answer(values, tuple(working)), _stuck(roof, trouble))


def _balance(roof: _Roof, position: Place) -> str:
    got = roof.balance(position)
    if not roof.guided:
        return (
            f"weight × its arm/(struts × strut arm) = {position.load:.2f} N·m/({roof.struts} × {position.lever:.5f} m) = "
            f"{got:.1f} N each (no less than 0)"
        )
    slide = f" − {roof.friction:g} × cos a" if roof.friction else ""
    return (
        f"weight/(struts × (sin a{slide})) = {position.load:.1f}/({roof.struts} × {_rising(position, roof.friction):.4f}) = "
        f"{got:.1f} N each, a = {math.degrees(math.asin(position.lever)):.1f}° from horizontal"
    )


def _to_buy(needed: float | None, margin: float, ratio: float | None) -> Answer:
    if needed is None:
        return Answer({})
    counted = f"with F2/F1 = {ratio:.3g}" if ratio else "ignoring the rise in force as the rod goes in (safe)"
    line = (
        f"F1 to buy (at 20 °C) = largest F1 needed over the travel, {counted}, × (1 + margin) = {needed / margin:.1f} × "
        f"{margin:.2f} = {needed:.1f} N each"
    )
    return Answer({"force": needed}, (line,))


def _hands(roof: _Roof, strut: Strut, own: bool) -> Answer:
    """Return the hand force at each known position, at 20 °C, cold and hot."""
    values: dict[str, float | None] = {"hand_most": roof.push(strut)}
    working = [
        f"hand forces with {'the strut entered' if own else 'the F1 to buy'}: F1 {strut.force:.1f} N, F2/F1 "
        f"{strut.progressivity:.3g}; + you lift, − the roof lifts by itself",
        f"gas force rises with the temperature in kelvin: × {warmth(roof.cold):.4f} at {roof.cold:.1f} °C, × "
        f"{warmth(roof.hot):.4f} at {roof.hot:.1f} °C",
    ]
    places = [("closed", roof.closed)]
    if roof.opened is not None:
        places += [("middle", roof.walk[len(roof.walk) // 2]), ("open", roof.opened)]
        if roof.struts > 1:
            values["hand_one_lost"] = roof.hand(roof.opened, strut, lost=1)
    for name, position in places:
        warm, cold, hot = (roof.hand(position, strut, celsius) for celsius in (RATED_AT, roof.cold, roof.hot))
        values |= {f"hand_{name}": warm, f"hand_{name}_cold": cold, f"hand_{name}_hot": hot}
        working.append(
            f"{name}: hand force = (load − struts × force × lever)/reach = ({position.load:.2f} − {roof.struts} × "
            f"{strut.at(position.depth):.1f} × {position.lever:.4f})/{position.reach:.3g} = {warm:.1f} N; "
            f"cold {cold:.1f} N, hot {hot:.1f} N"
        )
    return Answer(values, tuple(working))


def _pushes(roof: _Roof, strut: Strut, fields: _Fields) -> Answer:
    """Return the strut's forces, largest side force, gas pressure and stored energy."""
    values: dict[str, float | None] = {
        "force_cold": strut.at(0.0, roof.cold),
        "force_hot": strut.at(0.0, roof.hot),
        "push_closed": strut.at(roof.closed.depth),
        "progressivity_used": strut.progressivity,
    }
    working = []
    if roof.guided:
        values["side_force_most"] = most = max(strut.at(position.depth, roof.hot) * position.side for position in roof.walk)
        working.append(f"largest side force when hot = force × cos a = {most:.1f} N per strut")
    if roof.friction:
        drag = max(roof.friction * roof.struts * strut.at(position.depth) * position.side for position in roof.walk)
        values["friction_force"] = drag
        working.append(f"slide friction: up to {drag:.1f} N more to raise the roof, and that much less to lower it")
    if whole := number(fields, "stroke", "m") or roof.travel:
        values["stored_energy"] = energy = strut.at(0.5) * whole
        working.append(f"stored energy = (F1 + F2)/2 × stroke = {strut.at(0.5):.1f} N × {whole:.3f} m = {energy:.0f} J each")
    if rod := size(fields, "rod"):
        area = _section(rod)
        values["gas_pressure"] = pressure = strut.force / area
        working.append(f"gas pressure = F1/rod area = {strut.force:.1f} N/{area:.2f} mm² = {pressure:.2f} MPa")
    return Answer(values, tuple(working))


def _verdict(roof: _Roof, strut: Strut) -> str:
    """Return what the roof does with that strut, closed and open, cold and hot."""
    found = []
    opened = roof.opened
    if opened is not None and roof.hand(opened, strut, roof.cold) > 0:
        found.append("drops" if roof.hand(opened, strut) > 0 else "drops when cold")
    if roof.hand(roof.closed, strut, roof.hot) < 0:
        found.append("lifts by itself" if roof.hand(roof.closed, strut) < 0 else "lifts by itself when hot")
    if roof.pull(strut) > _PULL.value:
        found.append("hard to pull down")
    return ", ".join(found) or ("holds" if opened is not None else "stays closed")


def _by_hand(fields: _Fields, roof: _Roof, strut: Strut) -> Answer:
    """Return cautions on whether one person can open and close the roof, cold and hot, and what would help; shown first."""
    push, pull = roof.push(strut), roof.pull(strut)
    window = roof.window(strut.progressivity)
    values: dict[str, float | None] = {"hand_pull": pull}
    said = []
    if pull > _PULL.value:
        said.append(
            f"The roof cannot be closed by hand: at {roof.hot:.0f} °C the struts hold it up with {felt(pull)}, and the limit "
            f"for one person to pull down is {felt(_PULL.value)} (EN 1005-3)."
        )
    if push > _PUSH.value:
        said.append(
            f"At {roof.cold:.0f} °C you have to lift with as much as {felt(push)}, above the {felt(_PUSH.value)} limit for one "
            "person to push (EN 1005-3)."
        )
    if said and window is not None:
        from_ = f"{window[0]:.0f} to " if window[0] else "up to "
        said.append(f"Struts of {from_}{window[1]:.0f} N (F1) would suit one person.")
    elif said and (moved := _moved(fields, strut)) is not None:
        aside, height, *window_there = moved
        window = window_there[0], window_there[1]
        values |= {"mount_aside": aside, "mount_height": height}
        said.append(
            f"No strut suits one person with these mounts. Put the lower pivots {aside:.0f} mm to the side of the upper ones "
            f"and {height:.0f} mm below them when closed, and use struts of {window[0]:.0f} to {window[1]:.0f} N (F1)."
        )
    elif said:
        said.append(
            "No strut with this F2/F1 suits one person at every height, cold and hot: use struts with a lower F2/F1, get a "
            "second person or a hoist, or make the roof lighter."
        )
    values |= {"one_person_low": window and window[0], "one_person_high": window and window[1]}
    return Answer(values, (), (" ".join(said),) if said else ())


def _moved(fields: _Fields, strut: Strut) -> tuple[float, float, float, float] | None:
    """Return the nearest mounts of a guided roof that suit one person, in mm, with the F1 range in N; None if there are none."""
    if fields["mode"] != _GUIDED or any(size(fields, name) is None for name in _POINTS[_GUIDED]):
        return None
    aside, height, rise = (number(fields, name, "mm") for name in _POINTS[_GUIDED])
    for across, under in mounts(aside, height, rise):
        roof = _roof({**fields, "base_offset": Quantity(across, "mm"), "height_closed": Quantity(under, "mm")})
        window = roof.window(strut.progressivity)
        if window is not None and roof.can_be_built:
            return across, under, *window
    return None


def _remedies(roof: _Roof, strut: Strut, verdict: str) -> Answer:
    """Return cautions on a roof that drops or lifts by itself, with the strut forces that prevent it.

    Cautions on new struts come before those on worn ones.
    """
    said, worn, carries = [], [], 0.0
    closed, opened = roof.closed, roof.opened
    cold = f"{roof.cold:.0f} °C"
    stays = _carried(closed, roof.struts, strut, roof.hot)
    values: dict[str, float | None] = {"stays_closed": math.floor(stays)}
    if opened is not None:
        carries = _carried(opened, roof.struts, strut, roof.cold)
        # A hair more than balance, so that it holds.
        new, old = math.floor(carries) + 1, math.floor(carries / _AGED) + 1
        aged = roof.hand(opened, Strut(strut.force * _AGED, strut.progressivity), roof.cold)
        values |= {"holds_new": new, "holds_worn": old, "hand_open_worn": aged}
        if "drops" in verdict:
            said.append(
                f"At {cold} the open roof comes down with a force of {roof.hand(opened, strut, roof.cold):.0f} N. Struts of "
                f"{new} N hold the roof while they are new; struts of {old} N still hold it when they have lost 15 % (typical "
                "over their life). Prop it anyway before anyone goes under it"
            )
        elif aged > 0:
            worn.append(
                "The roof stays open while the struts are new. When they have lost 15 % (typical over their life) the roof "
                f"comes down with a force of {aged:.0f} N at {cold}; struts of {old} N would still hold it. Prop the roof, and "
                "test the struts every season"
            )
    if "lifts by itself" in verdict:
        said.append(
            f"{springs_up(-roof.hand(closed, strut, roof.hot), roof.hot, hinged=not roof.guided)}. To stay closed without a "
            f"latch the roof needs struts of no more than {math.floor(stays)} N"
        )
        if stays < carries:
            said.append(
                "With these mounts no strut force keeps the roof both closed when hot and open when cold: use a latch and a "
                "prop, or move the mounts for more leverage when open and less when closed"
            )
    if opened is not None and roof.struts > 1:
        lost = roof.hand(opened, strut, lost=1)
        if lost > 0:
            said.append(
                f"If one strut fails, the open roof comes down with a force of {lost:.0f} N: don't rely on the others as a prop"
            )
    if roof.struts == 1:
        said.append(
            "A single strut twists the roof, and if that strut fails nothing holds the roof: use two, one each side, and a prop"
        )
    return Answer(values, (), (*said, *worn))


def _stuck(roof: _Roof, trouble: str | None) -> Answer:
    """Return why no strut force can be worked out, where along the travel, and what to change."""
    if trouble is None:
        return Answer({})
    if trouble == "jams":
        said = (
            "The struts lean so far that slide friction cancels their lift: the slides jam whatever the force. Set the struts "
            "steeper, or use lower-friction slides"
        )
        return Answer({}, (), (said,), has_figure=False)
    last = max(1, len(roof.walk) - 1)
    bad = [100 * step / last for step, position in enumerate(roof.walk) if position.sine < _DEAD_CENTRE.value]
    where = "when closed" if bad[-1] == 0 else f"at {bad[0]:.0f} to {bad[-1]:.0f} % of the travel"
    if trouble == "over-centre":
        said = (
            f"Over centre {where}: the struts push the roof shut there, whatever their force. If they are meant to hold it "
            "shut, you have to lift the roof past that point by hand, and then it springs open. If not, move the mounts"
        )
    else:
        said = (
            f"Near dead centre {where}: the struts push almost straight at the hinge or across the guides, so a little play in "
            "the mounts changes the force completely. Move the mounts to give them more leverage"
        )
    return Answer({"stuck_from": bad[0], "stuck_to": bad[-1]}, (), (said,), has_figure=False)


def _build(roof: _Roof) -> list[str]:
    """Return cautions on the strut mounts."""
    said = []
    opened = roof.opened
    if opened is None:
        said.append(
            "Only the closed position is known, so the open one is not checked, and one force can't balance both positions: "
            "enter "
            + ("the lower pivot offset, the closed height and the rise" if roof.guided else "the mount points and the open angle")
        )
    if roof.closed.sine >= _DEAD_CENTRE.value:
        said += said_of_build(roof.walk, roof.travel or 0.0)
    return said


def _assumed(fields: _Fields, roof: _Roof, usual: bool) -> list[str]:
    """Return what was assumed for blank fields; `usual` is whether F2/F1 was too."""
    said = []
    if not roof.guided and fields["handle"] is None:
        said.append(
            f"The hand is assumed to push {roof.closed.reach * 1000:.0f} mm from the hinge, square to the lid: twice the "
            "distance to the centre of gravity, which is the free edge if the lid has the same weight all along. Enter the "
            "distance from hinge to hand if you push elsewhere"
        )
    if usual:
        said.append(
            f"The hand forces use F2/F1 = {USUAL_PROGRESSIVITY}, which is typical (1.2 to 1.5): enter the one on your data "
            "sheet. The force to buy ignores the rise in force as the rod goes in, so it errs on the strong side"
        )
    return said


def _problems(fields: _Fields) -> list[FieldProblem]:
    """Return a problem for each field that conflicts with another or is missing."""
    mode, other = (_GUIDED, _HINGED) if fields["mode"] == _GUIDED else (_HINGED, _GUIDED)
    return [
        *_load_problems(fields),
        *given(
            some(fields, _OWN[other]),
            f"is only for a {other} roof, and this one is {mode}",
            f"leave this blank, or choose {other}",
        ),
        *_stand_problems(fields, mode),
        *(_hinge_problems(fields) if mode == _HINGED else ()),
        *_gas_problems(fields),
    ]


def _load_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problem of a load entered twice or not at all."""
    mass, weight = fields["mass"], fields["weight"]
    if mass is not None and weight is not None:
        return [FieldProblem("weight", "mass and weight are both entered", "enter one: kilograms as mass, or newtons as weight")]
    if mass is None and weight is None:
        return [FieldProblem("mass", "nothing entered", "enter mass (kg or lb), or weight as a force (N or lbf)")]
    return []


def _listed(mode: str) -> str:
    """Return the fields that together locate the struts, in words."""
    *names, final = map(_IN_WORDS.__getitem__, _POINTS[mode])
    return f"{', '.join(names)} and {final}"


def _stand_problems(fields: _Fields, mode: str) -> list[FieldProblem]:
    """Return what is missing to locate the struts, or what was entered twice."""
    single, points, listed = _SIMPLE[mode], some(fields, _POINTS[mode]), _listed(mode)
    known = " and ".join(_IN_WORDS[name] for name, value in points.items() if value is not None)
    if fields[single] is not None and known:
        return [FieldProblem(single, f"conflicts with {known}", f"enter {_IN_WORDS[single]} alone, or {listed}")]
    if fields[single] is None and not known:
        return [FieldProblem(single, "the position of the struts is missing", f"enter {_IN_WORDS[single]}, or {listed}")]
    return together(points, f"is needed together with {known}", f"enter {listed}")


def _hinge_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with a lid on hinges."""
    what = "enter the distance from hinge to centre of gravity"
    problems = [*missing(some(fields, ["cg_distance"]), "nothing entered", what)]
    if fields["arm"] is not None:
        what, fix = (
            ("with only the lever arm, the open lid can't be worked out"),
            f"leave this blank, or enter {_listed(_HINGED)} instead of the lever arm",
        )
        problems += given(some(fields, ["open_angle", "lid_mount_y"]), what, fix)
    high = size(fields, "open_angle")
    if high is not None and high.value_in("°") <= number(fields, "lid_angle", "°"):
        problems.append(
            FieldProblem(
                "open_angle",
                "is not larger than the angle when closed",
                "enter the angle of the open lid, larger than the closed one",
            )
        )
    return problems


def _gas_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with a gas volume entered instead of F2/F1."""
    if fields["gas_volume"] is None:
        return []
    what, fix = "nothing entered, and the gas volume needs it", "enter rod diameter, stroke and gas volume, or F2/F1 alone"
    lacking = missing(some(fields, ["rod", "stroke"]), what, fix)
    if fields["progressivity"] is None:
        return [*lacking]
    return [FieldProblem("gas_volume", "F2/F1 is entered too", "leave either the gas volume or F2/F1 blank"), *lacking]


def _length(name: str, title: str, help: str, low: float | None = None, above: float | None = None) -> Field:
    return Field(name, title, Measure("mm", low=low, above=above, high=5000), help)


def _side_view(inputs: _Fields, outputs: _Fields) -> Picture | None:
    """Return the side view of a hinged lid, closed and open, with its struts; None if the mounts are not known.

    Not drawn for a roof in slides: the form does not ask where its struts are along the roof (the roof calculator does).
    """
    roof = _roof(inputs)
    if roof.guided or roof.opened is None or roof.closed.length is None:
        return None
    turns = [math.radians(number(inputs, name, "°")) for name in ("lid_angle", "open_angle")]
    lid_x, lid_y, body_x, body_y = (number(inputs, name, "mm") for name in ("lid_mount", "lid_mount_y", "body_x", "body_y"))
    given, cg, hand = size(inputs, "force"), size(inputs, "cg_distance"), roof.closed.reach * 1000
    force = given or size(outputs, "force")
    leg = Leg((body_x, body_y), (lid_x, lid_y), counted(roof.struts), force, roof.walk, None if given else 0)
    centre = "" if cg is None else f", centre of gravity at {both(cg)}"
    at = (number(inputs, "cg_distance", "mm"), 0.0)
    return from_the_side(hinged(max(hand, at[0], lid_x), *turns), [leg], at, hand, outputs, said_of_hinge(turns, centre))


def _forces(inputs: _Fields, outputs: _Fields) -> Picture | None:
    """Return the curves of the force needed per strut and of the force it has, in N from closed to open; None if not known."""
    roof = _roof(inputs)
    first = size(inputs, "force") or size(outputs, "force")
    if first is None or roof.opened is None or roof.trouble() is not None:
        return None
    strut = Strut(first.value_in("N"), number(outputs, "progressivity_used", ""))
    curves: list[tuple[str, Mark, list[float]]] = [("needed", "plus", [roof.balance(position) for position in roof.walk])]
    curves += [
        (name, mark, [strut.at(position.depth, celsius) for position in roof.walk])
        for name, celsius, mark in marks(roof.cold, roof.hot)
    ]
    last = len(roof.walk) - 1
    ends = [", ".join(f"{both(Quantity(round(forces[place]), 'N'))} {name}" for name, _, forces in curves) for place in (0, last)]
    return over_travel(curves, f"Force per strut, closed: {ends[0]}; open: {ends[1]}.")


CALCULATOR = Calculator(
    name="strut", title="Gas strut force for a roof or lid, in N",
    inputs=(
        Field("mode", "How the "
            "roof or lid opens", Choice((_GUIDED, _HINGED)), "Guided: straight up in slides. Hinged: on a hinge, like a lid.",
            required=True),
        Field("mass", "Mass lifted", Measure("kg", above=0, high=1000, soft_high=150), "Weigh it, or enter its weight as a "
            "force below."),
        Field("weight", "Or weight lifted, as a force", Measure("N", above=0, high=10_000, soft_high=1500)),
        Field("struts", "Struts", Count(1, 12), "Number of struts, all the same, sharing the weight equally. For unequal pairs "
            "use the roof "
            "calculator.", default="2"),
        Field("angle", "Guided: strut angle, closed", Measure("°", above=0, high=90, soft_low=30),
            "From horizontal. From an angle only the closed position can be worked out, unless the struts are upright (90°)."),
        _length("base_offset", "Guided: lower pivot offset", "Measured horizontally from the upper pivot.", low=0),
        _length("height_closed", "Guided: height, closed", "Height of the upper pivot above the lower one; negative if it is "
            "lower.",
            low=-5000),
        _length("rise", "Guided: rise to open", "How far the roof goes up.", above=0),
        Field("friction", "Guided: slide friction", Measure("", low=0, high=1, soft_high=0.4),
            "Friction coefficient where leaning struts press on the slides. Enter 0 for a mirrored pair on a stiff panel."),
        _length("cg_distance", "Hinged: hinge to CG", "Along the lid to its centre of gravity, where it "
            "balances on a rod.", above=0),
        _length("arm", "Hinged: lever arm of the strut", "Distance from the hinge, square to the line of the strut, with the lid "
            "closed.", low=5),
        _length("lid_mount", "Hinged: hinge to lid mount", "Along the lid.", above=0),
        _length("lid_mount_y", "Hinged: lid mount offset", "Square to the lid from the hinge line; below it is negative.",
            low=-5000),
        _length("body_x", "Hinged: body mount, x", "Horizontally from the hinge; towards the lid is positive.", low=-5000),
        _length("body_y", "Hinged: body mount, y", "Upwards from the hinge; below it is negative.", low=-5000),
        Field("lid_angle", "Hinged: lid angle, closed", Measure("°", low=-60, high=80),
            "From horizontal; opening is positive. Blank: 0."),
        Field("open_angle", "Hinged: lid angle, open", Measure("°", low=-59, high=135, soft_high=110)),
        _length("handle", "Hinged: hinge to hand", "Blank: twice the distance to the centre of gravity.", above=0),
        Field("margin", "Margin on the force", Measure("%", low=0, high=100, soft_low=10, soft_high=30),
            "Added to the F1 to buy: 10 to 20 % (common practice).", default="15 %"),
        Field("force", "Your strut: force F1", Measure("N", above=0, high=10_000, soft_high=2500),
            "Printed on the strut: at 20 °C with the rod nearly out. Blank: the F1 to buy."),
        Field("progressivity", "Your strut: F2/F1", Measure("", low=1, high=3, soft_low=1.05, soft_high=1.6),
            "Force with the rod in divided by force with the rod out, from the data sheet."),
        Field("stroke", "Your strut: stroke", Measure("mm", above=0, high=1500, soft_low=20, soft_high=800)),
        Field("rod", "Your strut: rod diameter", Measure("mm", above=0, high=40, soft_low=4, soft_high=20)),
        Field("gas_volume", "Your strut: gas volume", Measure("mL", above=0, high=10_000, soft_high=1000),
            "With the rod out. Used with the rod diameter and the stroke to work out F2/F1."),
        Field("cold", "Lowest temperature in use", Measure("°C", low=-60, high=20, soft_low=-40), default=COLD),
        Field("hot", "Highest "
            "roof temperature", Measure("°C", low=20, high=80, soft_high=60), "A roof in the sun is "
                "hotter than the air.", default=HOT),
    ),
    outputs=_OUTPUTS,
    source=(
        STATICS,
        GAS,
        _BOYLE,
        LINEAR,
        _HABIT,
        Source("F2/F1 1.2 to 1.5; force of new struts ±5 to 7 %, 10 to 15 % of it lost over their life", "memory"),
        hands.PUSH_SOURCE, hands.PULL_SOURCE,
    ),
    valid="For slow movement in one plane, with identical struts sharing the load equally; for unequal pairs or an off-centre "
    "weight use the roof calculator. On a hinge the centre of gravity is on the line from the hinge along the lid. The rod is "
    "fully out when open. A positive hand force is a lift, along the guides or square to the lid; a negative one means the "
    "roof lifts by itself and you hold it down. A positive lever arm opens the lid. From −60 to 80 °C, where the gas is "
    "nearly ideal; your struts' own limits are narrower. Hand forces leave out slide friction, which is shown separately. Not "
    "included: wind, snow, seals, oil damping and friction in the strut itself.",
    examples=(
        Example({"mode": "guided", "mass": "30 kg", "struts": "2", "angle": "60°", "margin": "15 %"}, {"force": 195.33,
            "force_closed": 169.86, "side_force": 84.928}, STATICS, rel=0.005),
        Example({"mode": "hinged", "mass": "20 kg", "struts": "2", "cg_distance": "0.5 m", "arm": "0.15 m", "margin": "15 %"},
            {"force": 375.92, "force_closed": 326.89}, STATICS, rel=0.005),
        Example({"mode": "hinged", "mass": "18 kg", "cg_distance": "0.45 m", "lid_mount": "0.25 m", "body_x": "0.05 m",
            "body_y": "-0.2 m", "lid_angle": "0°", "open_angle": "30°"}, {"force_closed": 224.67, "force_open": 253.48,
            "arm_open": 135.69, "length_open": 365.17}, STATICS, rel=0.005),
        Example({"mode": "guided", "weight": "300 N", "struts": "1", "angle": "90°", "force": "300 N", "progressivity": "1"},
            {"hand_open": 0.0, "hand_open_cold": 30.701, "verdict": "drops when cold, lifts by itself when hot"}, GAS, rel=0.01),
        Example({"mode": "guided", "weight": "200 N", "struts": "1", "base_offset": "0 mm", "height_closed": "450 mm",
            "rise": "200 mm", "force": "250 N", "stroke": "200 mm", "rod": "8 mm", "gas_volume": "50 mL"},
            {"progressivity_used": 1.2517, "push_closed": 312.9}, _BOYLE, rel=0.005),
        Example({"mode": "guided", "mass": "60 kg", "struts": "4", "base_offset": "250 mm", "height_closed": "100 mm",
            "rise": "300 mm", "force": "200 N", "progressivity": "1.1"}, {"hand_closed": 261.575, "hand_closed_cold": 295.021,
            "hand_open": -89.9996, "hand_open_cold": -20.5746}, STATICS, rel=1e-4),
    ),
    asked=("mode", "mass|weight", "struts", "angle"),
    compute=_compute, pictures=(_side_view, _forces),
    thresholds=(_DEAD_CENTRE, _SHALLOW, _LONGEST_STROKE, _PUSH, _PULL, _UPRIGHT),
)  # fmt: skip
