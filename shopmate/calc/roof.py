"""A roof or lid on two pairs of gas struts: what each pair has to carry, what is left to the hand, slides, latches and props."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Threshold, joined
from shopmate.errors import FieldProblem
from shopmate.models import hands
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, together
from shopmate.models.loads import Loads, centre
from shopmate.models.struts import GAS, LINEAR, RATED_AT, STATICS, STEPS, USUAL_PROGRESSIVITY, Strut, arm, on_lid, warmth
from shopmate.picture import Curve, Label, Mark, Picture, both, number, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_BEARINGS = Source(
    "A slide held at two bearings jams where 2 × friction × distance of the hand ÷ its length reaches 1", "computed"
)
_FRICTION = Source("Friction of slides 0.1 greased to 0.2 dry; F2/F1 1.2 to 1.5", "memory")
_HABIT = Source(
    "Latches rated at twice the load; a prop for twice the whole weight with one prop not seated; prop first, hands clear",
    "common practice",
)
_SHARES = Source("EN 1005-3: keep the force under 50 % of what the person can give, be careful from 50 to 70 %", "read")

_USUAL_PUSH, _USUAL_PULL = f"{hands.PUSH:g} N", f"{hands.PULL:g} N"

_MUCH = Threshold(
    50.0, "%", _SHARES, "of what one person should give is left", "hand_share", "45.88 kg", "45.89 kg", "mass",
    {"cg": "500 mm", "front_force": "100 N", "rear_force": "100 N", "rear_at": "1 m", "progressivity": "1", "cold": "20 °C",
     "hot": "20 °C", "strut_offset": "0 mm"},
)  # fmt: skip
"""Share of one person's limit from which a hand force is not to be done often."""

_NEAR = Threshold(
    70.0, "%", _SHARES, "close to all that one person should give", "hand_share", "47.92 kg", "47.93 kg", "mass", _MUCH.beside
)
"""Share of it from which a second person should be at hand."""

_JAMS = Threshold(
    1.0, "", _BEARINGS, "jams whatever the force", "binding", "1249 mm", "1250 mm", "hand_offset",
    {"slide_length": "250 mm", "friction": "0.1"},
)  # fmt: skip
"""Binding at which no force moves the roof."""

_GUIDED, _HINGED = "guided", "hinged"
_PLACES = ("closed", "middle", "open")
_OWN = {
    _GUIDED: (
        "front_at", "rear_at", "strut_offset", "height_closed", "rise", "slides", "slide_length", "play", "roof_length",
        "hand_offset",
    ),
    _HINGED: (
        "lid_x", "lid_y", "body_x", "body_y", "rear_lid_x", "rear_lid_y", "rear_body_x", "rear_body_y", "angle_closed",
        "angle_open", "cg_height", "prop_at",
    ),
}  # fmt: skip
"""The fields of each mode that go with no other."""

_LID = ("lid_x", "body_x", "body_y", "angle_open")
_REAR_LID = ("rear_lid_x", "rear_body_x", "rear_body_y")

_ALWAYS = (
    "Prop the roof before anybody puts head or hands under it and before a strut is touched: a strut can lose its gas at once. "
    "Keep hands out of slides, hinge and seal line",
    "Snow, wind on an open roof, seals that stick and struts that age are not in these figures; new struts may differ by 5 to "
    "7 % (memory). A roof that can fall on a person: have it checked by an engineer, and follow local codes",
)
"""What is said with every roof [common practice]."""

_Fields = Mapping[str, object]
"""What the form was given, or the inputs of a result."""

_HANDS = tuple(f"hand_{place}_{warm}" for place in _PLACES for warm in ("cold", "20", "hot"))


@dataclass(frozen=True, slots=True)
class _Pair:
    """The struts of one pair: how many, what each is, and where it stands along the roof in mm."""

    struts: int
    strut: Strut | None
    at: float


@dataclass(frozen=True, slots=True)
class _State:
    """One place of the travel; on guides loads and levers are forces and sines, on a hinge moments and arms in m."""

    load: float
    """Weight along the guides in N, or its moment about the hinge in N·m; positive closes."""
    levers: tuple[float, ...]
    """For each pair, what one newton of a strut does against the load."""
    depths: tuple[float, ...]
    """For each pair, how far its rods are in, from 0 (open) to 1 (closed)."""
    reach: float
    """Arm of the hand: 1 along guides, metres from the hinge."""


