"""Whether a wall sweats on its inner face or between its layers, and how much fresh air keeps it dry while people sleep.

Between the layers, Glaser's method as in ISO 13788 finds every plane where water condenses: steady weather, heat and vapour
straight through, no air leaks. The inner face is worked out with a surface resistance of 0.25 m²K/W, for still
air behind bedding and in corners.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

from shopmate import units
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Count,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Threshold,
    Value,
    joined,
)
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.arrhenius import ZERO_CELSIUS
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse
from shopmate.models.humid_air import saturated_at, saturation_pressure, standard_saturation_pressure
from shopmate.models.walls import RSI, SLICES, Plane, Point, Slab, Wall, barrier, condensing, pressures, resistance, sized
from shopmate.picture import Curve, Label, Picture, Shape, Texture, both, number, rectangle, size
from shopmate.records import dataclass
from shopmate.tables.solids import find
from shopmate.tables.vapour_resistances import tightness
from shopmate.units import Quantity
from shopmate.units import significant as sig

_STANDARD = Source("ISO 13788: temperature factor, surface humidity, planes of condensation; ISO 6946: resistances", "memory")
_STEPS = Source(
    "Steps to the lowest safe surface temperature; mould after several days at 80 %: BS 5250 annex D, in a copy", "read"
)
_CORNER = Source("0.25 m²K/W at the inner face for mould: ISO 13788 as quoted on a heat-flow program's pages", "read")
_AIRING = Source("Steady vapour balance, ideal gas with 461.5 J/(kg K); vapour line checked against a fine grid", "computed")
_BREATH = Source("A sleeper breathes out 12 L of carbon dioxide per hour", "memory")
_PEOPLE = Source(
    "A sleeper gives off 40 g/h of moisture (50 in a New Zealand roofing code, read); 85 % humidity outside on a damp night",
    "common practice",
)
_TIGHTEST = Source("Foil 0.05 mm or thicker, and sheet metal: sd 1500 m, ISO 10456", "memory")

_OUTSIDE = Source("ISO 6946 does not cover insulation bridged by metal; ISO 10211 does", "memory")

_WALL = "6 mm plywood k=0.115 mu=150, 38 mm XPS k=0.0288 mu=150, 6 mm plywood k=0.115 mu=150"
"""Ply skins on a foam core, used in the worked examples (our choice)."""

_SWEATS = Threshold(
    100.0, "%", _STEPS, "Water on the inner face", "surface_humidity", "74.9 %", "75 %", "humidity"
)  # fmt: skip
"""Humidity of the air at the inner face at which water forms on it."""

_NO_BARRIER = Threshold(
    1500.0,
    "m",
    _TIGHTEST,
    "No coat on the inside stops this",
    "sd_add",
    f"{_WALL}, 1 mm aluminium sd=151",
    f"{_WALL}, 1 mm aluminium sd=152",
    "layers",
)
"""The sd of foil and metal; no barrier is tighter."""

_FAINT = Threshold(
    10.0, "g/m²", Source("Wood soaks up a film of water 0.01 mm thick", "common practice"),
    "without a break", "nights", "75.82 %", "75.88 %", "humidity",
)  # fmt: skip
"""Water in 100 nights below which nothing needs doing."""

_METAL = Threshold(5.0, "W/mK", _OUTSIDE, "metal through the wall", "", "softwood k=5 W/mK", "softwood k=5.01 W/mK", "frame")
"""Conductivity above which a frame counts as metal, which spreads heat into the skins; stone and glass are below it."""

_STILL_AIR = 0.25
"""Inner surface resistance in m²K/W for mould: corners, and behind bedding and lockers [read, quoting ISO 13788]."""

_VAPOUR = 461.5
"""Gas constant of water vapour in J/(kg K) [read]."""

_FRESH_AIR = 0.012 / (0.0015 - 0.0004)
"""m³/h of fresh air per sleeper: 12 L/h of carbon dioxide [memory], 0.15 % inside, 0.04 % outside [computed]."""

_EPOXY, _PE_SHEET = 10_000.0, 50.0
"""mu of cured epoxy and sd in m of PE sheet 0.15 mm, as in the table of vapour resistances (ISO 10456) [memory]. No Threshold
needed: they only decide which coat the advice names."""

_NIGHTS = 100
"""Nights of the same weather, to show what a winter brings (our choice). No Threshold needed: it is a multiplier."""

_FLOWS = {"sideways": "horizontal", "up": "up", "down": "down"}
"""The choices for the direction of heat flow, with their names in the table of surface resistances."""

_LIKE = "6 mm plywood, 38 mm XPS, 6 mm plywood"
_THICKNESS = Measure("mm", low=0.01, high=300)
_OPTIONS = {
    "k": Measure("W/mK", low=0.015, high=400),
    "mu": Measure("", low=1, high=1_000_000),
    "sd": Measure("m", low=0.0001, high=100_000),
    "r": Measure("m²K/W", low=0, high=20),
}
_OPTION = re.compile(r"\s+(k|mu|µ|μ|sd|r)\s*=\s*", re.IGNORECASE)
_MOST = 20
"""Maximum number of layers, more than any wall has (our choice). No Threshold needed: it limits the work on absurd input."""


@dataclass(frozen=True, slots=True)
class _Layer:
    """A layer as typed: name, thickness and the figures with it, in the units of `_OPTIONS`."""

    name: str
    kind: str
    thickness: float
    resistance: float
    mu: float | None
    """None where the layer has only an `sd`."""
    dry: float | None
    wet: float | None
    sd: float
    conductivity: float | None
    text: str

    def slab(self, mu: float | None = None) -> Slab:
        """Return the layer with its own vapour resistance, or with another `mu`."""
        sd = self.sd if mu is None else mu * self.thickness / 1000
        return Slab(self.name, self.thickness, self.resistance, sd)


@dataclass(frozen=True, slots=True)
class _Layers:
    """The layers of a wall, inside to outside: '6 mm plywood, 38 mm XPS, 0.4 mm epoxy k=0.2 mu=10000'."""

    def read(self, text: str) -> str:
        return ", ".join(layer.text for layer in self.layers(text))

    def layers(self, text: str) -> tuple[_Layer, ...]:
        """Return the layers a text stands for; EntryError says which layer is wrong and how."""
        # A comma between digits is a decimal one.
        pieces = [piece for piece in re.split(r"\s*;\s*|,(?!\d)|(?<!\d),", text.strip().strip(",;")) if piece.strip()]
        if not pieces:
            raise EntryError("there is no layer in the list", f"write it like '{_LIKE}', from inside to outside")
        if len(pieces) > _MOST:
            raise EntryError(f"{len(pieces)} layers are too many", f"enter {_MOST} or fewer: combine thin ones")
        found = []
        for place, piece in enumerate(pieces, 1):
            try:
                found.append(_layer(piece))
            except EntryError as error:
                raise EntryError(f"layer {place}: {error.what}", error.fix) from None
        return tuple(found)

    def describe(self, unit: str = "") -> str:
        return f"list such as '{_LIKE}', inside to outside; you can add k=, mu=, sd= or r= to each"


@dataclass(frozen=True, slots=True)
class _Frame:
    """A material, with its own conductivity if typed: 'softwood', 'softwood k=0.12'."""

    def read(self, text: str) -> str:
        name, conductivity = _frame(text)
        return f"{name} k={units.show(conductivity)}"

    def describe(self, unit: str = "") -> str:
        return "material: 'softwood', or 'softwood k=0.12'"


def _options(text: str) -> tuple[str, dict[str, Quantity]]:
    """Return the text before the first option such as 'k=', and the figure of each option."""
    head, *rest = _OPTION.split(f" {text.strip()}")
    found = {}
    for sign, value in zip(rest[::2], rest[1::2], strict=True):
        name = "mu" if sign in ("µ", "μ") else sign.lower()
        if name in found:
            raise EntryError(f"{name}= is entered twice", "leave one of them out")
        found[name] = _OPTIONS[name].read(value.strip())
    if "=" in head:
        raise EntryError(f"'{head.strip()}' has an '=' in the wrong place", "use k=, mu=, sd= or r=")
    return head.strip(), found


def _frame(text: str) -> tuple[str, Quantity]:
    """Return the material and its conductivity; EntryError for an unknown material without one."""
    name, options = _options(text)
    if not name or options.keys() - {"k"}:
        raise EntryError(f"'{text}' is not a frame material", "write it like 'softwood' or 'softwood k=0.12'")
    if "k" in options:
        return name, options["k"]
    solid = find(name)
    return solid.name, Quantity(solid.conductivity, "W/mK")


def _layer(text: str) -> _Layer:
    """Return the layer a text stands for, filled in from the tables where it has no figures."""
    head, options = _options(text)
    for one, other in (("mu", "sd"), ("k", "r")):
        if one in options and other in options:
            raise EntryError(f"{one}= and {other}= are both entered", "leave one of them out")
    film = tightness(head)
    has_no_size = not any(character.isdigit() for character in head) and ("sd" in options or (film is not None and film.sd))
    thickness, name = (None, head) if has_no_size else sized(head, "6 mm plywood")
    quantity = None if thickness is None else _THICKNESS.read(thickness)
    mm = in_unit(quantity, "mm") or 0.0
    numbers = {sign: value.value_in(_OPTIONS[sign].unit) for sign, value in options.items()}
    name, kind, conductivity = _heat_figures(name, numbers, quantity is None)
    known = tightness(name)
    mu = numbers.get("mu", known.mu if known else None)
    sd = numbers.get("sd", known.sd if known and "mu" not in numbers else None)
    if sd is None and mu is None:
        raise EntryError(f"the table has no vapour resistance for '{name}'", "add mu= or sd= from its data sheet")
    typed = "" if quantity is None else f"{units.show(quantity)} "
    signs = "".join(f" {sign}={units.show(value)}" for sign, value in options.items())
    own = {"mu", "sd"} & numbers.keys()
    return _Layer(
        name,
        kind,
        mm,
        resistance(mm, conductivity) if conductivity else numbers.get("r", 0.0),
        None if sd is not None else mu,
        known.dry if known and not own else None,
        known.wet if known and not own else None,
        sd if sd is not None else (mu or 1.0) * mm / 1000,
        conductivity,
        f"{typed}{name}{signs}",
    )


def _heat_figures(name: str, numbers: Mapping[str, float], is_film: bool) -> tuple[str, str, float | None]:
    """Return name, kind and W/mK of a layer; W/mK is None for a film, or where its resistance was typed."""
    known = tightness(name)
    try:
        solid = find(name)
    except EntryError:
        if "k" in numbers or "r" in numbers or is_film or (known and known.sd):
            return known.name if known else name, "", numbers.get("k")
        raise
    if "r" in numbers or (is_film and "k" not in numbers):
        return solid.name, solid.kind, None
    return solid.name, solid.kind, numbers.get("k", solid.conductivity)


_LAYERS, _FRAME = _Layers(), _Frame()


@dataclass(frozen=True, slots=True)
class _Airs:
    """The air on both sides, as far as it is known: temperatures in °C, humidities from 0 to 1, pressures in Pa."""

    inside: float
    outside: float | None
    humidity: float | None
    damp: float
    """Humidity outside, from 0 to 1."""
    criterion: float
    """Humidity at a face above which mould grows, from 0 to 1."""

    @property
    def vapour(self) -> float | None:
        """Vapour pressure inside, in Pa."""
        return None if self.humidity is None else self.humidity * saturation_pressure(self.inside)

    def at(self, factor: float) -> float:
        """Return the temperature of the inner face in °C from its factor f: Te + f (Ti − Te)."""
        assert self.outside is not None
        return self.outside + factor * (self.inside - self.outside)


def _compute(**fields: Value | None) -> Answer:
    refuse(*_problems(fields))
    outside, humidity = size(fields, "outside"), size(fields, "humidity")
    airs = _Airs(
        number(fields, "inside", "°C"),
        in_unit(outside, "°C"),
        None if humidity is None else humidity.value_in("%") / 100,
        number(fields, "outside_humidity", "%") / 100,
        number(fields, "criterion", "%") / 100,
    )
    factors = _factors(fields)
    people = _people(fields, airs, min(factors.values(), default=None))
    reached = size(people.values, "humidity_reached")
    if airs.humidity is None and reached is not None:
        airs = _Airs(airs.inside, airs.outside, reached.value_in("%") / 100, airs.damp, airs.criterion)
    elif humidity is not None and reached is not None:
        said = (
            f"The verdict uses the {units.show(humidity)} humidity you entered, but your fresh air would bring it to "
            f"{units.show(reached, 0)}. To use that figure, leave the humidity blank."
        )
        people = joined(Answer({}, (), (said,)), people)
    face = _face(airs, factors)
    between = _between(fields, airs)
    empty: dict[str, Value | float | None] = {output.name: None for output in CALCULATOR.outputs}
    answer = joined(Answer(empty), face, between, people)
    # What changes the work comes first, what holds for every wall last.
    return Answer(answer.values, answer.working, (*answer.cautions, *_standing(fields)), answer.has_figure)


def _stack(fields: Mapping[str, object], frame: bool = False) -> tuple[Slab, ...]:
    """Return the layers; `frame` puts the frame in place of the core.

    'worst case' has the wood wet on the room side of the core and dry on the other.
    """
    layers = _LAYERS.layers(str(fields["layers"]))
    slabs = [layer.slab() for layer in layers]
    core = Wall(tuple(slabs), 0.0, 0.0).core
    if fields["wood"] == "worst case":
        slabs = [layer.slab(layer.wet if place < core else layer.dry) for place, layer in enumerate(layers)]
    if frame:
        name, conductivity = _frame(str(fields["frame"]))
        deep = slabs[core].thickness
        slabs[core] = Slab(name, deep, resistance(deep, conductivity.value_in("W/mK")), slabs[core].sd)
    return tuple(slabs)


def _wall(fields: Mapping[str, object], rsi: float | None, *, frame: bool = False) -> Wall:
    """Return the wall; its inner surface resistance is `rsi`, or the one for the direction of heat flow if None."""
    flow = RSI[_FLOWS[str(fields["flow"])]]
    return Wall(_stack(fields, frame), rsi or flow, number(fields, "rse", "m²K/W"))


def _factors(fields: Mapping[str, object]) -> dict[str, float]:
    """Return the temperature factors of the inner face and of the face at the frame, as far as known."""
    typed = in_unit(size(fields, "f_rsi"), "")
    if typed is not None:
        return {"f_rsi": typed}
    if fields["layers"] is None:
        return {}
    rsi = in_unit(size(fields, "rsi"), "m²K/W") or _STILL_AIR
    found = {"f_rsi": _wall(fields, rsi).factor}
    if fields["frame"] is not None:
        found["f_rsi_frame"] = _wall(fields, rsi, frame=True).factor
    return found


def _face(airs: _Airs, factors: Mapping[str, float]) -> Answer:
    """Return the results for the inner face: temperatures, humidity at the face, verdict."""
    values: dict[str, Value | float | None] = dict(factors)
    working = [f"f = 1 − Rsi / RT = {factor:.3f}{_where(name)}" for name, factor in factors.items()]
    if airs.outside is not None:
        for name, factor in factors.items():
            values[name.replace("f_rsi", "surface")] = airs.at(factor)
            working.append(
                f"inner face{_where(name)} = outside + f × (inside − outside) = {airs.outside:.1f} + {factor:.3f} × "
                f"{airs.inside - airs.outside:.1f} = {airs.at(factor):.1f} °C"
            )
    if airs.humidity is None or airs.vapour is None:
        return Answer(values, tuple(working))
    values |= {
        "vapour_pressure": airs.vapour,
        "dew_point": min(airs.inside, saturated_at(airs.vapour)),
        "surface_needed": saturated_at(airs.vapour / airs.criterion),
    }
    full = saturation_pressure(airs.inside)
    working += [
        f"vapour pressure inside = {sig(airs.humidity * 100, 5)} % × {sig(full, 6)} Pa = {sig(airs.vapour, 6)} Pa",
        f"dew point, where {sig(airs.vapour, 6)} Pa is saturated = {values['dew_point']:.1f} °C",
    ]
    needed = _needed(airs, values)
    if airs.outside is None or not factors:
        return joined(Answer(values, tuple(working)), needed)
    return joined(Answer(values, tuple(working)), needed, _judged(airs, factors))


def _where(name: str) -> str:
    return " at the frame" if name.endswith("frame") else ""


def _needed(airs: _Airs, values: Mapping[str, Value | float | None]) -> Answer:
    """Return the temperature factor the inner face needs; None where the air itself is too damp, or no warmer than outside."""
    least = values["surface_needed"]
    assert isinstance(least, float)
    assert airs.humidity is not None
    limit = sig(airs.criterion * 100, 4)
    if airs.humidity > airs.criterion * (1 + NOISE):
        said = f"The air inside is above {limit} % humidity: insulation won't help. First let dry air in, or run a dehumidifier."
        return Answer({"f_needed": None}, (), (said,))
    if airs.outside is None:
        return Answer({"f_needed": None})
    if airs.outside >= airs.inside:
        said = (
            "It is no colder outside than inside, so the inner face is not the cold one. Enter the temperatures of the coldest "
            "night."
        )
        return Answer({"f_needed": None}, (), (said,))
    factor = max(0.0, (least - airs.outside) / (airs.inside - airs.outside))
    line = f"f needed = ({least:.1f} − {airs.outside:.1f}) / ({airs.inside:.1f} − {airs.outside:.1f}), not below 0 = {factor:.3f}"
    return Answer({"f_needed": factor}, (line,))


def _judged(airs: _Airs, factors: Mapping[str, float]) -> Answer:
    """Return the humidity at the coldest face, the highest humidity allowed inside, and the verdict."""
    assert airs.vapour is not None
    coldest = min(factors, key=lambda name: factors[name])
    cold = saturation_pressure(airs.at(factors[coldest]))
    at_face, limit = 100 * airs.vapour / cold, airs.criterion * 100
    allowed = float(math.floor(min(100.0, limit * cold / saturation_pressure(airs.inside)) * (1 + NOISE)))
    pascals = f"{sig(airs.vapour, 6)} Pa / {sig(cold, 6)} Pa"
    line = f"humidity at the coldest face = {pascals} = {at_face:.1f} %; mould above {sig(limit, 4)} %"
    values = {"surface_humidity": at_face, "humidity_allowed": allowed}
    where = "the frame" if coldest == "f_rsi_frame" else "the inner face"
    do = (
        f"Keep the humidity inside at {allowed:.0f} % or below (more fresh air, less moisture), or put more insulation at "
        f"{where}."
    )
    if at_face >= _SWEATS.value * (1 - NOISE):
        return Answer({**values, "verdict": "condensation"}, (line,), (f"Water on the inner face{_where(coldest)}. {do}",))
    if at_face > limit * (1 + NOISE):
        said = f"Mould grows where {where} stays this damp for several days. {do}"
        return Answer({**values, "verdict": "mould risk"}, (line,), (said,))
    return Answer({**values, "verdict": "dry"}, (line,))


def _between(fields: Mapping[str, object], airs: _Airs) -> Answer:
    """Return the U-value, and where and how much water condenses between the faces."""
    if fields["layers"] is None:
        return Answer({})
    heat = _wall(dict(fields) | {"wood": "usual"}, None)
    values: dict[str, Value | float | None] = {"u_value": 1 / heat.total}
    sums = " + ".join(f"{sig(slab.resistance, 3)} {slab.name}" for slab in heat.slabs)
    tight = " + ".join(f"{sig(slab.sd, 5)} {slab.name}" for slab in _stack(fields))
    working = [
        f"vapour resistance sd from inside to outside, in m of still air: {tight}",
        f"RT = {heat.rsi:.2f} inner surface + {sums} + {heat.rse:.2f} outer surface = {sig(heat.total, 4)} m²K/W; "
        f"U = 1 / RT = {1 / heat.total:.3f} W/m²K",
    ]
    if airs.outside is None or airs.humidity is None:
        return Answer(values, tuple(working))
    wall = _wall(fields, in_unit(size(fields, "rsi"), "m²K/W"))
    # Same formula as the saturation line, or the difference between two formulas would count as condensation.
    ends = [
        humidity * standard_saturation_pressure(celsius)
        for humidity, celsius in ((airs.humidity, airs.inside), (airs.damp, airs.outside))
    ]
    planes = condensing(pressures(wall, airs.inside, airs.outside, *ends))
    rate = math.fsum(plane.rate for plane in planes)
    night = rate * number(fields, "hours", "h")
    values |= {"rate": rate, "night": night, "nights": _NIGHTS * night, "inside_layers": "dry", "sd_add": 0.0}
    if not planes:
        working.append("the vapour pressure stays below saturation all the way through, so no water condenses between the layers")
        return Answer(values, tuple(working))
    add = barrier(wall, airs.inside, airs.outside, *ends)
    wettest = max(planes, key=lambda plane: plane.rate)
    place = _place(wall, wettest)
    cured = add is not None and add <= _NO_BARRIER.value
    values |= {
        "plane": place,
        "plane_sd": wettest.sd,
        "inside_sd": wettest.sd,
        "outside_sd": wall.sd - wettest.sd,
        "sd_add": "none" if add is None else add,
        "epoxy_add": None if add is None or add > _PE_SHEET else _epoxy(add),
        "inside_layers": "condenses" if cured else "can't be fixed from inside",
    }
    working += [
        f"vapour pressure reaches saturation in {len(planes)} of {SLICES * len(wall.slabs)} slices; the wettest is {place}, "
        f"sd {sig(wettest.sd, 3)} m from the inside, {sig(wall.sd - wettest.sd, 3)} m from the outside",
        f"water in all slices = permeability of air × change of slope = {sig(rate, 3)} g/m²h",
        f"per night = {sig(rate, 6)} × {sig(number(fields, 'hours', 'h'), 4)} h = {sig(night, 3)} g/m²",
    ]
    return Answer(values, tuple(working), (_wet_layers(airs, night, place, add if cured else None),))


def _place(wall: Wall, plane: Plane) -> str:
    """Return where a plane is, such as 'in the XPS' or 'between XPS and plywood'."""
    slab = wall.slabs[plane.slab]
    if plane.share < 1:
        return f"in the {slab.name}"
    return f"between {slab.name} and {wall.slabs[plane.slab + 1].name}"


def _wet_layers(airs: _Airs, night: float, place: str, add: float | None) -> str:
    """Return the caution about water between the layers: how much, and what to do about it."""
    assert airs.outside is not None
    how = f"Water condenses {place}: {sig(night, 2)} g/m² per night, {sig(_NIGHTS * night, 2)} g/m² in {_NIGHTS} such nights. "
    if airs.outside >= airs.inside:
        return f"{how}The vapour comes from outside: put the vapour-tight coat on the outer face."
    if _NIGHTS * night < _FAINT.value:
        return f"{how}The wood can soak that up; air leaks bring in far more."
    if add is None:
        return (
            f"{how}No coat on the inside stops this, because the outside is too tight or too damp. Seal every edge and screw "
            "hole, keep the air inside dry, and do not count on the wall drying out."
        )
    coat = f"{_epoxy(add):.1f} mm of epoxy or a PE sheet" if add <= _PE_SHEET else "foil"
    return (
        f"{how}Cover the inner face with {coat}, without a break, or make the outside more open to vapour. A vapour-tight coat "
        "on the outside makes it worse."
    )


def _epoxy(sd: float) -> float:
    """Return the thickness of epoxy in mm with this sd in m, rounded up to 0.1 mm."""
    return math.ceil(1000 * sd / _EPOXY * 10 * (1 - NOISE)) / 10


def _people(fields: Mapping[str, object], airs: _Airs, factor: float | None) -> Answer:
    """Return the sleepers' moisture, the fresh air that carries it away, and the humidity with the fresh air entered."""
    persons = fields["persons"]
    if not isinstance(persons, int) or airs.outside is None:
        return Answer({})
    moisture = persons * number(fields, "per_person", "g/h")
    fresh = persons * _FRESH_AIR
    values: dict[str, Value | float | None] = {"moisture": moisture, "fresh_air": fresh}
    out = airs.damp * saturation_pressure(airs.outside)
    # Vapour pressure gained in Pa, times the fresh air in m³/h.
    gain = moisture / 1000 * _VAPOUR * (airs.inside + ZERO_CELSIUS)
    working = [f"moisture = {persons} × {sig(number(fields, 'per_person', 'g/h'))} g/h = {sig(moisture)} g/h"]
    given_flow, room = in_unit(size(fields, "ventilation"), "m³/h"), in_unit(size(fields, "volume"), "m³")
    if given_flow is not None:
        pressure = out + gain / given_flow
        share = pressure / saturation_pressure(airs.inside)
        values["humidity_reached"] = Quantity(min(100.0, 100 * share), "%")
        working.append(
            f"vapour pressure with {sig(given_flow)} m³/h = {sig(out, 6)} + {sig(gain / given_flow, 6)} = {sig(pressure, 6)} Pa: "
            f"{min(100.0, 100 * share):.1f} % inside"
        )
    if factor is None:
        return Answer(values, tuple(working), tuple(_breathing(fresh, given_flow, None)))
    limit = airs.criterion * saturation_pressure(airs.at(factor))
    if limit <= out and moisture:
        values["ventilation"] = values["air_changes"] = "none"
        said = (
            "No amount of fresh air is enough: the outside air carries more vapour than the coldest face can stand. Warm that "
            "face with heat or insulation, or run a dehumidifier."
        )
        return Answer(values, tuple(working), (said, *_breathing(fresh, given_flow, None)), has_figure=False)
    needed = gain / (limit - out) if moisture else 0.0
    values |= {"ventilation": needed, "air_changes": needed / room if room else None}
    spare = f"({sig(limit, 8)} − {sig(out, 8)})"
    working.append(f"fresh air = G Rv T / (criterion × psat − outside) = {sig(gain, 6)} / {spare} = {sig(needed, 3)} m³/h")
    return Answer(values, tuple(working), tuple(_breathing(fresh, given_flow, needed)))


