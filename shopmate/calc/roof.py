"""A roof or lid on two pairs of gas struts: strut forces, hand force, and loads on slides, latches and props."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Threshold, joined
from shopmate.errors import FieldProblem
from shopmate.models import hands
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, some
from shopmate.models.loads import Loads, centre
from shopmate.models.side_view import Leg, Slab, counted, from_the_side, hinged, over_travel, said_of_hinge, whole
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
    Strut,
    Walk,
    can_be_built,
    felt,
    in_guides,
    marks,
    mounts,
    on_hinge,
    on_lid,
    one_person,
    said_of_build,
    springs_up,
    upright,
    warmth,
)  # fmt: skip
from shopmate.picture import Picture, Point, both, number, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_BEARINGS = Source("A slide on two bearings jams when 2 × friction × hand distance ÷ slide length reaches 1", "computed")
_FRICTION = Source("Slide friction coefficient 0.1 greased, 0.2 dry; F2/F1 from 1.2 to 1.5", "memory")
_HABIT = Source(
    "Latches rated at twice the load; props sized for twice the full weight with one prop not seated; prop first, hands clear",
    "common practice",
)
_SHARES = Source("EN 1005-3: keep the force below 50 % of what the person can push or pull; 50 to 70 % with care", "read")

_USUAL_PUSH, _USUAL_PULL = f"{hands.PUSH:g} N", f"{hands.PULL:g} N"

_MUCH = Threshold(
    50.0, "%", _SHARES, "of one person's limit", "hand_share", "45.88 kg", "45.89 kg", "mass",
    {"cg": "500 mm", "front_force": "100 N", "rear_force": "100 N", "rear_at": "1 m", "progressivity": "1", "cold": "20 °C",
     "hot": "20 °C", "strut_offset": "0 mm"},
)  # fmt: skip
"""Share of one person's limit above which the lift should not be repeated often."""

_NEAR = Threshold(
    70.0, "%", _SHARES, "close to what one person can manage", "hand_share", "47.92 kg", "47.93 kg", "mass", _MUCH.beside
)
"""Share of one person's limit above which a second person should help."""

_JAMS = Threshold(
    1.0, "", _BEARINGS, "jams however hard you push", "binding", "1249 mm", "1250 mm", "hand_offset",
    {"slide_length": "250 mm", "friction": "0.1"},
)  # fmt: skip
"""Binding figure at which the slides jam."""

_TOO_LONG = Threshold(
    LONGEST_STROKE, "", _HABIT, "An ordinary strut", "", "399.9 mm", "400 mm", "rise", {"height_closed": "400 mm"}
)
"""Ratio of stroke to extended length at which, and above which, no ordinary strut is made."""

_LEANS = Threshold(
    SHALLOW, "", STATICS, "a few mm at the mounts", "", "173.3 mm", "173.1 mm", "height_closed",
    {"strut_offset": "300 mm", "rise": "200 mm"},
)  # fmt: skip
"""Sine of the angle from dead centre below which a closed strut loses more than half its force."""

