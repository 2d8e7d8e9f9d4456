"""Gas struts: their force by stroke and temperature, what they lift in guides or on a hinge, and what is left to the hand."""

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
    "Ideal gas at constant volume, F = F20 (273.15 + T)/293.15; a strut maker's note gives 3 to 4 % a 10 K (read)", "computed"
)
LINEAR = Source("Force linear along the stroke, F1 + (F2 − F1) s/S; F1 is stated at about 20 °C (strut makers' notes)", "read")

RATED_AT = 20.0
"""Temperature in °C at which the force of a strut is stated [read: a strut maker's note on thrust measurement]."""

USUAL_PROGRESSIVITY = 1.3
"""F2/F1 taken where none is given; struts run from 1.2 to 1.5 [memory; typical: use your data sheet]."""

COLD, HOT = "-10 °C", "45 °C"
"""The coldest and the hottest use where none is given (ours): a shut roof in the sun is hotter than the air."""

LONGEST_STROKE = 0.5
"""Stroke over extended length that no strut of usual build reaches: rod and tube each take a stroke, ends come on top
[common practice]."""

SHALLOW = 0.5
"""Sine of the angle from dead centre (30°) under which a strut loses more than half its force [computed]."""

TRIALS = 12
"""Places tried each way for mounts that suit one person (ours)."""

STEPS = 60
"""Steps in which a travel is walked for the greatest force and for dead centre (ours)."""


@dataclass(frozen=True, slots=True)
class Strut:
    """A strut by its force at 20 °C with the rod nearly out (F1, in N), and its progressivity (F2/F1)."""

    force: float
    progressivity: float

    def at(self, depth: float, celsius: float = RATED_AT) -> float:
        """Return its force in N with the rod in to `depth` of the stroke: linear from F1 to F2, then by temperature."""
        return self.force * (1 + (self.progressivity - 1) * depth) * warmth(celsius)


def marks(cold: float, hot: float) -> tuple[tuple[str, float, Mark], ...]:
    """Return how the curves of the coldest use, of 20 °C and of the hottest are named and drawn, each with its °C."""
    return (
        (f"cold, {cold:.4g} °C", cold, "ring"),
        (f"at {RATED_AT:g} °C", RATED_AT, "dot"),
        (f"hot, {hot:.4g} °C", hot, "cross"),
    )


def warmth(celsius: float) -> float:
    """Return the gas force at a temperature over that at 20 °C: ideal gas at constant volume, in kelvin."""
    return (ZERO_CELSIUS + celsius) / (ZERO_CELSIUS + RATED_AT)


def on_lid(along: float, off: float, turn: float) -> tuple[float, float]:
    """Return where a point of a lid lies that is opened by `turn` radians, hinge at the origin, in the unit it is given in."""
    return along * math.cos(turn) - off * math.sin(turn), along * math.sin(turn) + off * math.cos(turn)