def _breathing(fresh: float, flow: float | None, needed: float | None) -> list[str]:
    """Return the cautions about air to breathe; none where nobody sleeps."""
    if not fresh:
        return []
    wanted = max(fresh, needed or 0.0)
    said = []
    if flow is not None and flow < wanted:
        said.append(
            f"{sig(flow)} m³/h is not enough: you need {_up(wanted)} m³/h "
            f"{'to keep the face dry' if wanted > fresh else 'to breathe'}."
        )
    said.append(
        f"Sleepers need {_up(fresh)} m³/h to breathe, however dry the wall is: leave an opening that can't be shut. Never run "
        "an unvented heater or stove where people sleep."
    )
    return said


def _up(flow: float) -> str:
    """Return a flow rounded up to whole m³/h."""
    return f"{math.ceil(flow * (1 - NOISE))}"


def _standing(fields: Mapping[str, object]) -> list[str]:
    """Return the cautions that hold for every wall: what the calculation leaves out."""
    if fields["layers"] is None:
        return ["Use the inside temperature of the small hours, not the one at bedtime."] if fields["persons"] else []
    return [
        "Seal edges and screw holes first: air leaks carry far more water into a wall than condenses here. Leaks, sun, rain and "
        "water stored in the wood are not counted.",
        "Metal that joins both skins (bar, screws, angle) is not counted: its inner end is colder than any temperature shown.",
    ]