@dataclass(frozen=True, slots=True)
class _Roof:
    """What is lifted and by what; the walk goes from closed to open."""

    pairs: tuple[_Pair, ...]
    walk: tuple[_State, ...]
    strokes: tuple[float, ...]
    """For each pair, what the travel takes, in m."""
    cold: float
    hot: float

    @property
    def places(self) -> dict[str, _State]:
        """Closed, half-way and open."""
        return dict(zip(_PLACES, (self.walk[0], self.walk[len(self.walk) // 2], self.walk[-1]), strict=True))

    @property
    def warms(self) -> dict[str, float]:
        """The temperatures in °C by the word that names them."""
        return {"cold": self.cold, "20": RATED_AT, "hot": self.hot}

    @property
    def over_centre(self) -> bool:
        """Whether a pair pushes it shut somewhere along the travel."""
        return any(lever <= 0 for state in self.walk for lever in state.levers)

    def lifts(self, state: _State, celsius: float) -> tuple[float, ...]:
        """Return what each pair does against the load at a place, in N or N·m."""
        return tuple(
            pair.struts * pair.strut.at(depth, celsius) * lever if pair.strut is not None else 0.0
            for pair, depth, lever in zip(self.pairs, state.depths, state.levers, strict=True)
        )

    def hand(self, state: _State, celsius: float) -> float:
        """Return the force in N left to the hand; negative: it lifts itself, and to close it is pulled down with as much."""
        return (state.load - sum(self.lifts(state, celsius))) / state.reach


def _some(fields: _Fields, names: Iterable[str]) -> dict[str, object]:
    return {name: fields[name] for name in names}


def _load(fields: _Fields) -> tuple[float, float | None]:
    """Return the mass lifted in kg and where its centre of gravity lies in mm; the place is None where it was not given."""
    mass, cg = number(fields, "mass", "kg"), in_unit(size(fields, "cg"), "mm")
    extras = fields.get("extras")
    if cg is None or not isinstance(extras, str):
        return mass, cg
    return centre([(mass, cg), *((load.kilograms, load.at(0)) for load in EXTRAS.loads(extras))])


def _roof(fields: _Fields, mass: float, cg: float | None) -> _Roof | None:
    """Return the roof of fields that go together, None where there is no strut."""
    counted = [name for name in ("front", "rear") if fields[f"{name}_struts"]]
    if not counted:
        return None
    ratio, places, levers = number(fields, "progressivity", ""), [], []
    for name in counted:
        force, struts = in_unit(size(fields, f"{name}_force"), "N"), fields[f"{name}_struts"]
        assert isinstance(struts, int)
        strut = None if force is None else Strut(force, ratio)
        places.append(_Pair(struts, strut, number(fields, f"{name}_at", "mm")))
        levers.append(_upright(fields) if fields["mode"] == _GUIDED else _swung(fields, "rear_" if name == "rear" else ""))
    weight = mass * GRAVITY
    loads, reach = [weight] * (STEPS + 1), 1.0
    if fields["mode"] == _HINGED:
        loads, reach = _moments(fields, weight, cg or 0.0)
    walk = tuple(
        _State(load, tuple(pair[step][0] for pair, _ in levers), tuple(pair[step][1] for pair, _ in levers), reach)
        for step, load in enumerate(loads)
    )
    cold, hot = number(fields, "cold", "°C"), number(fields, "hot", "°C")
    return _Roof(tuple(places), walk, tuple(stroke for _, stroke in levers), cold, hot)


_Levers = tuple[list[tuple[float, float]], float]
"""For each place of the travel the lever of a strut and how far its rod is in; then the stroke that the travel takes, in m."""


def _upright(fields: _Fields) -> _Levers:
    """Return the levers of struts beside guides, sin a = h/√(e² + h²); upright ones need no height."""
    aside, rise = number(fields, "strut_offset", "m"), number(fields, "rise", "m")
    low = number(fields, "height_closed", "m")
    if not aside:
        return [(1.0, 1 - step / STEPS) for step in range(STEPS + 1)], rise
    heights = [low + rise * step / STEPS for step in range(STEPS + 1)]
    lengths = [math.hypot(aside, height) for height in heights]
    stroke = lengths[-1] - lengths[0]
    return [(h / length, (lengths[-1] - length) / stroke) for h, length in zip(heights, lengths, strict=True)], stroke


def _turns(fields: _Fields) -> list[float]:
    """Return the angles of a hinged lid from closed to open, in radians."""
    closed, opened = (math.radians(number(fields, name, "°")) for name in ("angle_closed", "angle_open"))
    return [closed + (opened - closed) * step / STEPS for step in range(STEPS + 1)]


def _swung(fields: _Fields, prefix: str) -> _Levers:
    """Return the arms of the struts of a hinged lid, in m."""
    lid_x, lid_y, body_x, body_y = (number(fields, f"{prefix}{name}", "m") for name in ("lid_x", "lid_y", "body_x", "body_y"))
    mounts = [on_lid(lid_x, lid_y, turn) for turn in _turns(fields)]
    lengths = [math.dist(mount, (body_x, body_y)) for mount in mounts]
    stroke = lengths[-1] - lengths[0]
    depths = [min(1.0, max(0.0, (lengths[-1] - length) / stroke)) if stroke > 0 else 0.0 for length in lengths]
    return [(arm(mount, (body_x, body_y)), depth) for mount, depth in zip(mounts, depths, strict=True)], stroke


def _moments(fields: _Fields, weight: float, cg: float) -> tuple[list[float], float]:
    """Return the moment of the weight about the hinge in N·m along the travel, W (r cos f − z sin f), and the hand's arm in m."""
    off = number(fields, "cg_height", "m")
    loads = [weight * (cg / 1000 * math.cos(turn) - off * math.sin(turn)) for turn in _turns(fields)]
    return loads, number(fields, "handle", "m") or 2 * cg / 1000


def _compute(**fields: object) -> Answer:
    refuse(*_problems(fields))
    nothing = Answer(dict.fromkeys(output.name for output in _OUTPUTS))
    slides = _binding(fields)
    if fields["mass"] is None:
        return joined(nothing, slides, _judged(fields, None, slides, {}))
    mass, cg = _load(fields)
    weight = mass * GRAVITY
    line = f"weight = mass × g = {sig(mass)} kg × {GRAVITY} m/s² = {weight:.1f} N"
    parts = [nothing, Answer({"weight": weight, "cg": cg, "mass_lifted": mass}, (line,))]
    roof = _roof(fields, mass, cg)
    hand: dict[str, float] = {}
    if roof is not None:
        parts += [_ideal(fields, roof, weight, cg), _strokes(fields, roof)]
        if all(pair.strut is not None for pair in roof.pairs):
            hand = {
                f"hand_{place}_{warm}": _plain(roof.hand(state, celsius), state)
                for place, state in roof.places.items()
                for warm, celsius in roof.warms.items()
            }
            parts += [_hands(roof, hand), _window(fields, roof), _racking(fields, roof, weight, cg), _latch(fields, roof, hand)]
    parts += [_prop(fields, weight, cg), slides]
    return joined(*parts, _judged(fields, roof, slides, hand))


def _plain(force: float, state: _State) -> float:
    """Return a hand force, 0 where it is no more than the noise of floats beside the weight."""
    return 0.0 if abs(force) * state.reach <= NOISE * abs(state.load) else force


def _ideal(fields: _Fields, roof: _Roof, weight: float, cg: float | None) -> Answer:
    """Return the F1 in N of each strut with which the open roof hangs level and in balance at 20 °C."""
    state, names = roof.walk[-1], [name for name in ("front", "rear") if fields[f"{name}_struts"]]
    if any(lever <= 0 for lever in state.levers):
        return Answer({})
    if len(names) == 1:
        force = state.load / (roof.pairs[0].struts * state.levers[0])
        said = f"balances open: {names[0]} struts of {force:.1f} N each"
        return Answer({f"{names[0]}_ideal": force}, (said,)) if force > 0 else Answer({})
    if fields["mode"] == _HINGED or cg is None:
        return Answer({})
    front, rear = roof.pairs
    share = (cg - front.at) / (rear.at - front.at)
    values = {
        "front_ideal": weight * (1 - share) / front.struts / state.levers[0],
        "rear_ideal": weight * share / rear.struts / state.levers[1],
    }
    working = (f"share on the rear pair = (CG − front)/(rear − front) = {share:.4f}",)
    if min(values.values()) < 0:
        outside = "rear" if share > 1 else "front"
        said = (
            f"The centre of gravity lies beyond the {outside} pair: the roof tips over it. Move that pair out, or the weight in"
        )
        return Answer({}, working, (said,))
    said = f"balances open: front {values['front_ideal']:.1f} N each, rear {values['rear_ideal']:.1f} N each"
    return Answer(values, (*working, said))


def _strokes(fields: _Fields, roof: _Roof) -> Answer:
    """Return the stroke that the travel takes, the longest where the pairs differ."""
    known = fields["mode"] == _HINGED or fields["rise"] is not None
    stroke = max(roof.strokes)
    return Answer({"stroke": stroke * 1000}) if known and stroke > 0 else Answer({})


def _hands(roof: _Roof, hand: Mapping[str, float]) -> Answer:
    """Return the hand forces at the three places."""
    working = [
        f"gas force goes with kelvin: × {warmth(roof.cold):.4f} at {roof.cold:.1f} °C, × {warmth(roof.hot):.4f} at "
        f"{roof.hot:.1f} °C"
    ]
    for place, state in roof.places.items():
        lifts = " − ".join(f"{lift:.2f}" for lift in roof.lifts(state, RATED_AT))
        working.append(
            f"{place}: hand = (load − lift of each pair)/reach = ({state.load:.2f} − {lifts})/{state.reach:.3g} = "
            f"{hand[f'hand_{place}_20']:.1f} N; cold {hand[f'hand_{place}_cold']:.1f} N, hot {hand[f'hand_{place}_hot']:.1f} N"
        )
    return Answer(dict(hand), tuple(working))


def _window(fields: _Fields, roof: _Roof) -> Answer:
    """Return between which factors on the forces one person moves it at the three places, cold and hot."""
    push, pull = number(fields, "push_limit", "N"), number(fields, "pull_limit", "N")
    low, high = 0.0, math.inf
    for state in roof.places.values():
        lift = sum(roof.lifts(state, RATED_AT))
        if lift <= 0:
            return Answer({})
        low = max(low, (state.load - push * state.reach) / (warmth(roof.cold) * lift))
        high = min(high, (state.load + pull * state.reach) / (warmth(roof.hot) * lift))
    return Answer(
        {"scale_low": low, "scale_high": high},
        (
            f"one person: forces × {low:.4f} or more, so that no more than {push:g} N is left to push cold; × {high:.4f} or "
            f"less, so that no more than {pull:g} N has to be pulled down hot",
        ),
    )


def _racking(fields: _Fields, roof: _Roof, weight: float, cg: float | None) -> Answer:
    """Return how far weight, struts and hand are out of line, and what that does to the slides."""
    if fields["mode"] == _HINGED or cg is None:
        return Answer({})
    hand_at = in_unit(size(fields, "handle"), "mm")
    hand_at = cg if hand_at is None else hand_at
    worst, said = -1.0, ""
    for place, state in roof.places.items():
        for celsius in roof.warms.values():
            lifts, hand = roof.lifts(state, celsius), roof.hand(state, celsius)
            lifted = sum(lift * pair.at for lift, pair in zip(lifts, roof.pairs, strict=True))
            moment = abs(weight * cg - lifted - hand * hand_at) / 1000
            if moment > worst:
                worst = moment
                said = (
                    f"racking = |weight × CG − sum of lift × place − hand × its place| = |{weight * cg / 1000:.2f} − "
                    f"{lifted / 1000:.2f} − {hand * hand_at / 1000:.2f}| = {moment:.2f} N·m, {place} at {celsius:.1f} °C"
                )
    values: dict[str, float | None] = {"racking": worst}
    working = [said]
    length, slides = in_unit(size(fields, "slide_length"), "m"), fields["slides"]
    if length is not None and isinstance(slides, int):
        friction = number(fields, "friction", "")
        values |= {"slide_force": worst / (slides * length), "slide_friction": 2 * friction * worst / length}
        working.append(
            f"on each slide = racking/(slides × length) = {worst:.2f} N·m/({slides} × {length:.3f} m) = "
            f"{worst / (slides * length):.1f} N; friction = 2 × {friction:g} × {worst:.2f} N·m/{length:.3f} m = "
            f"{2 * friction * worst / length:.1f} N more for the hand"
        )
    return Answer(values, tuple(working))


def _latch(fields: _Fields, roof: _Roof, hand: Mapping[str, float]) -> Answer:
    """Return what each latch holds, closed and hot, with the seal pushing up."""
    latches = fields["latches"]
    if not isinstance(latches, int):
        return Answer({})
    seal = number(fields, "seal", "N")
    each = max(0.0, seal - hand["hand_closed_hot"]) / latches
    line = "latch: closed and hot, nothing pushes it up"
    if each:
        line = (
            f"latch = (seal − hand, closed, hot)/latches = ({seal:.1f} − {hand['hand_closed_hot']:.2f})/{latches} = {each:.1f} N "
            "each"
        )
    return Answer({"latch": each, "latch_rated": 2 * each}, (line,))


def _prop(fields: _Fields, weight: float, cg: float | None) -> Answer:
    """Return what each prop has to hold with all struts dead and one prop not seated, twice the weight."""
    props = fields["props"]
    if not isinstance(props, int):
        return Answer({})
    bearing, part = max(1, props - 1), 1.0
    if fields["mode"] == _HINGED and cg is not None:
        at = number(fields, "prop_at", "mm") or number(fields, "handle", "mm") or 2 * cg
        part = cg * math.cos(_turns(fields)[-1]) / at
    each = max(0.0, 2 * weight * part / bearing)
    lever = f" × {part:.4f}" if part != 1.0 else ""
    line = f"prop = 2 × weight{' × its arm over that of the prop' if lever else ''}/props seated = "
    return Answer({"prop": each}, (f"{line}2 × {weight:.1f}{lever}/{bearing} = {each:.1f} N each",))


def _binding(fields: _Fields) -> Answer:
    """Return whether a hand off the middle jams the slides, and how far their play lets the roof tilt."""
    length = in_unit(size(fields, "slide_length"), "mm")
    if length is None:
        return Answer({})
    values: dict[str, float | None] = {}
    working = []
    if (off := in_unit(size(fields, "hand_offset"), "mm")) is not None:
        friction = number(fields, "friction", "")
        values["binding"] = 2 * friction * off / length
        working.append(f"binding = 2 × {friction:g} × {sig(off)}/{sig(length)} = {values['binding']:.3f}")
    if (play := in_unit(size(fields, "play"), "mm")) is not None:
        run = number(fields, "roof_length", "mm")
        values["tilt"] = run * play / length
        working.append(f"tilt = roof × play/slide = {sig(run)} × {sig(play)}/{sig(length)} = {values['tilt']:.2f} mm")
    return Answer(values, tuple(working))


def _judged(fields: _Fields, roof: _Roof | None, slides: Answer, hand: Mapping[str, float]) -> Answer:
    """Return the verdict, worst first, and what to do about each part of it."""
    found: dict[str, str] = {}
    if roof is not None and roof.over_centre:
        found["over-centre"] = (
            "Over-centre somewhere along the travel: there the struts push it shut. Move the mounts, or if it is meant to hold "
            "the lid shut, count on pulling it past that place by hand"
        )
    binding = slides.values.get("binding")
    if isinstance(binding, float) and binding >= _JAMS.value:
        found["jams"] = (
            "With the hand that far off the middle it jams whatever the force: lift in the middle or on both sides, or take "
            "longer or slicker slides"
        )
    values: dict[str, float | None] = {}
    if roof is not None and hand:
        values, by_hand = _by_hand(fields, roof, hand)
        found |= by_hand
    if not found and not hand and binding is None:
        return Answer({}, (), _ALWAYS)
    shares = () if not hand or found.keys() & {"too heavy", "hard to pull down"} else _shares(values["hand_share"])
    verdict = "; ".join(found) or "ok"
    said = tuple(dict.fromkeys(text for text in found.values() if text))
    return Answer({**values, "verdict": verdict}, (f"verdict: {verdict}",), (*said, *shares, *_ALWAYS))


def _by_hand(fields: _Fields, roof: _Roof, hand: Mapping[str, float]) -> tuple[dict[str, float | None], dict[str, str]]:
    """Return the share of one person's limits that is asked for, and what of the verdict that gives, with what to do."""
    push, pull = number(fields, "push_limit", "N"), number(fields, "pull_limit", "N")
    forces = [roof.hand(state, celsius) for state in roof.walk for celsius in roof.warms.values()]
    hardest, down = max(forces), max(0.0, -min(forces))
    found: dict[str, str] = {}
    window = _window(fields, roof).values
    low, high = window.get("scale_low"), window.get("scale_high")
    suits = isinstance(low, float) and isinstance(high, float) and low <= high
    do = _advice(low, high) if suits else _NONE_SUITS
    if hardest > push * (1 + NOISE):
        found["too heavy"] = f"Up to {hardest:.0f} N are left to push up, one person should push {push:g} N. {do}"
    if down > pull * (1 + NOISE):
        found["hard to pull down"] = f"It takes up to {down:.0f} N to pull down, one person should pull {pull:g} N. {do}"
    if hand["hand_open_cold"] > 0:
        found["settles when cold"] = (
            f"Open at {roof.cold:.0f} °C it comes down with {hand['hand_open_cold']:.0f} N (friction left out): prop it whenever "
            "it is up"
        )
    if isinstance(low, float) and not suits:
        found["no strut suits"] = "" if "too heavy" in found or "hard to pull down" in found else _NONE_SUITS
    share = 100 * max(hardest / push, down / pull, 0.0)
    return {"hand_share": share, "hand_most": max(0.0, hardest), "hand_pull": down}, found


_NONE_SUITS = (
    "No force of these struts suits one person at each height, cold and hot: stand them steeper, take struts with less "
    "rise of force (F2/F1), a second person, a hoist, or ballast where the struts are too strong"
)
"""What helps where no factor on the forces does [common practice]."""


def _advice(low: object, high: object) -> str:
    """Return by what to multiply the forces so that they suit one person."""
    assert isinstance(low, float)
    assert isinstance(high, float)
    most = math.floor(high * 100) / 100
    least = math.ceil(low * 100) / 100
    if least > most:
        return f"Forces of {low:.4f} to {high:.4f} times these suit one person: hardly any room, so adjustable struts"
    return f"Forces of {least:.2f} to {most:.2f} times these suit one person"


def _shares(share: object) -> tuple[str, ...]:
    """Return the caution of hand forces within the limits but near to them."""
    assert isinstance(share, float)
    if share >= _NEAR.value:
        return (f"{share:.0f} % is close to all that one person should give: have a second person at hand",)
    if share >= _MUCH.value:
        return (f"{share:.0f} % of what one person should give is left to the hand: not several times an hour",)
    return ()


def _problems(fields: _Fields) -> list[FieldProblem]:
    """Return a problem for every set of fields that does not go together."""
    mode, other = (_GUIDED, _HINGED) if fields["mode"] == _GUIDED else (_HINGED, _GUIDED)
    found = [
        *given(_some(fields, _OWN[other]), f"goes with mode {other}, not {mode}", f"leave it out, or give mode={other}"),
        *_slide_problems(fields),
    ]
    if fields["mass"] is None:
        names = ("extras", "cg", "front_force", "rear_force", "latches", "props", "seal")
        found += given(_some(fields, names), "says nothing without the mass", "give mass (kg or lb)")
        if fields["slide_length"] is None and not found:
            found.append(FieldProblem("mass", "nothing given", "give mass, or slide_length with hand_offset or play"))
        return found
    return [*found, *_strut_problems(fields), *(_hinge_problems if mode == _HINGED else _guide_problems)(fields)]


def _slide_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems of slides, play and a hand off the middle."""
    fix = "give slide_length, how long a slide is held"
    lacking = [name for name in ("slides", "play", "hand_offset") if fields[name] is not None]
    if fields["slide_length"] is None:
        return [FieldProblem("slide_length", f"nothing given, and {name} needs it", fix) for name in lacking[:1]]
    tilting = {"play": fields["play"], "roof_length": fields["roof_length"]}
    return together(tilting, "nothing given", "play and roof_length give the tilt together")


def _strut_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems of the pairs and their forces."""
    found = []
    for name, other in (("front", "rear"), ("rear", "front")):
        if not fields[f"{name}_struts"]:
            if fields[f"{name}_force"] is not None:
                found.append(FieldProblem(f"{name}_force", "a force of no strut", f"give {name}_struts, or leave it out"))
        elif fields[f"{name}_force"] is None and fields[f"{other}_force"] is not None:
            what = f"nothing given, and the {other} pair has one"
            found.append(FieldProblem(f"{name}_force", what, f"give it, or {name}_struts=0"))
    if fields["extras"] is not None:
        found += missing(_some(fields, ["cg"]), "nothing given, and extras need it", "give where the roof itself balances")
    if fields["latches"] is not None and fields["front_force"] is None and fields["rear_force"] is None:
        found.append(FieldProblem("latches", "what they hold is not known without struts", "give the force of the struts"))
    if fields["latches"] is None:
        found += given(_some(fields, ["seal"]), "only counts for latches", "give latches, or leave it out")
    return found


def _guide_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems of a roof in guides."""
    found = []
    if fields["front_struts"] and fields["rear_struts"]:
        found += missing(_some(fields, ["rear_at"]), "nothing given", "give where the rear pair stands, from the origin of cg")
        if fields["rear_at"] is not None and number(fields, "rear_at", "mm") <= number(fields, "front_at", "mm"):
            what = "is not behind the front pair"
            found.append(FieldProblem("rear_at", what, "measure both from one origin, the rear pair the farther"))
    if number(fields, "strut_offset", "mm"):
        need = "give height_closed and rise for struts that lean"
        found += missing(_some(fields, ["height_closed", "rise"]), "nothing given, and leaning struts need it", need)
    return found


def _hinge_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems of a roof on a hinge."""
    found = missing(_some(fields, ["cg", "angle_open"]), "nothing given", "a hinged roof needs cg, angle_open and the mounts")
    if fields["front_struts"]:
        found += missing(_some(fields, ["lid_x", "body_x", "body_y"]), "nothing given", "give both mounts of the strut")
    names = [f"rear_{name}" for name in ("lid_x", "body_x", "body_y")]
    if fields["rear_struts"]:
        found += missing(_some(fields, names), "nothing given", "give the mounts of the rear pair, or rear_struts=0")
    if fields["angle_open"] is not None and number(fields, "angle_open", "°") <= number(fields, "angle_closed", "°"):
        found.append(FieldProblem("angle_open", "is not above the angle when closed", "give the greater angle, roof open"))
    if fields["cg"] is not None and number(fields, "cg", "mm") <= 0:
        found.append(FieldProblem("cg", "is not on the roof's side of the hinge", "measure it from the hinge, along the roof"))
    if fields["props"] is None:
        found += given(_some(fields, ["prop_at"]), "only counts for props", "give props, or leave it out")
    return found


def _picture(inputs: _Fields, outputs: _Fields) -> Picture | None:
    """Return the force of the hand along the travel, in N from closed to open, with the limits of one person."""
    if outputs.get("hand_open_20") is None:
        return None
    mass, cg = _load(inputs)
    roof = _roof(inputs, mass, cg)
    if roof is None:
        return None
    push, pull = number(inputs, "push_limit", "N"), number(inputs, "pull_limit", "N")
    marks: tuple[tuple[str, float, Mark], ...] = (
        (f"cold, {roof.cold:.4g} °C", roof.cold, "ring"),
        (f"at {RATED_AT:g} °C", RATED_AT, "dot"),
        (f"hot, {roof.hot:.4g} °C", roof.hot, "cross"),
    )
    curves = [(name, mark, [roof.hand(state, celsius) for state in roof.walk]) for name, celsius, mark in marks]
    every = [force for _, _, forces in curves for force in forces] + [push, -pull]
    last, room = float(STEPS), 0.05 * (max(every) - min(every))
    said = "; ".join(f"{place} {_at_place(outputs, place)}" for place in _PLACES)
    return Picture(
        (),
        (
            *(Label(name, (last, forces[-1]), Quantity(forces[-1], "N"), 0) for name, _, forces in curves),
            Label("one person pushes", (0.0, push), Quantity(push, "N"), 0),
            Label("one person pulls", (0.0, -pull), Quantity(-pull, "N"), 0),
        ),
        f"Force of the hand, + you push up, − you pull down: {said}.",
        (0.0, min(every) - room),
        (last, max(every) + room),
        (
            *(Curve(((0.0, level), (last, level)), "limits of one person", "rule") for level in (push, -pull)),
            *(Curve(tuple((float(at), force) for at, force in enumerate(forces)), name, mark) for name, mark, forces in curves),
        ),
        foot=("closed", "open"),
        unit="",
        to_scale=False,
    )


def _at_place(outputs: _Fields, place: str) -> str:
    """Return the forces of the hand at a place, in both systems."""
    forces = [(Quantity(round(number(outputs, f"hand_{place}_{warm}", "N")), "N"), name) for name, warm in _WARMS]
    return ", ".join(f"{both(force)} {name}" for force, name in forces)


_WARMS = (("cold", "cold"), ("at 20 °C", "20"), ("hot", "hot"))
"""How a temperature is called in the words of the picture, and in the outputs."""


def _length(name: str, title: str, help: str, low: float = -3000, high: float = 3000, default: str | None = None) -> Field:
    return Field(name, title, Measure("mm", low=low, high=high), help, default=default)


EXTRAS = Loads(Measure("mm", low=-5000, high=5000))
"""How what lies on the roof is given."""

_OUTPUTS = (
    Output("verdict", "Verdict"),
    Output("front_ideal", "Front pair, F1 each, balances", "N", 0),
    Output("rear_ideal", "Rear pair, F1 each, balances", "N", 0),
    Output("hand_closed_hot", "Hand, closed, hot", "N", 0),
    Output("hand_open_cold", "Hand, open, cold", "N", 0),
    Output("prop", "Each prop holds", "N", 0),
    Output("latch", "Load on each latch, hot", "N", 0),
    Output("scale_low", "One person: forces ×, from", "", 3),
    Output("scale_high", "One person: forces ×, to", "", 3),
    Output("hand_closed_cold", "Hand, closed, cold", "N", 0),
    Output("hand_closed_20", "Hand, closed, 20 °C", "N", 0),
    Output("hand_middle_cold", "Hand, half-way, cold", "N", 0),
    Output("hand_middle_20", "Hand, half-way, 20 °C", "N", 0),
    Output("hand_middle_hot", "Hand, half-way, hot", "N", 0),
    Output("hand_open_20", "Hand, open, 20 °C", "N", 0),
    Output("hand_open_hot", "Hand, open, hot", "N", 0),
    Output("hand_most", "Hardest push up on the way", "N", 0),
    Output("hand_pull", "Hardest pull down on the way", "N", 0),
    Output("hand_share", "Share of one person's limit", "%", 0),
    Output("racking", "Racking", "N·m", 0),
    Output("slide_force", "Force on each slide", "N", 0),
    Output("slide_friction", "Friction of the slides", "N", 0),
    Output("tilt", "Tilt from the play", "mm", 1),
    Output("binding", "Binding (1 jams)", "", 2),
    Output("latch_rated", "Take latches rated for", "N", 0),
    Output("stroke", "Stroke the travel takes", "mm", 0),
    Output("weight", "Weight lifted", "N", 0),
    Output("cg", "Centre of gravity", "mm", 0),
    Output("mass_lifted", "Mass with what lies on it", "kg", 1),
)

CALCULATOR = Calculator(
    name="roof", title="Roof on two pairs of struts",
    inputs=(
        Field("mode", "How it moves", Choice((_GUIDED, _HINGED)), "guided: straight up in slides; hinged: on a hinge.",
            default=_GUIDED),
        Field("mass", "Mass of the roof", Measure("kg", above=0, high=500, soft_high=150), "Weigh it, or add up its panels."),
        _length("cg", "Centre of gravity", "Along the roof, where it balances on a rod; guided: from any one origin; hinged: "
            "from "
            "the hinge.", low=-5000, high=5000),
        Field("extras", "What lies on it", EXTRAS, "Each with its mass and place along the roof: solar 14 kg @ 500 mm; fan 6 "
            "kg @ "
            "1800 mm."),
        Field("front_struts", "Struts of the front pair", Count(0, 4), "Hinged: the pair whose mounts come first.", default="2"),
        Field("front_force", "Force of a front strut, F1", Measure("N", low=20, high=3000),
            "At 20 °C with the rod nearly out, as "
            "printed on it. Empty: only what would balance."),
        Field("rear_struts", "Struts of the rear pair", Count(0, 4), default="0"),
        Field("rear_force", "Force of a rear strut, F1", Measure("N", low=20, high=3000)),
        _length("front_at", "Guided: front pair at", "From the same origin as the centre of gravity; 0 where empty.", -5000,
            5000),
        _length("rear_at", "Guided: rear pair at", "From that origin.", -5000, 5000),
        _length("strut_offset", "Guided: lower pivot aside", "Of the upper one; 0 where empty: upright struts.", 0, 1500),
        _length("height_closed", "Guided: height, closed", "Between the two pivots of a strut.", 10, 2000),
        _length("rise", "Guided: rise to open", "How far the roof goes up.", 20, 2000),
        _length("lid_x", "Hinged: lid mount, along", "Of the first pair, from the hinge along the closed roof."),
        _length("lid_y", "Hinged: lid mount, off", "Square to it; under it is negative, 0 where empty."),
        _length("body_x", "Hinged: body mount, x", "From the hinge, horizontally; towards the roof is positive."),
        _length("body_y", "Hinged: body mount, y", "From the hinge, upwards; under it is negative."),
        _length("rear_lid_x", "Hinged: second, lid along", "Mounts of the second pair, likewise."),
        _length("rear_lid_y", "Hinged: second, lid off", ""),
        _length("rear_body_x", "Hinged: second, body x", ""),
        _length("rear_body_y", "Hinged: second, body y", ""),
        Field("angle_closed", "Hinged: angle, closed", Measure("°", low=-20, high=120), "From horizontal; 0 where empty."),
        Field("angle_open", "Hinged: angle, open", Measure("°", low=-20, high=120)),
        _length("cg_height", "Hinged: CG over the hinge line", "Square to the roof; 0 where empty."),
        _length("handle", "Where the hand is", "Guided: from the origin, at the centre of gravity where empty. Hinged: from the "
            "hinge, at twice its distance where empty.", 0, 4000),
        Field("progressivity", "Struts: F2/F1", Measure("", low=1, high=2, soft_high=1.6), "From the data sheet; 1.2 to 1.5 "
            "(memory).", default=f"{USUAL_PROGRESSIVITY:g}"),
        Field("cold", "Coldest use", Measure("°C", low=-40, high=20), default="-10 °C"),
        Field("hot", "Hottest use", Measure("°C", low=20, high=80, soft_high=60), "In the sun, more than the air.",
            default="45 °C"),
        Field("push_limit", "One person pushes up", Measure("N", low=10, high=600), "Two arms at 50 N each (EN 1005-3).",
            default=_USUAL_PUSH),
        Field("pull_limit", "One person pulls down", Measure("N", low=10, high=600), "Standing, whole body (EN 1005-3).",
            default=_USUAL_PULL),
        Field("slides", "Guided: slides", Count(1, 12), "That share the racking."),
        _length("slide_length", "Guided: length held", "Of a slide, between its two bearings.", 20, 2000),
        _length("play", "Guided: play of a slide", "", 0, 10),
        _length("roof_length", "Guided: length of the roof", "For the tilt that play gives.", 100, 5000),
        _length("hand_offset", "Guided: hand off the middle", "Of the two slides, sideways.", 0, 3000),
        Field("friction", "Friction of the slides", Measure("", low=0, high=0.6, soft_high=0.3),
            "0.1 greased to 0.2 dry (memory).",
            default="0.1"),
        Field("latches", "Latches", Count(1, 12), "What holds it closed on a hot day."),
        Field("seal", "Seal pushes up with", Measure("N", low=0, high=3000), "Closed, all round; see gap."),
        Field("props", "Props", Count(1, 6), "That lock under the open roof."),
        _length("prop_at", "Hinged: prop at", "From the hinge; at the hand where empty.", 50, 4000),
    ),
    outputs=_OUTPUTS,
    source=(STATICS, GAS, LINEAR, _BEARINGS, _FRICTION, _HABIT, _SHARES, hands.PUSH_SOURCE, hands.PULL_SOURCE),
    valid="A stiff roof that moves slowly, straight up in slides or on one hinge, the struts of a pair alike; forces linear "
    "along the "
    "stroke, rods out when open. Hand forces: positive, you push up; negative, it lifts itself, and to close it you pull down "
    "by as "
    "much. Friction of the slides is told apart. Not counted: wind, snow, seals that stick, oil damping, struts that have aged.",
    examples=(
        Example({"mass": "60 kg", "cg": "1 m", "front_at": "0 mm", "rear_at": "2 m", "front_struts": "2",
            "front_force": "147.1 N",
            "rear_struts": "2", "rear_force": "147.1 N", "height_closed": "400 mm", "rise": "500 mm", "latches": "4",
            "seal": "100 N", "props": "2"}, {"hand_closed_hot": -241.75, "hand_open_cold": 60.214, "hand_middle_20": -88.261,
            "hand_middle_cold": -19.014,
            "scale_low": 0.92467, "scale_high": 0.88345, "latch": 85.44, "prop": 1176.8}, STATICS, rel=0.005),
        Example({"mass": "60 kg", "cg": "1 m", "extras": "solar 14 kg @ 500 mm; fan 6 kg @ 1800 mm", "rear_at": "2 m",
            "rear_struts": "2"}, {"cg": 972.5, "front_ideal": 201.53, "rear_ideal": 190.74, "mass_lifted": 80,
            "weight": 784.53}, STATICS, rel=0.005),
        Example({"mass": "60 kg", "cg": "1.1 m", "rear_at": "2 m", "front_force": "150 N", "rear_struts": "2",
            "rear_force": "125 N",
            "progressivity": "1", "handle": "0 mm", "slides": "2", "slide_length": "250 mm", "play": "1 mm",
            "roof_length": "2.2 m",
            "cold": "20 °C", "hot": "20 °C"}, {"racking": 147.24, "slide_force": 294.48, "slide_friction": 117.79, "tilt": 8.8,
            "hand_open_20": 38.399}, STATICS, rel=0.005),
        Example({"mode": "hinged", "mass": "18 kg", "cg": "450 mm", "front_force": "240 N", "lid_x": "250 mm", "body_x": "50 mm",
            "body_y": "-200 mm", "angle_open": "60°", "handle": "900 mm"}, {"hand_closed_cold": -21.762,
            "hand_closed_20": -34.305,
            "hand_open_hot": -4.8683, "stroke": 140.36, "verdict": "settles when cold"}, STATICS, rel=0.01),
        Example({"slide_length": "250 mm", "hand_offset": "900 mm", "friction": "0.15"}, {"binding": 1.08, "verdict": "jams"},
            _BEARINGS, rel=0.005),
        Example({"mass": "230 lb", "cg": "40 in", "rear_at": "80 in", "rear_struts": "2", "front_force": "200 lbf",
            "rear_force": "200 lbf", "strut_offset": "10 in", "height_closed": "3 in", "rise": "24 in"}, {"stroke": 466.12},
            STATICS, rel=0.005),
    ),
    compute=_compute, picture=_picture, thresholds=(_MUCH, _NEAR, _JAMS),
)  # fmt: skip
