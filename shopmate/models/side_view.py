"""A roof or lid on struts seen from the side, closed and open, and the forces along its travel."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from shopmate.models.struts import Walk, on_lid
from shopmate.picture import Curve, Label, Mark, Picture, Point, Shape, both, number, rectangle
from shopmate.records import dataclass
from shopmate.units import Quantity, significant

_THICK = 0.06
"""Roof thickness drawn, as a share of its length (our choice): nobody is asked for it, and the real one is too thin to show."""

_LEVEL, _SLOPED = 0.375, 0.75
"""Share of the thickness that must show: a light shape parallel to the rows fills two half cells, any other shape one
[computed]."""

_MARGIN = 0.02
"""Air around a side view, as a share of its width (our choice)."""

_ROOM = 0.1
"""Air above and below curves, as a share of their span (our choice)."""

Pose = Callable[[float, float], Point]
"""Position in the view of a point of the roof, from its place along the roof and square to it."""


@dataclass(frozen=True, slots=True)
class Leg:
    """Struts one behind the other, from the pivot on the body to the pivot on the roof, in mm."""

    foot: Point
    mount: Point
    """Position along the roof and square to it."""
    said: str
    """Name of these struts, with how many there are."""
    force: Quantity | None
    """Force of each strut, None if not known."""
    walk: Walk
    places: int | None = None
    """Decimals to show a calculated force with; None for one that was typed."""


@dataclass(frozen=True, slots=True)
class Slab:
    """A roof by its two ends, and its positions closed and open, all in mm."""

    left: float
    right: float
    closed: Pose
    opened: Pose

    @property
    def thick(self) -> float:
        """Thickness drawn, measured upwards from the mounts."""
        return _THICK * (self.right - self.left)

    @property
    def least(self) -> float:
        """Minimum thickness that must show."""
        level = self.opened(self.left, 0.0)[1] == self.opened(self.right, 0.0)[1]
        return self.thick * (_LEVEL if level else _SLOPED)

    def outline(self, pose: Pose) -> tuple[Point, ...]:
        """Return its corners."""
        return tuple(pose(*corner) for corner in rectangle(self.left, 0.0, self.right, self.thick))


def hinged(length: float, closed: float, opened: float) -> Slab:
    """Return a lid of that length in mm, hinged at the origin, at its angles from horizontal in radians."""
    return Slab(0.0, length, lambda along, off: on_lid(along, off, closed), lambda along, off: on_lid(along, off, opened))


def said_of_hinge(turns: Sequence[float], centre: str) -> str:
    """Describe a hinged lid in words, closed and open at angles in radians; `centre` says where its centre of gravity is."""
    shut, out = (f"{significant(math.degrees(turn))}°" for turn in (turns[0], turns[-1]))
    return f"hinge at the left, closed at {shut}, open at {out}{centre}; thickness guessed"


def counted(struts: int) -> str:
    """Return in words how many struts stand one behind the other; the number comes last, after the one in the label."""
    return f"struts ({struts})" if struts > 1 else "strut"


def whole(length: float) -> str:
    """Return a calculated length in mm, to the millimetre, in both systems."""
    return both(Quantity(length, "mm"), 0)


def _said_of(legs: Iterable[Leg]) -> str:
    """Describe how long the struts are, closed and open, listing equal ones together."""
    found: dict[str, list[str]] = {}
    for leg in legs:
        shut, out = (whole((leg.walk[step].length or 0.0) * 1000) for step in (0, -1))
        found.setdefault(f"{shut} long closed, {out} open", []).append(leg.said)
    return ". ".join(f"{' and '.join(said).capitalize()}: {long}" for long, said in found.items())


def from_the_side(
    slab: Slab, legs: Sequence[Leg], centre: Point | None, hand: float, outputs: Mapping[str, object], words: str
) -> Picture:
    """Return the roof closed and open with its struts and its centre of gravity (along and square to it), all in mm.

    `hand` is the position of the hand along the roof. Its worst forces are shown, + for pushing up: closed when hot, open when
    cold. `words` describe everything but the struts.
    """
    poses = {"closed": slab.closed, "open": slab.opened}
    labels = [Label(f"{leg.said}{', F1' if leg.force else ''}", leg.foot, leg.force, leg.places) for leg in legs]
    for place, warm in (("closed", "hot"), ("open", "cold")):
        force = number(outputs, f"hand_{place}_{warm}", "N")
        if not round(force):
            continue
        way = "pushes up" if force > 0 else "pulls down"
        labels.append(Label(f"hand {way}, {place}, {warm}", poses[place](hand, -slab.thick / 2), Quantity(abs(force), "N"), 0))
    struts: tuple[tuple[str, Pose, Mark], ...] = (("strut, open", slab.opened, "ring"), ("strut, closed", slab.closed, "dot"))
    curves = [Curve((leg.foot, pose(*leg.mount)), name, mark) for name, pose, mark in struts for leg in legs]
    if centre is not None:
        curves += [Curve((pose(*centre),) * 2, "centre of gravity", "cross") for pose in poses.values()]
    shapes = (
        Shape(slab.outline(slab.opened), "roof, open", "light"), Shape(slab.outline(slab.closed), "roof, closed", "solid"),
    )  # fmt: skip
    across, up = zip(
        *(point for shape in shapes for point in shape.outline),
        *(point for curve in curves for point in curve.points),
        *(label.at for label in labels),
        strict=True,
    )
    air = _MARGIN * (max(across) - min(across))
    return Picture(
        shapes,
        tuple(labels),
        f"Roof from the side, {words}. {_said_of(legs)}.",
        (min(across) - air, min(up) - air),
        (max(across) + air, max(up) + air),
        tuple(curves),
        least=slab.least,
    )


def over_travel(
    curves: Sequence[tuple[str, Mark, Sequence[float]]], words: str, levels: Iterable[tuple[str, float]] = ()
) -> Picture:
    """Return forces in N from closed to open by name and mark, with the limits for one person as straight lines."""
    levels = tuple(levels)
    every = [*(force for _, _, forces in curves for force in forces), *(level for _, level in levels)]
    last, room = float(len(curves[0][2]) - 1), _ROOM * (max(every) - min(every)) or 1.0
    return Picture(
        (),
        (
            *(Label(name, (last, forces[-1]), Quantity(forces[-1], "N"), 0) for name, _, forces in curves),
            *(Label(text, (0.0, level), Quantity(level, "N"), 0) for text, level in levels),
        ),
        words,
        (0.0, min(every) - room),
        (last, max(every) + room),
        (
            *(Curve(((0.0, level), (last, level)), "limits of one person", "rule") for _, level in levels),
            *(Curve(tuple((float(at), force) for at, force in enumerate(forces)), name, mark) for name, mark, forces in curves),
        ),
        foot=("closed", "open"),
        unit="",
        to_scale=False,
    )
