"""Gas struts: force by stroke and temperature, what they lift in guides or on a hinge, and the hand force still needed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from shopmate.calculator import Source
from shopmate.models import hands
from shopmate.models.arrhenius import ZERO_CELSIUS
from shopmate.models.constants import LBF, NOISE
from shopmate.picture import Mark
from shopmate.records import dataclass

STATICS = Source("Statics: moments about the hinge, or forces along the guides, in balance", "computed")
GAS = Source(
    "Ideal gas at constant volume, F = F20 (273.15 + T)/293.15; a strut maker's note gives 3 to 4 % per 10 K (read)", "computed"
)
LINEAR = Source("Force linear along the stroke, F1 + (F2 − F1) s/S; F1 is stated at about 20 °C (strut makers' notes)", "read")

RATED_AT = 20.0
"""Temperature in °C at which the force of a strut is stated [read: a strut maker's note on thrust measurement]."""

USUAL_PROGRESSIVITY = 1.3
"""F2/F1 used if none is entered; struts range from 1.2 to 1.5 [memory; typical: the data sheet overrides it]."""

COLD, HOT = "-10 °C", "45 °C"
"""Coldest and hottest use if none is entered (our choice): a shut roof in the sun gets hotter than the air."""

LONGEST_STROKE = 0.5
"""Stroke as a share of the extended length that no ordinary strut reaches: the rod and the tube are each as long as the stroke,
plus the ends [common practice]."""

SHALLOW = 0.5
"""Sine of the angle from dead centre (30°) below which a strut loses more than half its force [computed]."""

TRIALS = 12
"""Positions tried each way when looking for mounts that suit one person (our choice)."""

STEPS = 60
"""Steps into which a travel is divided to find the largest force and dead centre (our choice)."""


@dataclass(frozen=True, slots=True)
class Strut:
    """A strut: its force at 20 °C with the rod nearly out (F1, in N) and its progressivity (F2/F1)."""

    force: float
    progressivity: float

    def at(self, depth: float, celsius: float = RATED_AT) -> float:
        """Return the force in N with the rod in by `depth` of the stroke: linear from F1 to F2, then scaled by temperature."""
        return self.force * (1 + (self.progressivity - 1) * depth) * warmth(celsius)


def marks(cold: float, hot: float) -> tuple[tuple[str, float, Mark], ...]:
    """Return the name, style and °C of the curves for the coldest use, 20 °C and the hottest use."""
    return (
        (f"cold, {cold:.4g} °C", cold, "ring"),
        (f"at {RATED_AT:g} °C", RATED_AT, "dot"),
        (f"hot, {hot:.4g} °C", hot, "cross"),
    )


def warmth(celsius: float) -> float:
    """Return the gas force at a temperature divided by that at 20 °C: ideal gas at constant volume, in kelvin."""
    return (ZERO_CELSIUS + celsius) / (ZERO_CELSIUS + RATED_AT)


def on_lid(along: float, off: float, turn: float) -> tuple[float, float]:
    """Return the position of a point on a lid opened by `turn` radians, hinge at the origin, in the unit of the input."""
    return along * math.cos(turn) - off * math.sin(turn), along * math.sin(turn) + off * math.cos(turn)


def arm(lid: tuple[float, float], body: tuple[float, float]) -> float:
    """Return a strut's arm about the origin, from its mount on the body to its mount on the lid; positive if it opens the lid.

    Px uy − Py ux with u = (P − B)/|P − B|, which is the change of length per radian; 0 where the mounts meet.
    """
    length = math.dist(lid, body)
    return (lid[1] * body[0] - lid[0] * body[1]) / length if length else 0.0


@dataclass(frozen=True, slots=True)
class Place:
    """One step of the travel. Load and lever are a force and a sine in guides, a moment and an arm on a hinge."""

    depth: float
    """How far the rod is in, from 0 (out) to 1 (all of its stroke)."""
    load: float
    """Weight along the guides in N, or its moment about the hinge in N·m; positive if it closes."""
    lever: float
    """Lift per newton of strut force: the sine of its angle, or its arm in m; positive if it opens."""
    sine: float
    """Sine of the angle between the strut and the direction in which it lifts nothing: 0 at dead centre."""
    reach: float = 1.0
    """Arm of the hand: 1 along guides, metres from the hinge."""
    side: float = 0.0
    """Share of a strut's force that presses on the slides; 0 on a hinge."""
    length: float | None = None
    """Metres between the strut's two pivots; None if its mounts are not known."""

    def left(self, lift: float) -> float:
        """Return the hand force in N if the struts lift with `lift` (N, or N·m on a hinge).

        If negative, the roof lifts by itself and needs that pull to close. 0 if only float noise is left.
        """
        left = self.load - lift
        return 0.0 if abs(left) <= NOISE * (abs(self.load) + abs(lift)) else left / self.reach


Walk = tuple[Place, ...]
"""The steps of a travel, evenly spaced from closed to open."""


def upright(weight: float) -> Walk:
    """Return the travel of upright struts beside guides, under `weight` in N: only the rod moves."""
    return tuple(Place(1 - step / STEPS, weight, 1.0, 1.0) for step in range(STEPS + 1))


def in_guides(weight: float, aside: float, low: float, rise: float, stroke: float | None = None) -> tuple[Walk, float]:
    """Return the travel of struts beside guides, sin a = h/√(c² + h²), and the stroke needed in m.

    Weight in N; lower pivot `aside` of the upper one, height between them closed and rise to open in m; `stroke` is the
    stroke of the strut itself, if longer than the travel needs.
    """
    heights = [low + rise * step / STEPS for step in range(STEPS + 1)]
    lengths = [math.hypot(aside, height) for height in heights]
    travel, depths = _depths(lengths, stroke)
    return tuple(
        Place(depth, weight, sine, sine, side=aside / length if length else 1.0, length=length)
        for height, length, depth in zip(heights, lengths, depths, strict=True)
        for sine in (height / length if length else 0.0,)
    ), travel


def on_hinge(
    load: Callable[[float], float], reach: float, lid: tuple[float, float], body: tuple[float, float], turns: Iterable[float],
    stroke: float | None = None,
) -> tuple[Walk, float]:  # fmt: skip
    """Return the steps of a lid hinged at the origin at the angles `turns` (radians), and the stroke needed in m.

    `load` gives the moment of the weight in N·m at an angle, `reach` is the arm of the hand in m. x runs along the closed lid
    away from the hinge, y up. The strut pushes from its mount B on the body to its mount P on the lid along u = (P − B)/|P − B|;
    its arm is Px uy − Py ux, positive if it opens. For a lid known only closed, the rod counts as fully in.
    """
    walk, angles = [], tuple(turns)
    mounts = [on_lid(*lid, turn) for turn in angles]
    lengths = [math.dist(mount, body) for mount in mounts]
    travel, depths = _depths(lengths, stroke)
    for turn, mount, length, depth in zip(angles, mounts, lengths, depths, strict=True):
        lever = arm(mount, body)
        from_hinge = math.hypot(*mount)
        sine = max(-1.0, min(1.0, lever / from_hinge)) if from_hinge else 0.0
        walk.append(Place(depth if len(angles) > 1 else 1.0, load(turn), lever, sine, reach, length=length))
    return tuple(walk), travel


def _depths(lengths: list[float], stroke: float | None) -> tuple[float, list[float]]:
    """Return the stroke needed in m, and how far the rod is in at each length, as a share of the strut's stroke.

    The rod is fully out when open, so any extra stroke is left over when closed.
    """
    travel = lengths[-1] - min(lengths)
    whole = stroke or travel
    return travel, [min(1.0, max(0.0, (lengths[-1] - length) / whole)) if whole > 0 else 0.0 for length in lengths]


def one_person(
    lifted: Iterable[tuple[Place, float]], cold: float, hot: float, push: float = hands.PUSH, pull: float = hands.PULL
) -> tuple[float, float] | None:
    """Return the range of factors on the lift (N, or N·m on a hinge, at 20 °C) with which one person can move the roof.

    When cold, the hand pushes up with no more than `push` N; when hot, it pulls down with no more than `pull` N; temperatures
    in °C. If the first factor is above the second, none suits. None if the struts do not lift.
    """
    low, high = 0.0, math.inf
    for place, lift in lifted:
        if lift <= 0:
            return None
        low = max(low, (place.load - push * place.reach) / (lift * warmth(cold)))
        high = min(high, (place.load + pull * place.reach) / (lift * warmth(hot)))
    return low, high


def mounts(aside: float, height: float, rise: float) -> list[tuple[int, int]]:
    """Return lower pivots to try in guides, in mm beside and below the upper ones, those nearest to the present ones first.

    They are closer in than the present ones, and up to twice the rise lower.
    """
    places = [
        (round(aside * (1 - nearer / TRIALS)), round(height + rise * lower / TRIALS))
        for nearer in range(TRIALS + 1)
        for lower in range(2 * TRIALS + 1)
    ]
    return sorted(places, key=lambda place: math.dist(place, (aside, height)))


def can_be_built(opened: Place, travel: float) -> bool:
    """Return whether an ordinary strut can have the stroke `travel` (m); True if its length is unknown."""
    return opened.length is None or travel < LONGEST_STROKE * opened.length


def said_of_build(walk: Walk, travel: float) -> list[str]:
    """Return cautions on the strut mounts: a stroke (m) no strut has, little leverage when closed, a sideways push."""
    closed, opened = walk[0], walk[-1]
    said = []
    if not can_be_built(opened, travel) and opened.length is not None:
        said.append(
            f"The travel needs {travel * 1000:.0f} mm of stroke from a strut {opened.length * 1000:.0f} mm long when extended. "
            "An ordinary strut is more than twice as long as its stroke (common practice): move the mounts so that the stroke "
            "is less than half the length"
        )
    if 0 < closed.sine < SHALLOW:
        said.append(
            f"Closed, the struts are only {math.degrees(math.asin(closed.sine)):.0f}° from dead centre: a few mm at the mounts "
            "change the force a lot. Measure the mounts as built and run this again"
        )
    if max(place.side for place in walk) > NOISE:
        said.append(
            "The struts lean, so each pushes its slide sideways. Struts leaning opposite ways on a stiff panel cancel out; "
            "struts that lean the same way, or a single strut, load the slides: check the largest side force against the slide "
            "data sheet"
        )
    return said


def felt(force: float) -> str:
    """Return a hand force in N, to whole newtons and pounds: '121 N (27 lbf)'."""
    return f"{force:.0f} N ({force / LBF:.0f} lbf)"


def springs_up(force: float, celsius: float, *, hinged: bool) -> str:
    """Return the caution for a shut roof that pushes up with `force` N at that temperature in °C."""
    nearer = ", and more the nearer it is to the hinge" if hinged else ""
    return (
        f"Closed, it pushes up with {felt(force)} at {celsius:.0f} °C: a latch at the hand must hold more than that{nearer}. "
        "The roof springs up when you open it: keep your face clear and a hand on it"
    )