def arm(lid: tuple[float, float], body: tuple[float, float]) -> float:
    """Return the arm about the origin of a strut from its mount on the body to that on the lid, positive where it opens.

    Px uy − Py ux with u = (P − B)/|P − B|, which is the change of its length per radian; 0 where the mounts meet.
    """
    length = math.dist(lid, body)
    return (lid[1] * body[0] - lid[0] * body[1]) / length if length else 0.0


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the travel; in guides load and lever are a force and a sine, on a hinge a moment and an arm."""

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

    def left(self, lift: float) -> float:
        """Return the force in N left to the hand where struts lift with `lift` (N, or N·m on a hinge).

        Negative: it lifts itself, and to close it the hand pulls down with that much. 0 where only the noise of floats is left.
        """
        left = self.load - lift
        return 0.0 if abs(left) <= NOISE * (abs(self.load) + abs(lift)) else left / self.reach


Walk = tuple[Place, ...]
"""The places of a travel, evenly spaced from closed to open."""


def upright(weight: float) -> Walk:
    """Return the travel of upright struts beside guides, under `weight` in N: only the rod moves."""
    return tuple(Place(1 - step / STEPS, weight, 1.0, 1.0) for step in range(STEPS + 1))


def in_guides(weight: float, aside: float, low: float, rise: float, stroke: float | None = None) -> tuple[Walk, float]:
    """Return the travel of struts beside guides, sin a = h/√(c² + h²), and the stroke it takes in m.

    Weight in N; lower pivot `aside` of the upper one, height between them closed and rise to open in m; `stroke` is the
    strut's own, where it has more than the travel takes.
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
    """Return the places of a lid hinged at the origin at the angles `turns` (radians), and the stroke they take in m.

    `load` gives the moment of the weight in N·m at an angle, `reach` is the arm of the hand in m. x runs along the closed lid
    away from the hinge, y up. The strut pushes from its mount B on the body to its mount P on the lid along u = (P − B)/|P − B|;
    its arm is Px uy − Py ux, positive where it opens. A lid known closed only counts the rod as fully in.
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
    """Return the stroke the travel takes in m, and how far the rod is in at each length, as a part of the strut's stroke.

    The rod is fully out when open, so all of the play that a longer stroke gives lies beyond closed.
    """
    travel = lengths[-1] - min(lengths)
    whole = stroke or travel
    return travel, [min(1.0, max(0.0, (lengths[-1] - length) / whole)) if whole > 0 else 0.0 for length in lengths]


def one_person(
    lifted: Iterable[tuple[Place, float]], cold: float, hot: float, push: float = hands.PUSH, pull: float = hands.PULL
) -> tuple[float, float] | None:
    """Return between which factors on the lift (N, or N·m on a hinge, at 20 °C) of each place one person moves the roof.

    Cold, the hand pushes up with no more than `push` N; hot, it pulls down with no more than `pull`; temperatures in °C. The
    first factor above the second: none suits. None where the struts do not lift.
    """
    low, high = 0.0, math.inf
    for place, lift in lifted:
        if lift <= 0:
            return None
        low = max(low, (place.load - push * place.reach) / (lift * warmth(cold)))
        high = min(high, (place.load + pull * place.reach) / (lift * warmth(hot)))
    return low, high


def mounts(aside: float, height: float, rise: float) -> list[tuple[int, int]]:
    """Return lower pivots to try in guides, in mm aside and under the upper ones, nearest to those given first.

    Nearer to the upper ones, and lower under them by up to twice the rise.
    """
    places = [
        (round(aside * (1 - nearer / TRIALS)), round(height + rise * lower / TRIALS))
        for nearer in range(TRIALS + 1)
        for lower in range(2 * TRIALS + 1)
    ]
    return sorted(places, key=lambda place: math.dist(place, (aside, height)))


def can_be_built(opened: Place, travel: float) -> bool:
    """Return whether a strut of usual build has the stroke `travel` (m) that is asked of it; True where its length is unknown."""
    return opened.length is None or travel < LONGEST_STROKE * opened.length


def said_of_build(walk: Walk, travel: float) -> list[str]:
    """Return cautions on how struts are placed: a stroke (m) that none has, little lever when closed, a push sideways."""
    closed, opened = walk[0], walk[-1]
    said = []
    if not can_be_built(opened, travel) and opened.length is not None:
        said.append(
            f"The travel needs {travel * 1000:.0f} mm of stroke from a strut {opened.length * 1000:.0f} mm long when out. "
            "A strut of usual build is longer than twice its stroke (common practice): move the mounts so that the stroke is "
            "less than half its length"
        )
    if 0 < closed.sine < SHALLOW:
        said.append(
            f"Closed, the struts lie {math.degrees(math.asin(closed.sine)):.0f}° from dead centre: a few mm in the mounts change "
            "the force noticeably. Measure the mounts as built and work it out again"
        )
    if max(place.side for place in walk) > NOISE:
        said.append(
            "Struts lean, so each pushes sideways on its slide. A mirrored pair on a stiff panel cancels it; the same lean on "
            "both sides, or a strut alone, loads the slides: check them against their data sheet at the greatest side force"
        )
    return said


def felt(force: float) -> str:
    """Return a force in N as a hand feels it, to whole newtons and pounds: '121 N (27 lbf)'."""
    return f"{force:.0f} N ({force / LBF:.0f} lbf)"


def springs_up(force: float, celsius: float, *, hinged: bool) -> str:
    """Return the caution of a shut roof that pushes up with `force` N at that temperature in °C."""
    nearer = ", one nearer the hinge more still" if hinged else ""
    return (
        f"Closed, it pushes up with {felt(force)} at {celsius:.0f} °C: a latch at the hand must hold more than that{nearer}, and "
        "when it is opened the roof springs up, so keep your face away and a hand on it"
    )