_GUIDED, _HINGED = "guided", "hinged"
_PLACES = {"closed": 0, "middle": STEPS // 2, "open": STEPS}
"""Number of the step, counted along the travel, at each position shown [computed]."""
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
"""The fields that belong to one mode only."""

_OVERHANG = 0.1
"""How far a roof of unknown length is drawn past its fittings, as a share of their spread (our choice)."""

_LID = ("lid_x", "body_x", "body_y", "angle_open")
_REAR_LID = ("rear_lid_x", "rear_body_x", "rear_body_y")

_ALWAYS = (
    "Prop the roof before anyone reaches or goes under it and before you touch a strut: a strut can lose its gas without "
    "warning. Keep hands clear of slides, hinge and seal",
    "These figures leave out snow, wind on an open roof, seals that stick and worn struts; new struts vary by 5 to 7 % "
    "(memory). If the roof can fall on someone, have an engineer check it and follow local codes",
)
"""Shown with every roof [common practice]."""

_Fields = Mapping[str, object]
"""The fields as entered, or the inputs of a result."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """One pair of struts: how many, their force, position along the roof in mm, and travel."""

    name: str
    struts: int
    strut: Strut | None
    at: float
    walk: Walk
    travel: float
    """Stroke needed for the travel, in m; 0 if not known."""

    def lift(self, step: int, celsius: float) -> float:
        """Return the pair's lift at a step of the travel, in N (guided) or N·m (hinged); 0 if its force is not known."""
        place = self.walk[step]
        return 0.0 if self.strut is None else self.struts * self.strut.at(place.depth, celsius) * place.lever


@dataclass(frozen=True, slots=True)
class _Roof:
    """The load and the struts that lift it; the travel of each pair starts closed and ends open."""

    pairs: tuple[_Pair, ...]
    cold: float
    hot: float
    weighs: float | None
    """Weight times the position of its centre of gravity, in N·mm; None on a hinge, or if the position is not known."""
    hand_at: float
    """Position of the hand along the roof, in mm."""
    alike: bool
    """Whether both pairs have the same travel, as they do in guides."""
    drag: float
    """Slide friction in N per N·m of racking; 0 if the slides are not known."""

    @property
    def warms(self) -> dict[str, float]:
        """The temperatures in °C, by name."""
        return {"cold": self.cold, "20": RATED_AT, "hot": self.hot}

    @property
    def over_centre(self) -> bool:
        """Whether a pair pushes the roof shut anywhere along the travel."""
        return any(place.lever <= 0 for pair in self.pairs for place in pair.walk)

    def lift(self, step: int, celsius: float) -> float:
        """Return the lift of all struts at a step of the travel, in N (guided) or N·m (hinged)."""
        return sum(pair.lift(step, celsius) for pair in self.pairs)

    def hand(self, step: int, celsius: float) -> float:
        """Return the hand force in N, positive up; negative means the roof lifts by itself and needs that pull to close."""
        return self.pairs[0].walk[step].left(self.lift(step, celsius))

    def racking(self, step: int, celsius: float) -> float:
        """Return the racking moment of weight, struts and hand at a step, in N·m; 0 if not known."""
        if self.weighs is None:
            return 0.0
        lifted = sum(pair.lift(step, celsius) * pair.at for pair in self.pairs)
        left = self.weighs - lifted - self.hand(step, celsius) * self.hand_at
        return 0.0 if abs(left) <= NOISE * (abs(self.weighs) + abs(lifted)) else abs(left) / 1000

    def window(self, steps: Iterable[int], push: float, pull: float) -> tuple[float, float] | None:
        """Return the range of factors on the strut forces with which one person moves the roof at those steps, cold and hot."""
        lifted = [(self.pairs[0].walk[step], self.lift(step, RATED_AT)) for step in steps]
        return one_person(lifted, self.cold, self.hot, push, pull)


def _load(fields: _Fields) -> tuple[float, float | None]:
    """Return the mass lifted in kg and the position of its centre of gravity in mm, None if that was not entered."""
    mass, cg = number(fields, "mass", "kg"), in_unit(size(fields, "cg"), "mm")
    extras = fields.get("extras")
    if cg is None or not isinstance(extras, str):
        return mass, cg
    return centre([(mass, cg), *((load.kilograms, load.at(0)) for load in EXTRAS.loads(extras))])


def _roof(fields: _Fields, mass: float, cg: float | None) -> _Roof | None:
    """Return the roof from checked fields; None if there are no struts."""
    guided, weight = fields["mode"] == _GUIDED, mass * GRAVITY
    ratio, pairs = number(fields, "progressivity", ""), []
    beside = _beside(fields, weight) if guided else None
    for name, prefix in (("front", ""), ("rear", "rear_")):
        force, struts = in_unit(size(fields, f"{name}_force"), "N"), fields[f"{name}_struts"]
        if not isinstance(struts, int) or not struts or not (guided or fields[f"{prefix}lid_x"] is not None):
            continue
        walk, travel = beside or _swung(fields, prefix, weight, cg or 0.0)
        strut = None if force is None else Strut(force, ratio)
        pairs.append(_Pair(name, struts, strut, number(fields, f"{name}_at", "mm"), walk, travel))
    if not pairs:
        return None
    weighs = weight * cg if guided and cg is not None else None
    length = in_unit(size(fields, "slide_length"), "m")
    drag = 2 * number(fields, "friction", "") / length if length else 0.0
    cold, hot = number(fields, "cold", "°C"), number(fields, "hot", "°C")
    return _Roof(tuple(pairs), cold, hot, weighs, _hand_at(fields, cg), guided, drag)


def _hand_at(fields: _Fields, cg: float | None) -> float:
    """Return the position of the hand in mm; blank means at the centre of gravity, or twice as far out on a hinge."""
    given, middle = in_unit(size(fields, "handle"), "mm"), cg or 0.0
    if fields["mode"] == _GUIDED:
        return middle if given is None else given
    return given or 2 * middle


def _beside(fields: _Fields, weight: float) -> tuple[Walk, float]:
    """Return the travel of struts beside guides and the stroke needed in m; upright struts need no height."""
    aside, rise, low = (
        number(fields, "strut_offset", "m"),
        number(fields, "rise", "m"),
        in_unit(size(fields, "height_closed"), "m"),
    )
    return in_guides(weight, aside, low, rise) if low and rise else (upright(weight), rise)


def _turns(fields: _Fields) -> list[float]:
    """Return the angles of a hinged lid from closed to open, in radians."""
    closed, opened = (math.radians(number(fields, name, "°")) for name in ("angle_closed", "angle_open"))
    return [closed + (opened - closed) * step / STEPS for step in range(STEPS + 1)]


def _swung(fields: _Fields, prefix: str, weight: float, cg: float) -> tuple[Walk, float]:
    """Return the travel of the struts of a hinged lid, and the stroke needed in m."""
    lid_x, lid_y, body_x, body_y = (number(fields, f"{prefix}{name}", "m") for name in ("lid_x", "lid_y", "body_x", "body_y"))
    middle = (cg / 1000, number(fields, "cg_height", "m"))
    reach = _hand_at(fields, cg) / 1000
    return on_hinge(lambda turn: weight * on_lid(*middle, turn)[0], reach, (lid_x, lid_y), (body_x, body_y), _turns(fields))


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
        parts += [_ideal(fields, roof, weight, cg), _strokes(roof)]
        if all(pair.strut is not None for pair in roof.pairs):
            hand = {
                f"hand_{place}_{warm}": roof.hand(step, celsius)
                for place, step in _PLACES.items()
                for warm, celsius in roof.warms.items()
            }
            parts += [_hands(roof, hand), _window(fields, roof), _racking(fields, roof), _latch(fields, hand)]
    parts += [_prop(fields, weight, cg), slides]
    return joined(*parts, _judged(fields, roof, slides, hand))


def _ideal(fields: _Fields, roof: _Roof, weight: float, cg: float | None) -> Answer:
    """Return the F1 in N per strut at which the open roof is level and balanced at 20 °C."""
    places = [pair.walk[-1] for pair in roof.pairs]
    if any(place.lever <= 0 for place in places):
        return Answer({})
    if len(roof.pairs) == 1:
        only, place = roof.pairs[0], places[0]
        force = place.load / (only.struts * place.lever)
        said = f"balances when open: {only.name} struts of {force:.1f} N each"
        return Answer({f"{only.name}_ideal": force}, (said,)) if force > 0 else Answer({})
    if fields["mode"] == _HINGED or cg is None:
        return Answer({})
    front, rear = roof.pairs
    share = (cg - front.at) / (rear.at - front.at)
    values = {
        "front_ideal": weight * (1 - share) / front.struts / places[0].lever,
        "rear_ideal": weight * share / rear.struts / places[1].lever,
    }
    working = (f"share of the weight on the rear pair = (CG − front)/(rear − front) = {share:.4f}",)
    if min(values.values()) < 0:
        outside = "rear" if share > 1 else "front"
        said = (
            f"The centre of gravity is outside the {outside} pair, so the roof tips over it. Move that pair further out, or the "
            "weight further in"
        )
        return Answer({}, working, (said,))
    said = f"balances when open: front struts {values['front_ideal']:.1f} N each, rear struts {values['rear_ideal']:.1f} N each"
    return Answer(values, (*working, said))


def _strokes(roof: _Roof) -> Answer:
    """Return the stroke needed and the strut lengths, pair by pair on a hinge, and the largest side force."""
    values: dict[str, float | None] = {}
    for prefix, pair in zip(("", "rear_"), roof.pairs[: 1 if roof.alike else 2], strict=False):
        closed, opened = pair.walk[0], pair.walk[-1]
        values[f"{prefix}stroke"] = pair.travel * 1000 if pair.travel else None
        values[f"{prefix}length_open"] = None if opened.length is None else opened.length * 1000
        values[f"{prefix}from_dead_centre"] = math.degrees(math.asin(closed.sine))
    sideways = [
        pair.strut.at(place.depth, roof.hot) * place.side for pair in roof.pairs if pair.strut is not None for place in pair.walk
    ]
    if sideways and max(sideways) > 0:
        values["side_force_most"] = max(sideways)
        return Answer(values, (f"largest side force when hot = force × cos a = {max(sideways):.1f} N per strut",))
    return Answer(values)


def _hands(roof: _Roof, hand: Mapping[str, float]) -> Answer:
    """Return the hand forces closed, half-way and open."""
    working = [
        f"gas force rises with the temperature in kelvin: × {warmth(roof.cold):.4f} at {roof.cold:.1f} °C, × "
        f"{warmth(roof.hot):.4f} at {roof.hot:.1f} °C"
    ]
    for name, step in _PLACES.items():
        place, lifts = roof.pairs[0].walk[step], " − ".join(_signed(pair.lift(step, RATED_AT)) for pair in roof.pairs)
        working.append(
            f"{name}: hand force = (load − lift of each pair)/reach = ({place.load:.2f} − {lifts})/{place.reach:.3g} = "
            f"{hand[f'hand_{name}_20']:z.1f} N; cold {hand[f'hand_{name}_cold']:z.1f} N, hot {hand[f'hand_{name}_hot']:z.1f} N"
        )
    return Answer(dict(hand), tuple(working))


def _signed(figure: float) -> str:
    """Return a number to go after a minus sign, in brackets if it is negative."""
    return f"{figure:.2f}" if figure >= 0 else f"({figure:.2f})"


def _limits(fields: _Fields) -> tuple[float, float]:
    """Return the push-up and pull-down limits for one person, in N."""
    return number(fields, "push_limit", "N"), number(fields, "pull_limit", "N")


def _window(fields: _Fields, roof: _Roof) -> Answer:
    """Return what F1 may be multiplied by to suit one person at three heights, and the F1 that suits at every height."""
    push, pull = _limits(fields)
    shown = roof.window(_PLACES.values(), push, pull)
    if shown is None:
        return Answer({})
    line = (
        f"for one person, closed, half-way and open, multiply F1 by: minimum {shown[0]:.4f} (the push up stays within {push:g} N "
        f"when cold), maximum {shown[1]:.4f} (the pull down stays within {pull:g} N when hot)"
    )
    return Answer({"scale_low": shown[0], "scale_high": shown[1], **_suiting(fields, roof)}, (line,))


def _suiting(fields: _Fields, roof: _Roof) -> dict[str, float]:
    """Return the lowest and highest F1 per pair that suit one person over the travel, in whole N; empty if no strut does."""
    suits = roof.window(range(STEPS + 1), *_limits(fields))
    if suits is None:
        return {}
    found: dict[str, float] = {}
    for pair in roof.pairs:
        force = 0.0 if pair.strut is None else pair.strut.force
        low, high = math.ceil(suits[0] * force), math.floor(suits[1] * force)
        if low > high:
            return {}
        found |= {f"{pair.name}_low": low, f"{pair.name}_high": high}
    return found


def _racking(fields: _Fields, roof: _Roof) -> Answer:
    """Return the racking moment of weight, struts and hand, and the slide loads and friction it causes."""
    if roof.weighs is None:
        return Answer({})
    states = [(place, celsius) for place in _PLACES for celsius in roof.warms.values()]
    place, celsius = max(states, key=lambda state: roof.racking(_PLACES[state[0]], state[1]))
    step = _PLACES[place]
    worst, pushed = roof.racking(step, celsius), roof.hand(step, celsius) * roof.hand_at / 1000
    lifted = sum(pair.lift(step, celsius) * pair.at for pair in roof.pairs) / 1000
    values: dict[str, float | None] = {"racking": worst}
    working = [
        f"racking = |weight × CG − sum of lift × position − hand × position| = |{roof.weighs / 1000:.2f} − {_signed(lifted)} − "
        f"{_signed(pushed)}| = {worst:.2f} N·m, {place} at {celsius:.1f} °C"
    ]
    length, slides = in_unit(size(fields, "slide_length"), "m"), fields["slides"]
    if length is not None:
        values["slide_friction"] = roof.drag * worst
        working.append(
            f"friction of the slides = 2 × {number(fields, 'friction', ''):g} × {worst:.2f} N·m/{length:.3f} m = "
            f"{roof.drag * worst:.1f} N added to the hand force"
        )
    if length is not None and isinstance(slides, int):
        values["slide_force"] = worst / (slides * length)
        working.append(
            f"force on each slide = racking/(slides × length) = {worst:.2f} N·m/({slides} × {length:.3f} m) = "
            f"{worst / (slides * length):.1f} N"
        )
    return Answer(values, tuple(working))


def _latch(fields: _Fields, hand: Mapping[str, float]) -> Answer:
    """Return the load on each latch, closed and hot, with the seal pushing up."""
    latches = fields["latches"]
    if not isinstance(latches, int):
        return Answer({})
    seal = number(fields, "seal", "N")
    each = max(0.0, seal - hand["hand_closed_hot"]) / latches
    line = "latches: nothing pushes the roof up when it is closed and hot"
    if each:
        line = (
            f"load per latch = (seal − hand force closed and hot)/latches = ({seal:.1f} − "
            f"{hand['hand_closed_hot']:.2f})/{latches} = {each:.1f} N "
            "each"
        )
    return Answer({"latch": each, "latch_rated": 2 * each}, (line,))


def _prop(fields: _Fields, weight: float, cg: float | None) -> Answer:
    """Return the load on each prop at twice the weight, with all struts dead and one prop not seated."""
    props = fields["props"]
    if not isinstance(props, int):
        return Answer({})
    bearing, part = max(1, props - 1), 1.0
    if fields["mode"] == _HINGED and cg is not None:
        at = number(fields, "prop_at", "mm") or _hand_at(fields, cg)
        part = cg * math.cos(_turns(fields)[-1]) / at
    if part <= 0:
        return Answer({}, (), (_FALLS_BACK,))
    each = 2 * weight * part / bearing
    lever = f" × {part:.4f}" if part != 1.0 else ""
    line = f"load per prop = 2 × weight{' × its arm ÷ prop arm' if lever else ''}/props seated = "
    return Answer({"prop": each}, (f"{line}2 × {weight:.1f}{lever}/{bearing} = {each:.1f} N each",))


_FALLS_BACK = (
    "When open, the weight is over or behind the hinge, where a prop can't hold it: fit a stay or strap to keep the lid from "
    "falling over backwards or slamming shut"
)
"""How to hold a lid that opens past upright [common practice]."""


def _binding(fields: _Fields) -> Answer:
    """Return the binding figure for a hand off centre, and how far the slide play lets the roof tilt."""
    length = in_unit(size(fields, "slide_length"), "mm")
    if length is None:
        return Answer({})
    values: dict[str, float | None] = {}
    working = []
    if (off := in_unit(size(fields, "hand_offset"), "mm")) is not None:
        friction = number(fields, "friction", "")
        values["binding"] = 2 * friction * off / length
        working.append(
            f"binding = 2 × friction × hand offset/slide length = 2 × {friction:g} × {sig(off)}/{sig(length)} = "
            f"{values['binding']:.3f}"
        )
    if (play := in_unit(size(fields, "play"), "mm")) is not None:
        run = number(fields, "roof_length", "mm")
        values["tilt"] = run * play / length
        working.append(
            f"tilt = roof length × play/slide length = {sig(run)} × {sig(play)}/{sig(length)} = {values['tilt']:.2f} mm"
        )
    return Answer(values, tuple(working))


def _judged(fields: _Fields, roof: _Roof | None, slides: Answer, hand: Mapping[str, float]) -> Answer:
    """Return the verdict, worst first, and what to do about each item."""
    words, said = [], []
    if roof is not None and roof.over_centre:
        words.append("over-centre")
        said.append(
            "The struts go over centre during the travel and push the roof shut there. Move the mounts; or, if the struts are "
            "meant to hold it shut, expect to lift the roof past that point by hand"
        )
    binding = slides.values.get("binding")
    if isinstance(binding, float) and binding >= _JAMS.value:
        words.append("jams")
        said.append(
            "With the hand that far off centre the roof jams however hard you push: lift at the middle or on both sides, or use "
            "longer or lower-friction slides"
        )
    values: dict[str, float | None] = {}
    if roof is not None and hand:
        values, by_hand, told = _by_hand(fields, roof, hand)
        words += by_hand
        said += told
    if not words and not hand and binding is None:
        return Answer({}, (), _ALWAYS)
    verdict = "; ".join(words) or "ok"
    built = () if roof is None else _built(roof)
    return Answer({**values, "verdict": verdict}, (f"verdict: {verdict}",), (*said, *_ALWAYS, *built))


def _built(roof: _Roof) -> list[str]:
    """Return cautions on the strut positions, by pair where they differ."""
    first = roof.pairs[0]
    if roof.alike or len(roof.pairs) == 1:
        return said_of_build(first.walk, first.travel)
    return [f"{pair.name.capitalize()} pair: {text}" for pair in roof.pairs for text in said_of_build(pair.walk, pair.travel)]


def _by_hand(fields: _Fields, roof: _Roof, hand: Mapping[str, float]) -> tuple[dict[str, float | None], list[str], list[str]]:
    """Return the hardest push and pull including slide friction, what they add to the verdict, and what to do."""
    push, pull = _limits(fields)
    states = [
        (roof.hand(step, celsius), roof.drag * roof.racking(step, celsius))
        for step in range(STEPS + 1)
        for celsius in roof.warms.values()
    ]
    most, down = max(0.0, *(sum(state) for state in states)), max(0.0, *(drag - force for force, drag in states))
    words, said = [], []
    if most > push * (1 + NOISE):
        words.append("too heavy")
        said.append(f"You have to push up with as much as {felt(most)}; the limit for one person is {felt(push)}.")
    if down > pull * (1 + NOISE):
        words.append("hard to pull down")
        said.append(f"You have to pull down with as much as {felt(down)}; the limit for one person is {felt(pull)}.")
    values: dict[str, float | None] = {"hand_most": most, "hand_pull": down, "hand_share": 100 * max(most / push, down / pull)}
    if said:
        rubs = all(-pull <= force <= push for force, _ in states)
        moved, remedy = ({}, _RUBS) if rubs else _remedy(fields, roof)
        values |= moved
        said = [" ".join((*said, remedy)).strip()]
    else:
        said += _shares(values["hand_share"])
    if hand["hand_open_cold"] > 0:
        words.append("settles when cold")
        said.append(
            f"At {roof.cold:.0f} °C it takes {felt(hand['hand_open_cold'])} to hold the open roof up, ignoring friction: prop "
            "it whenever it is up"
        )
    suits = roof.window(range(STEPS + 1), push, pull)
    if suits is not None and suits[0] > suits[1]:
        words.append("no strut suits")
    if (up := number(fields, "seal", "N") - hand["hand_closed_hot"]) > 0:
        values["pushes_up"] = up
        said.append(springs_up(up, roof.hot, hinged=fields["mode"] == _HINGED))
    return values, words, said


_RUBS = "Slide friction is the cause: bring struts and hand in line with the weight, or use longer slides"
"""What to do when only the racking of the slides makes the hand force too large."""


def _remedy(fields: _Fields, roof: _Roof) -> tuple[dict[str, float | None], str]:
    """Return mounts that suit one person where no strut force does, and what to do, in words."""
    if roof.over_centre:
        return {}, ""
    if suiting := _suiting(fields, roof):
        struts = _ranges(suiting)
        return {}, f"{struts[0].upper()}{struts[1:]} would suit one person"
    suits = roof.window(range(STEPS + 1), *_limits(fields))
    if suits is not None and suits[0] <= suits[1]:
        return {}, "Only a very narrow range of strut force suits one person: use adjustable struts"
    names = ("strut_offset", "height_closed", "rise")
    aside, height, rise = (in_unit(size(fields, name), "mm") for name in names)
    if fields["mode"] == _GUIDED and aside and height and rise:
        for across, under in mounts(aside, height, rise):
            there = {**fields, "strut_offset": Quantity(across, "mm"), "height_closed": Quantity(under, "mm")}
            moved = _roof(there, *_load(fields))
            assert moved is not None
            suiting = _suiting(there, moved)
            if suiting and all(can_be_built(pair.walk[-1], pair.travel) for pair in moved.pairs):
                return {**suiting, "mount_aside": across, "mount_height": under}, (
                    f"No strut suits one person with these mounts. Put the lower pivots {across} mm to the side of the upper "
                    f"ones and {under} mm below them when closed, and use {_ranges(suiting)}"
                )
    return {}, (
        "No strut force suits one person at every height, cold and hot: use struts with a lower F2/F1, get a helper or a "
        "hoist, or make the roof lighter"
    )


def _ranges(suiting: Mapping[str, float]) -> str:
    """Return the range of forces that suits one person, in words."""
    said = []
    for name in ("front", "rear"):
        if f"{name}_high" in suiting:
            low, high = suiting[f"{name}_low"], suiting[f"{name}_high"]
            said.append(f"{name} struts of {f'{low:.0f} to' if low else 'up to'} {high:.0f} N")
    return " and ".join(said) + " (F1)"


def _shares(share: object) -> list[str]:
    """Return the caution for hand forces within the limit but close to it."""
    assert isinstance(share, float)
    if share >= _NEAR.value:
        return [f"The hand force is {share:.0f} % of one person's limit, close to what one person can manage: have someone help"]
    if share >= _MUCH.value:
        return [f"The hand force is {share:.0f} % of one person's limit: fine now and then, not several times an hour"]
    return []


def _problems(fields: _Fields) -> list[FieldProblem]:
    """Return a problem for each field that conflicts with another or is missing."""
    mode, other = (_GUIDED, _HINGED) if fields["mode"] == _GUIDED else (_HINGED, _GUIDED)
    found = [
        *given(
            some(fields, _OWN[other]),
            f"is only for a {other} roof, and this one is {mode}",
            f"leave this blank, or choose {other}",
        ),
        *_slide_problems(fields),
    ]
    if fields["mass"] is None:
        names = ("extras", "cg", "front_force", "rear_force", "latches", "props", "seal")
        found += given(some(fields, names), "needs the mass too", "enter the mass of the roof (kg or lb)")
        if fields["slide_length"] is None and not found:
            found.append(
                FieldProblem(
                    "mass",
                    "nothing entered",
                    "enter the mass of the roof; or, to check the slides alone, the slide bearing length and either the play or "
                    "how far the hand is off centre",
                )
            )
        return found
    return [*found, *_strut_problems(fields), *(_hinge_problems if mode == _HINGED else _guide_problems)(fields)]


def _slide_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with slides, play and a hand off centre."""
    fix = "enter the slide bearing length, between the two bearings of one slide"
    words = {"slides": "the load on each slide", "play": "the tilt from the play", "hand_offset": "the check for jamming"}
    lacking = [said for name, said in words.items() if fields[name] is not None]
    if fields["slide_length"] is None:
        return [FieldProblem("slide_length", f"nothing entered, and {said} needs it", fix) for said in lacking[:1]]
    tilting = some(fields, ["roof_length"] if fields["play"] is not None else [])
    return missing(
        tilting, "nothing entered, and the tilt from the play needs it", "enter the length of the roof, or leave the play blank"
    )


def _strut_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with the pairs of struts and their forces."""
    found = []
    for name, other in (("front", "rear"), ("rear", "front")):
        if not fields[f"{name}_struts"]:
            if fields[f"{name}_force"] is not None:
                found.append(
                    FieldProblem(
                        f"{name}_force",
                        "there is a force but no strut",
                        f"enter how many struts the {name} pair has, or leave the force blank",
                    )
                )
        elif fields[f"{name}_force"] is None and fields[f"{other}_force"] is not None:
            what = f"nothing entered, but the {other} pair has a force"
            found.append(FieldProblem(f"{name}_force", what, f"enter the force, or 0 struts for the {name} pair"))
    if fields["extras"] is not None:
        found += missing(
            some(fields, ["cg"]), "nothing entered, and the loads on the roof need it", "enter where the bare roof balances"
        )
    if fields["latches"] is not None and fields["front_force"] is None and fields["rear_force"] is None:
        found.append(
            FieldProblem("latches", "the latch load can't be worked out without the struts", "enter the force of the struts")
        )
    if fields["latches"] is None:
        found += given(some(fields, ["seal"]), "is only used with latches", "enter the number of latches, or leave this blank")
    return found


def _guide_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with a roof in guides."""
    found = []
    if fields["front_struts"] and fields["rear_struts"]:
        found += missing(
            some(fields, ["rear_at"]),
            "nothing entered",
            "enter the position of the rear pair, from the same point as the centre of gravity",
        )
        if fields["rear_at"] is not None and number(fields, "rear_at", "mm") <= number(fields, "front_at", "mm"):
            what = "is not behind the front pair"
            found.append(FieldProblem("rear_at", what, "measure both from the same point, with the rear pair further away"))
    if number(fields, "strut_offset", "mm"):
        need = "enter the closed height and the rise, or 0 for the lower pivot offset"
        found += missing(some(fields, ["height_closed", "rise"]), "nothing entered, and leaning struts need it", need)
    return found


def _hinge_problems(fields: _Fields) -> list[FieldProblem]:
    """Return the problems with a roof on a hinge."""
    found = missing(
        some(fields, ["cg"]), "nothing entered", "enter where the roof balances, measured from the hinge along the roof"
    )
    swings = fields["props"] is not None
    for pair, prefix, fix in (
        ("front", "", "enter both mounts"),
        ("rear", "rear_", "enter its mounts, or 0 struts for the rear pair"),
    ):
        need = some(fields, [f"{prefix}{name}" for name in ("lid_x", "body_x", "body_y")])
        asked = pair == "rear" or fields["front_force"] is not None or any(value is not None for value in need.values())
        if fields[f"{pair}_struts"] and asked:
            swings = True
            found += missing(need, f"nothing entered for the {pair} pair", fix)
    if swings:
        found += missing(some(fields, ["angle_open"]), "nothing entered", "enter the angle of the open roof from horizontal")
    if fields["angle_open"] is not None and number(fields, "angle_open", "°") <= number(fields, "angle_closed", "°"):
        found.append(
            FieldProblem(
                "angle_open",
                "is not larger than the angle when closed",
                "enter the angle of the open roof, larger than the closed one",
            )
        )
    if fields["cg"] is not None and number(fields, "cg", "mm") <= 0:
        found.append(FieldProblem("cg", "is not on the roof's side of the hinge", "measure it from the hinge, along the roof"))
    if fields["props"] is None:
        found += given(some(fields, ["prop_at"]), "is only used with props", "enter the number of props, or leave this blank")
    return found


def _side_view(inputs: _Fields, outputs: _Fields) -> Picture | None:
    """Return the side view, closed and open, with the struts; None if the mounts are not known."""
    if inputs.get("mass") is None:
        return None
    mass, cg = _load(inputs)
    roof = _roof(inputs, mass, cg)
    if roof is None or roof.pairs[0].walk[0].length is None:
        return None
    slab, centre, said = (_in_slides if inputs["mode"] == _GUIDED else _on_its_hinge)(inputs, roof, cg)
    legs = [_leg(inputs, pair) for pair in roof.pairs]
    return from_the_side(slab, legs, centre, roof.hand_at, outputs, said)


def _in_slides(inputs: _Fields, roof: _Roof, cg: float | None) -> tuple[Slab, Point | None, str]:
    """Return a roof in slides, its centre of gravity, and both in words; heights are those of the upper pivots."""
    low, rise = number(inputs, "height_closed", "mm"), number(inputs, "rise", "mm")
    left, right, known = _ends(inputs, roof, cg)
    slab = Slab(left, right, lambda along, off: (along, low + off), lambda along, off: (along, low + rise + off))
    guessed = f"thickness{'' if known else ', ends'}{', direction of lean' if number(inputs, 'strut_offset', 'mm') else ''}"
    said = f"{_said(inputs, 'height_closed')} above the lower pivots, rises {_said(inputs, 'rise')}{_said_of_centre(inputs, cg)}"
    return slab, None if cg is None else (cg, slab.thick / 2), f"{said}; not entered, so only sketched: {guessed}"


def _on_its_hinge(inputs: _Fields, roof: _Roof, cg: float | None) -> tuple[Slab, Point | None, str]:
    """Return a roof on a hinge drawn as far as its outermost item, its centre of gravity, and both in words."""
    turns = _turns(inputs)
    length = max(roof.hand_at, cg or 0.0, *_extras_at(inputs), *(_mounts(inputs, pair)[1][0] for pair in roof.pairs))
    said = said_of_hinge(turns, _said_of_centre(inputs, cg))
    return hinged(length, turns[0], turns[-1]), (cg or 0.0, number(inputs, "cg_height", "mm")), said


def _said(inputs: _Fields, name: str) -> str:
    """Return a length as entered, in both systems."""
    length = size(inputs, name)
    return "" if length is None else both(length)


def _said_of_centre(inputs: _Fields, cg: float | None) -> str:
    """Return the position of the centre of gravity with loads on the roof, '' if not known."""
    if cg is None:
        return ""
    return f", centre of gravity at {_said(inputs, 'cg') if inputs.get('extras') is None else whole(cg)}"


def _ends(inputs: _Fields, roof: _Roof, cg: float | None) -> tuple[float, float, bool]:
    """Return where the roof starts and ends in mm, and whether its length was entered; if not, it is drawn past its fittings."""
    places = [*(pair.at for pair in roof.pairs), roof.hand_at, *([] if cg is None else [cg]), *_extras_at(inputs)]
    first, last = min(places), max(places)
    length = number(inputs, "roof_length", "mm")
    if length > last - first:
        # From the origin if everything is beyond it, otherwise around the fittings.
        begin = 0.0 if first >= 0 and last <= length else (first + last - length) / 2
        return begin, begin + length, True
    over = _OVERHANG * (last - first) or number(inputs, "rise", "mm")
    return first - over, last + over, False


def _extras_at(inputs: _Fields) -> list[float]:
    """Return the positions of the loads on the roof, in mm."""
    extras = inputs.get("extras")
    return [load.at(0) for load in EXTRAS.loads(extras)] if isinstance(extras, str) else []


def _leg(inputs: _Fields, pair: _Pair) -> Leg:
    """Return the struts of a pair, drawn from pivot to pivot."""
    return Leg(*_mounts(inputs, pair), f"{pair.name} {counted(pair.struts)}", size(inputs, f"{pair.name}_force"), pair.walk)


def _mounts(inputs: _Fields, pair: _Pair) -> tuple[Point, Point]:
    """Return the pivots of a pair in mm: the one on the body, and the one on the roof measured along it and square to it.

    The form does not ask which way struts beside slides lean: they are drawn leaning towards the middle of the roof.
    """
    rear = pair.name == "rear"
    if inputs["mode"] == _GUIDED:
        aside = number(inputs, "strut_offset", "mm")
        return (pair.at - aside if rear else pair.at + aside, 0.0), (pair.at, 0.0)
    prefix = "rear_" if rear else ""
    lid_x, lid_y, body_x, body_y = (number(inputs, f"{prefix}{name}", "mm") for name in ("lid_x", "lid_y", "body_x", "body_y"))
    return (body_x, body_y), (lid_x, lid_y)


def _forces(inputs: _Fields, outputs: _Fields) -> Picture | None:
    """Return the curve of the hand force in N, from closed to open, with the limits for one person."""
    if outputs.get("hand_open_20") is None:
        return None
    mass, cg = _load(inputs)
    roof = _roof(inputs, mass, cg)
    if roof is None:
        return None
    push, pull = _limits(inputs)
    curves = [
        (name, mark, [roof.hand(step, celsius) for step in range(STEPS + 1)])
        for name, celsius, mark in marks(roof.cold, roof.hot)
    ]
    places = {"closed": "closed", "half-way": "middle", "open": "open"}
    said = "; ".join(f"{name} {_at_place(outputs, place)}" for name, place in places.items())
    words = f"Hand force (+ push up, − pull down): {said}."
    return over_travel(curves, words, (("limit, push", push), ("limit, pull", -pull)))


def _at_place(outputs: _Fields, place: str) -> str:
    """Return the hand forces at a position, in both systems."""
    forces = [(Quantity(round(number(outputs, f"hand_{place}_{warm}", "N")), "N"), name) for name, warm in _WARMS]
    return ", ".join(f"{both(force)} {name}" for force, name in forces)


_WARMS = (("cold", "cold"), ("at 20 °C", "20"), ("hot", "hot"))
"""Names of the temperatures in the picture and in the outputs."""


def _length(name: str, title: str, help: str, low: float = -3000, high: float = 3000, default: str | None = None) -> Field:
    return Field(name, title, Measure("mm", low=low, high=high), help, default=default)


EXTRAS = Loads(Measure("mm", low=-5000, high=5000))
"""How loads on the roof are entered."""

_OUTPUTS = (
    Output("verdict", "Verdict"),
    Output("front_ideal", "Front struts, F1 to balance", "N", 0),
    Output("rear_ideal", "Rear struts, F1 to balance", "N", 0),
    Output("hand_most", "Hardest push up", "N", 0),
    Output("hand_pull", "Hardest pull down", "N", 0),
    Output("prop", "Load on each prop", "N", 0),
    Output("latch", "Load on each latch, hot", "N", 0),
    Output("latch_rated", "Latch rating to buy", "N", 0),
    Output("pushes_up", "Upward push, closed and hot", "N", 0),
    Output("front_low", "One person: front F1, min", "N", 0),
    Output("front_high", "One person: front F1, max", "N", 0),
    Output("rear_low", "One person: rear F1, min", "N", 0),
    Output("rear_high", "One person: rear F1, max", "N", 0),
    Output("mount_aside", "Better mounts: lower pivot offset", "mm", 0),
    Output("mount_height", "Better mounts: height, closed", "mm", 0),
    *(Output(f"hand_{place}_{warm}", f"Hand force {where}, {when}", "N", 0)
      for place, where in (("closed", "closed"), ("middle", "half-way"), ("open", "open"))
      for warm, when in (("cold", "cold"), ("20", "20 °C"), ("hot", "hot"))),
    Output("hand_share", "Hand force, share of one person's limit", "%", 0),
    Output("scale_low", "One person: factor on F1, min", "", 3),
    Output("scale_high", "One person: factor on F1, max", "", 3),
    Output("racking", "Racking moment", "N·m", 0),
    Output("slide_force", "Racking force on each slide", "N", 0),
    Output("slide_friction", "Force from slide friction", "N", 0),
    Output("side_force_most", "Largest side force per strut", "N", 0),
    Output("tilt", "Tilt from slide play", "mm", 1),
    Output("binding", "Binding figure (jams at 1)", "", 2),
    Output("stroke", "Stroke needed", "mm", 0),
    Output("length_open", "Strut length, open", "mm", 0),
    Output("from_dead_centre", "Angle from dead centre, closed", "°"),
    Output("rear_stroke", "Rear pair: stroke needed", "mm", 0),
    Output("rear_length_open", "Rear pair: strut length, open", "mm", 0),
    Output("rear_from_dead_centre", "Rear pair: angle from dead centre", "°"),
    Output("weight", "Weight lifted", "N", 0),
    Output("cg", "Centre of gravity", "mm", 0),
    Output("mass_lifted", "Total mass with loads", "kg", 1),
)  # fmt: skip
"""The outputs, those used first at the bench at the top (our choice)."""

CALCULATOR = Calculator(
    name="roof", title="Forces of two pairs of struts on a roof, in N",
    inputs=(
        Field("mode", "How the roof opens", Choice((_GUIDED, _HINGED)), "Guided: straight up in slides. Hinged: on a hinge.",
            default=_GUIDED),
        Field("mass", "Mass of the roof", Measure("kg", above=0, high=500, soft_high=150), "Weigh it, or add up its panels."),
        _length("cg", "Centre of gravity", "Where it balances on a rod, measured along the roof. Guided: from any fixed "
            "point. Hinged: from the hinge.", low=-5000, high=5000),
        Field("extras", "Loads on the roof", EXTRAS, "Mass and position of each along the roof, such as solar 14 kg @ 500 mm; "
            "fan 6 kg @ 1800 mm."),
        Field("front_struts", "Number of front struts", Count(0, 4), "Hinged: the pair whose mounts you enter first.",
            default="2"),
        Field("front_force", "Force of a front strut, F1", Measure("N", low=20, high=3000),
            "Printed on the strut: at 20 °C with the rod nearly out. Blank: you get only the force that balances the roof."),
        Field("rear_struts", "Number of rear struts", Count(0, 4), default="0"),
        Field("rear_force", "Force of a rear strut, F1", Measure("N", low=20, high=3000)),
        _length("front_at", "Guided: front pair position", "From the same point as the centre of gravity. Blank: 0.", -5000,
            5000),
        _length("rear_at", "Guided: rear pair position", "From the same point as the front pair.", -5000, 5000),
        _length("strut_offset", "Guided: lower pivot offset", "Sideways from the upper pivot. Blank: "
            "0, an upright strut.", 0, 1500),
        _length("height_closed", "Guided: height, closed", "Vertical distance between the two pivots of a strut.", 10, 2000),
        _length("rise", "Guided: rise to open", "How far the roof goes up.", 20, 2000),
        _length("lid_x", "Hinged: hinge to lid mount", "Front pair: measured along the closed roof."),
        _length("lid_y", "Hinged: lid mount offset", "Square to the roof from the hinge line; below it is negative. Blank: 0."),
        _length("body_x", "Hinged: body mount, x", "Horizontally from the hinge; towards the roof is positive."),
        _length("body_y", "Hinged: body mount, y", "Upwards from the hinge; below it is negative."),
        _length("rear_lid_x", "Rear pair: hinge to lid mount", "On a hinged lid, measured like the front pair."),
        _length("rear_lid_y", "Rear pair: lid mount offset", ""),
        _length("rear_body_x", "Rear pair: body mount, x", ""),
        _length("rear_body_y", "Rear pair: body mount, y", ""),
        Field("angle_closed", "Hinged: angle, closed", Measure("°", low=-20, high=120), "From horizontal. Blank: 0."),
        Field("angle_open", "Hinged: angle, open", Measure("°", low=-20, high=120)),
        _length("cg_height", "Hinged: CG above hinge line", "Square to the roof. Blank: 0."),
        _length("handle", "Hand position", "Guided: from the same point as the centre of gravity (blank: at it). "
            "Hinged: from the hinge (blank: twice as far out as the centre of gravity).", 0, 4000),
        Field("progressivity", "Struts: F2/F1", Measure("", low=1, high=2, soft_high=1.6), "Force with the rod in divided by "
            "force with the rod out, from "
            "the data sheet; usually 1.2 to 1.5 (memory).", default=f"{USUAL_PROGRESSIVITY:g}"),
        Field("cold", "Lowest temperature in use", Measure("°C", low=-40, high=20), default=COLD),
        Field("hot", "Highest "
            "roof temperature", Measure("°C", low=20, high=80, soft_high=60), "A roof in the sun is hotter than the air.",
            default=HOT),
        Field("push_limit", "Limit for one person, push up", Measure("N", low=10, high=600), "50 N per arm (EN 1005-3).",
            default=_USUAL_PUSH),
        Field("pull_limit", "Limit for "
            "one person, pull down", Measure("N", low=10, high=600), "Standing, whole body (EN 1005-3).",
            default=_USUAL_PULL),
        Field("slides", "Guided: number of slides", Count(1, 12), "The slides that share the racking load."),
        _length("slide_length", "Guided: slide bearing length", "Distance between the two bearings of one slide.", 20, 2000),
        _length("play", "Guided: play of a slide", "", 0, 10),
        _length("roof_length", "Guided: length of the roof", "Used for the tilt from slide play and for the drawing.",
            100, 5000),
        _length("hand_offset", "Guided: hand off centre", "Sideways from the line midway between the two slides.", 0, 3000),
        Field("friction", "Slide friction coefficient", Measure("", low=0, high=0.6, soft_high=0.3),
            "0.1 greased, 0.2 dry (memory).",
            default="0.1"),
        Field("latches", "Latches", Count(1, 60), "Number of latches that hold the roof closed."),
        Field("seal", "Upward push of the seal", Measure("N", low=0, high=3000), "Total seal force when closed; work it out "
            "with the gap calculator."),
        Field("props", "Props", Count(1, 6), "Number of props under the open roof."),
        _length("prop_at", "Hinged: prop position", "From the hinge. Blank: at the hand.", 50, 4000),
    ),
    outputs=_OUTPUTS,
    source=(STATICS, GAS, LINEAR, _BEARINGS, _FRICTION, _HABIT, _SHARES, hands.PUSH_SOURCE, hands.PULL_SOURCE),
    valid="For a stiff roof moved slowly, straight up in slides or on one hinge. The struts of a pair are the same; their force "
    "rises in a straight line as the rod goes in, and the rod is fully out when the roof is open. A positive hand force is a "
    "push up; a negative one means the roof lifts by itself and needs that pull to close. The hand forces at closed, half-way "
    "and open leave out slide friction; the hardest push and pull include it. The factors on F1 suit those three heights "
    "only; the F1 range for one person suits every height. Not included: wind, snow, seals that stick, oil damping, worn "
    "struts.",
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
    asked=("mode", "mass", "front_force", "rear_force"),
    compute=_compute, pictures=(_side_view, _forces), thresholds=(_MUCH, _NEAR, _JAMS, _TOO_LONG, _LEANS),
)  # fmt: skip