def _problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each field that contradicts another, or needs one that is blank."""
    found: list[FieldProblem] = []
    if fields["layers"] is not None and fields["f_rsi"] is not None:
        found.append(FieldProblem("f_rsi", "the layers are entered too", "clear one of the two"))
    if fields["layers"] is None:
        found += given({"frame": fields["frame"]}, "there are no layers", "enter the layers too, or clear the frame")
    if fields["frame"] is not None and _frame(str(fields["frame"]))[1].value_in("W/mK") > _METAL.value:
        what = "this method can't handle metal through the wall: the inner end of the metal sweats first"
        found.append(FieldProblem("frame", what, "use wood or plastic there, or have it worked out to ISO 10211"))
    if fields["persons"] is None:
        found += given(
            {"volume": fields["volume"], "ventilation": fields["ventilation"]},
            "no people are entered",
            "enter the number of people too, or clear this",
        )
    if any(fields[name] is not None for name in ("layers", "f_rsi", "persons")):
        found += missing(
            {"outside": fields["outside"]}, "still blank", "enter the outside temperature of the coldest night you expect"
        )
    elif fields["humidity"] is None:
        found.append(FieldProblem("humidity", "still blank", "enter the humidity inside, the layers, or the number of people"))
    return found


_TEXTURES: dict[str, Texture] = {
    "foam": "dots", "wood": "hatch", "sheet": "hatch", "metal": "solid", "glass": "solid", "resin": "shade",
    "laminate": "shade", "plastic": "back hatch",
}  # fmt: skip
"""Texture drawn for each kind of solid; light for the others."""

_THINNEST, _ROOM, _SAMPLES = 0.04, 0.2, 12
"""Drawn thickness of a film and of the air on each side, as shares of the wall; points of a curve per layer (our choice). No
Threshold needed: they only set how the picture looks."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the section with temperature and dew point, inside on the left; None without layers and humidity inside."""
    fields = {item.name: inputs.get(item.name) for item in CALCULATOR.inputs}
    damp = size(inputs, "humidity") or size(outputs, "humidity_reached")
    if fields["layers"] is None or damp is None:
        return None
    inside, outside = number(inputs, "inside", "°C"), number(inputs, "outside", "°C")
    wall = _wall(fields, in_unit(size(fields, "rsi"), "m²K/W"))
    least = _THINNEST * math.fsum(slab.thickness for slab in wall.slabs)
    widths = [max(slab.thickness, least) or 1.0 for slab in wall.slabs]
    ends = [
        humidity * standard_saturation_pressure(celsius)
        for humidity, celsius in ((damp.value_in("%") / 100, inside), (number(inputs, "outside_humidity", "%") / 100, outside))
    ]
    line = pressures(wall, inside, outside, *ends)
    warm, dew, left = [], [], 0.0
    for place, width in enumerate(widths):
        for share in (part / _SAMPLES for part in range(_SAMPLES + 1)):
            at = math.fsum(slab.sd for slab in wall.slabs[:place]) + share * wall.slabs[place].sd
            warm.append((left + share * width, wall.temperature(place, share, inside, outside)))
            dew.append((left + share * width, saturated_at(_along(line, at))))
        left += width
    room = _ROOM * left
    warm = [(-room, inside), *warm, (left + room, outside)]
    dew = [(-room, saturated_at(ends[0])), *dew, (left + room, saturated_at(ends[1]))]
    heights = [celsius for _, celsius in (*warm, *dew)]
    low, high = min(heights), max(heights)
    margin = 0.08 * (high - low) or 1.0
    shapes = _sections(fields, widths, low - margin, high + margin)
    labels = [Label("outside", warm[-1], Quantity(outside, "°C"), 1), Label("inside", warm[0], Quantity(inside, "°C"), 1)]
    planes = condensing(line)
    if planes:
        wettest = max(planes, key=lambda plane: plane.rate)
        x = math.fsum(widths[: wettest.slab]) + wettest.share * widths[wettest.slab]
        cold = wall.temperature(wettest.slab, wettest.share, inside, outside)
        labels.append(Label("condenses", (x, cold), Quantity(cold, "°C"), 1))
    return Picture(
        tuple(shapes), tuple(labels), _said(wall, planes, (inside, outside)), (-room, low - margin), (left + room, high + margin),
        (Curve(tuple(dew), "dew point", "cross"), Curve(tuple(warm), "temperature", "ring")), foot=("inside", "outside"), unit="",
        to_scale=False,
    )  # fmt: skip


def _along(line: Sequence[Point], sd: float) -> float:
    """Return the vapour pressure in Pa at an sd along the line, which is straight between its corners."""
    for before, after in pairwise(line):
        if sd <= after.sd:
            return before.pressure + (sd - before.sd) / (after.sd - before.sd) * (after.pressure - before.pressure)
    return line[-1].pressure


def _sections(fields: Mapping[str, object], widths: Sequence[float], low: float, high: float) -> list[Shape]:
    """Return the shapes of the layers side by side, from `low` to `high`."""
    shapes, left = [], 0.0
    for layer, slab, width in zip(_LAYERS.layers(str(fields["layers"])), _stack(fields), widths, strict=True):
        shapes.append(Shape(rectangle(left, low, left + width, high), slab.name, _TEXTURES.get(layer.kind, "light")))
        left += width
    return shapes


def _said(wall: Wall, planes: Sequence[Plane], airs: tuple[float, float]) -> str:
    """Return the sentence that says what the picture shows."""
    warm, cold = (both(Quantity(round(celsius, 1), "°C")) for celsius in airs)
    faces = f"From {warm} inside to {cold} outside: {', '.join(slab.name for slab in wall.slabs)}."
    if not planes:
        return f"{faces} The temperature stays above the dew point all the way through."
    wettest = max(planes, key=lambda plane: plane.rate)
    return f"{faces} The temperature drops to the dew point {_place(wall, wettest)}."


_TEMPERATURE = Measure("°C", low=-40, high=50, soft_low=-25, soft_high=35)
_CASE = {"inside": "15 °C", "outside": "-5 °C", "humidity": "70 %"}
"""A cold night used in the worked examples (our choice)."""


CALCULATOR = Calculator(
    name="condense", title="Condensation on a wall and inside it, and fresh air needed",
    inputs=(
        Field("inside", "Inside temperature", _TEMPERATURE, "Lowest temperature of the night, not the one at bedtime.",
            required=True),
        Field("outside", "Outside temperature", _TEMPERATURE, "Lowest temperature expected at night."),
        Field("humidity", "Humidity inside", Measure("%", low=1, high=100, soft_low=20, soft_high=90),
            "Blank: worked out from people and fresh air."),
        Field("outside_humidity", "Humidity outside", Measure("%", low=1, high=100, soft_low=40), default="85 %"),
        Field("layers", "Layers, inside to outside", _LAYERS,
            "Thickness and material of each. From a data sheet, add k= (W/mK), mu= or sd= (m), or r= (m²K/W)."),
        Field("frame", "Frame material", _FRAME, "Material of a frame or rib in place of the core, as deep as the core."),
        Field("f_rsi", "Temperature factor of the wall", Measure("", low=0, high=1, soft_low=0.3),
            "If you know it, enter it instead of the layers."),
        Field("flow", "Direction of heat flow", Choice(tuple(_FLOWS)),
            "Sideways through a wall, up through a roof, down through a floor.", default="sideways"),
        Field("wood", "Vapour resistance of wood", Choice(("usual", "worst case")),
            "Worst case: wood on the room side of the core is wet, wood on the other side is dry.", default="usual"),
        Field("rsi", "Inner surface resistance", Measure("m²K/W", low=0.02, high=1, soft_low=0.1, soft_high=0.25),
            "Blank: 0.25 m²K/W for the inner face (corners, bedding); for the layers, the usual one for that heat flow."),
        Field("rse", "Outer surface resistance", Measure("m²K/W", low=0, high=0.5, soft_high=0.17), default="0.04 m²K/W"),
        Field("criterion", "Humidity limit at the inner face", Measure("%", low=50, high=100),
            "80 % to avoid mould, 100 % to avoid water.", default="80 %"),
        Field("persons", "People inside", Count(0, 10)),
        Field("per_person", "Moisture per person", Measure("g/h", low=20, high=300, soft_low=30, soft_high=120),
            "30 to 60 g/h asleep, 60 to 120 g/h busy.", default="40 g/h"),
        Field("hours", "Length of the night", Measure("h", above=0, high=24, soft_low=4, soft_high=14), default="8 h"),
        Field("volume", "Air volume inside", Measure("m³", above=0, high=10_000, soft_low=2, soft_high=200)),
        Field("ventilation", "Fresh air you have", Measure("m³/h", above=0, high=100_000, soft_low=1, soft_high=1_000),
            "The fresh air that comes in while people sleep."),
    ),
    outputs=(
        Output("verdict", "Inner face"),
        Output("humidity_allowed", "Keep the humidity at or below", "%", 0),
        Output("inside_layers", "Between the layers"),
        Output("night", "Condensation between layers per night", "g/m²", 2),
        Output("ventilation", "Fresh air needed", "m³/h"),
        Output("surface", "Inner face temperature", "°C"),
        Output("surface_frame", "Inner face temperature at the frame", "°C"),
        Output("surface_humidity", "Humidity at the coldest face", "%"),
        Output("sd_add", "Vapour barrier to add inside, sd", "m", 2),
        Output("epoxy_add", "Epoxy coat that gives this sd", "mm"),
        Output("plane", "Wettest place"),
        Output("dew_point", "Dew point inside", "°C"),
        Output("vapour_pressure", "Vapour pressure inside", "Pa", 0),
        Output("surface_needed", "Lowest safe inner face temperature", "°C"),
        Output("u_value", "U-value without the frame", "W/m²K", 2),
        Output("f_rsi", "Temperature factor", "", 3),
        Output("f_rsi_frame", "Temperature factor at the frame", "", 3),
        Output("f_needed", "Temperature factor needed", "", 3),
        Output("rate", "Condensation between layers per hour", "g/m²h", 3),
        Output("nights", f"Condensation between layers in {_NIGHTS} such nights", "g/m²", 1),
        Output("plane_sd", "sd from the inside to the wettest place", "m", 2),
        Output("inside_sd", "sd from the wettest place inwards", "m", 2),
        Output("outside_sd", "sd from the wettest place outwards", "m", 2),
        Output("air_changes", "Air changes needed", "1/h"),
        Output("fresh_air", "Fresh air needed to breathe", "m³/h"),
        Output("moisture", "Moisture given off by the people", "g/h", 0),
        Output("humidity_reached", "Humidity with the fresh air you have", "%"),
    ),
    source=(
        _STANDARD, _STEPS, _CORNER, _AIRING, _BREATH, _PEOPLE, _TIGHTEST, _OUTSIDE,
        Source("Conductivities: table solids; vapour resistances: table vapour_resistances; each row has its source", "memory"),
    ),
    valid="Flat layers, steady weather, heat and vapour straight through (ISO 13788). Not covered: air leaks, sun, rain, water "
    "stored in wood, thermal bridges of metal or at corners. Unless you enter a surface resistance, the inner face is worked "
    "out with still air (0.25 m²K/W), the layers and the U-value with the usual surface resistance for the direction of heat "
    "flow.",
    examples=(
        Example({**_CASE, "layers": _WALL, "frame": "softwood k=0.12", "rsi": "0.13 m²K/W"}, {"f_rsi": 0.9184, "surface": 13.37,
            "f_rsi_frame": 0.78, "surface_frame": 10.6, "surface_humidity": 93.38, "u_value": 0.627, "verdict": "mould risk"},
            Source("Resistances in series, by arithmetic", "computed"), rel=0.005),
        Example({**_CASE, "layers": f"{_WALL}, 0.4 mm epoxy skin k=0.2 mu=10000"}, {"rate": 0.06765, "night": 0.5412,
            "sd_add": 31.85, "plane_sd": 6.6}, Source("Obstacle problem, projected over-relaxation on a fine grid", "computed"),
            rel=0.003),
        Example({"inside": "15 °C", "outside": "0 °C", "outside_humidity": "90 %", "f_rsi": "0.78", "persons": "2",
            "volume": "8 m³"}, {"moisture": 80.0, "ventilation": 19.34, "air_changes": 2.418}, _AIRING, rel=0.01),
    ),
    asked=("inside", "outside", "humidity", "layers"),
    compute=_compute, pictures=(_picture,), thresholds=(_SWEATS, _FAINT, _NO_BARRIER, _METAL),
)  # fmt: skip
