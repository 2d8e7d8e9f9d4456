"""A sandwich panel with skins, core and a frame round its edge: weight by parts, heat loss, people needed to lift it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Count, Example, Field, Measure, Output, Source, Threshold, joined
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.fields import given, in_unit, missing, refuse
from shopmate.models.lifting import (
    LOW,
    OTHER_WAYS,
    REACH_SOURCE,
    TEAM_FACTORS,
    TEAM_SOURCE,
    fewest,
    flat_panel,
    reach_alone,
    team_limit,
)
from shopmate.models.walls import RSE, RSI, resistance, sized
from shopmate.picture import number, size
from shopmate.records import dataclass
from shopmate.tables.solids import AIR_DRY, Solid, find, wood_conductivity, wood_density
from shopmate.units import Quantity
from shopmate.units import significant as sig

_BTU_HOUR = Fraction("1055.05585262") / 3600
"""One Btu per hour in watts, exactly: the International Table Btu is 1055.05585262 J by definition."""

_FOOT = Fraction("0.3048")
"""One foot in metres, exactly, by definition."""

_KELVIN_PER_F = Fraction(5, 9)
"""A difference of one degree Fahrenheit in kelvin, exactly."""

_LIFTING = Source("NIOSH equation: 23 kg at best, and less as the middle of the panel gets farther away", "read")
_HABIT = Source(
    "A face of 1.5 m² is awkward for one person; sanded plywood is thinner than the size it is sold as", "common practice"
)
_FAR_APART = Source("ISO 6946 allows the upper limit to be 1.5 times the lower, for an error of 20 %", "memory")

_LARGE_FACE = Threshold(
    1.5, "m²", _HABIT, "a sail in wind", "face", "3 m", "3.01 m", "length",
    {"width": "0.5 m", "skin": "1 mm aluminium", "frame": "", "frame_gravity": "", "sheathing": "", "bar": ""},
)  # fmt: skip
"""Face area above which one person can hardly handle a panel, and wind catches it like a sail."""

_LIMITS_APART = Threshold(
    10.0, "%", _FAR_APART, "The two limits", "limits_apart", "0.127 W/mK", "0.1275 W/mK", "frame_conductivity"
)
"""How far apart the two ISO 6946 limits may be, in % of the lower, before a caution."""

_SOLD_AS = Threshold(0.01, "mm", _HABIT, "once sanded", "", "6.37 mm plywood", "6.355 mm plywood", "skin")
"""How close, in mm, a thickness must be to a nominal plywood size to count as that size."""

_SANDED = 0.1
"""Minimum that sanding takes off, mm [common practice]. No Threshold needed: it picks rows of the table."""


@dataclass(frozen=True, slots=True)
class _Layer:
    """A thickness or width in mm and its material."""

    size: float
    material: Solid
    text: str


@dataclass(frozen=True, slots=True)
class _Sized:
    """A size and a material in one text: '6 mm plywood', '1/4 in plywood', 'plywood 6 mm'."""

    size: Measure
    like: str

    def read(self, text: str) -> str:
        return _layer(text, self.size, self.like).text

    def describe(self, unit: str = "") -> str:
        return f"size ({self.size.describe(unit)}) and material: '{self.like}'"


@dataclass(frozen=True, slots=True)
class _Bar:
    """Width, thickness and material of a flat bar in one text: '20 x 2 mm aluminium'."""

    width: Measure
    thickness: Measure

    def read(self, text: str) -> str:
        width, rest = self._split(text)
        return f"{units.show(width)} x {_layer(rest, self.thickness, self.like).text}"

    def parts(self, text: str) -> tuple[float, _Layer]:
        """Return the width in mm, and thickness with material, from a text returned by `read`."""
        width, rest = self._split(text)
        return width.value_in("mm"), _layer(rest, self.thickness, self.like)

    def describe(self, unit: str = "") -> str:
        return f"width x thickness and material: '{self.like}'"

    @property
    def like(self) -> str:
        return "20 x 2 mm aluminium"

    def _split(self, text: str) -> tuple[Quantity, str]:
        parts = re.split(r"\s*[x×*]\s*", text.strip(), maxsplit=1)
        if len(parts) != 2:
            what = f"'{text}' is not width x thickness and material"
            raise EntryError(what, f"enter it like '{self.like}' or '1 x 1/8 in aluminium'")
        first, rest = parts
        if not units.has_unit(first):
            thickness, _ = sized(rest, self.like)
            first = f"{first} {units.parse(thickness, 'mm').unit}"
        return self.width.read(first), rest


class _Conductivity(Measure):
    """Thermal conductivity, also as printed on insulation labels: 'R 5 per inch', '0.0667 Btu/h·ft·°F'."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        plain = " ".join(text.lower().replace("-", " ").split())
        if match := re.fullmatch(r"r ?([0-9.,/ ]+?) ?(?:per|/|an) ?(?:in|inch)", plain):
            return super().read(_written(_per_inch(units.parse_number(match[1]))))
        if match := re.fullmatch(r"([0-9.,/ ]+?) ?btu ?/ ?\(? ?(?:h|hr)[ ·*]*ft[ ·*]*(?:°|deg)? ?f ?\)?", plain):
            return super().read(_written(units.parse_number(match[1]) * _BTU_HOUR / (_FOOT * _KELVIN_PER_F)))
        return super().read(text)

    def describe(self, unit: str = "") -> str:
        return f"{super().describe(unit)}; or 'R 5 per inch'"


def _per_inch(resistance: Fraction) -> Fraction:
    """Return W/mK from R in h·ft²·°F/Btu for one inch: 0.0254 / (R × 0.1761), where 0.1761 m²K/W is one h·ft²·°F/Btu."""
    if resistance <= 0:
        raise EntryError("R 0 is no insulation", "enter it like 'R 5 per inch'")
    return Fraction("0.0254") / (resistance * _FOOT**2 * _KELVIN_PER_F / _BTU_HOUR)


def _written(conductivity: Fraction) -> str:
    return f"{float(conductivity):.9f} W/mK"


def _layer(text: str, measure: Measure, like: str) -> _Layer:
    """Return the size and material in a text; EntryError for a missing unit, an unknown material or a size out of range."""
    typed, named = sized(text, like)
    quantity = measure.read(typed)
    material = find(named)
    return _Layer(quantity.value_in("mm"), material, f"{units.show(quantity)} {material.name}")


_SKIN = _Sized(Measure("mm", low=0.2, high=60), "6 mm plywood")
_CORE = _Sized(Measure("mm", low=1, high=1000), "38 mm polyurethane foam")
_FRAME = _Sized(Measure("mm", low=3, high=500), "38 mm softwood")
_KINDS = {"skin": _SKIN, "inner_skin": _SKIN, "core": _CORE, "frame": _FRAME}
"""How each layer's text is read."""

_EDGE = _Bar(Measure("mm", low=3, high=300), Measure("mm", low=0.3, high=50))


@dataclass(frozen=True, slots=True)
class _Part:
    """A layer with the density (kg/m³) and conductivity (W/mK) used, and which of these came from the table, as text."""

    layer: _Layer
    density: float
    conductivity: float
    typical: tuple[str, ...]


def _part(fields: Mapping[str, object], name: str) -> _Part | None:
    """Return a layer with the figures entered, or else those of the table; None where the panel has no such layer."""
    text, kind = fields[name], _KINDS[name]
    if not isinstance(text, str):
        return None
    layer = _layer(text, kind.size, kind.like)
    density = in_unit(size(fields, f"{name}_density"), "kg/m³")
    conductivity = in_unit(size(fields, f"{name}_conductivity"), "W/mK")
    rho, k = density or layer.material.density, conductivity or layer.material.conductivity
    typical = (*([] if density else [f"{sig(rho)} kg/m³"]), *([] if conductivity else [f"{sig(k, 3)} W/mK"]))
    return _Part(layer, rho, k, typical)


def _limits(share: float, around: float, core: float, frame: float) -> tuple[float, float]:
    """Return the upper and lower limit of R in m²K/W (ISO 6946 combined method, as worked in public examples) [read].

    Upper: two paths side by side from air to air, 1/R = Σ share / R of the path. Lower: core and frame are first averaged
    into one layer, 1/R = Σ share / R, then the others are added. `around` is everything but that layer, surfaces included.
    """
    upper = 1 / ((1 - share) / (around + core) + share / (around + frame))
    lower = around + 1 / ((1 - share) / core + share / frame)
    return upper, lower


@dataclass(frozen=True, slots=True)
class _Panel:
    """The panel: sizes in mm, areas in m²."""

    long: float
    wide: float
    outer: _Part
    inner: _Part
    core: _Part
    frame: _Part | None
    ribs: int

    @property
    def rim(self) -> float:
        """Width of the frame, mm; 0 without one."""
        return self.frame.layer.size if self.frame else 0.0

    @property
    def face(self) -> float:
        return self.long * self.wide / 1e6

    @property
    def clear(self) -> float:
        """Face without frame and ribs, m²: worked out from the inner rectangle, so that corners count once."""
        return (self.long - 2 * self.rim - self.ribs * self.rim) * (self.wide - 2 * self.rim) / 1e6

    @property
    def share(self) -> float:
        return 1 - self.clear / self.face

    @property
    def bridged(self) -> bool:
        """Whether a metal frame joins the two skins through the insulation."""
        return self.frame is not None and self.frame.layer.material.kind == "metal"


@dataclass(frozen=True, slots=True)
class _Heat:
    """Resistances in m²K/W from air to air: without the frame, and the limits with it."""

    plain: float
    upper: float
    lower: float

    @property
    def mean(self) -> float:
        return (self.upper + self.lower) / 2

    @property
    def apart(self) -> float:
        """How far the upper limit is above the lower, in % of the lower."""
        return (self.upper / self.lower - 1) * 100


def _panel(fields: Mapping[str, object]) -> _Panel:
    """Return the panel from the fields."""
    outer, core, ribs = _part(fields, "skin"), _part(fields, "core"), fields["ribs"]
    assert outer is not None
    assert core is not None
    assert isinstance(ribs, int)
    inner = _part(fields, "inner_skin") or outer
    return _Panel(number(fields, "length", "mm"), number(fields, "width", "mm"), outer, inner, core, _part(fields, "frame"), ribs)


def _compute(**fields: object) -> Answer:
    problems = _frame_problems(fields)
    if fields["area"] is not None:
        problems += missing({"difference": fields["difference"]}, "needed with the area", "enter it, or leave the area blank")
    gravity, wood = size(fields, "frame_gravity"), Answer({})
    if gravity is not None and not problems:
        fields, wood = _from_gravity(fields, gravity.value_in(""))
    panel = _panel(fields)
    refuse(*problems, *_room_for(panel))
    weighed, mass = _masses(panel, fields)
    heat, passed = _heat(panel, RSI[str(fields["heat_flow"])] + RSE)
    outer, inner, core, frame = panel.outer, panel.inner, panel.core, panel.frame
    values = {
        "face": panel.face,
        "clear": panel.clear,
        "thickness": outer.layer.size + core.layer.size + inner.layer.size,
        "frame_share": panel.share,
    }
    figures: dict[str, float | None] = dict.fromkeys(("frame_density", "frame_conductivity"))
    for name, part in (("skin", outer), ("core", core), *([("frame", frame)] if frame else [])):
        figures |= {f"{name}_density": part.density, f"{name}_conductivity": part.conductivity}
    cautions = (
        *_heat_cautions(panel, fields["bar"] is not None, heat),
        *_material_cautions(panel),
        *_nominal(panel),
        *_left_out(fields, core),
    )
    return joined(
        _lifting(mass, panel), Answer({**values, **figures}, (), cautions), wood, weighed, passed, _lost(fields, panel, heat)
    )


def _lost(fields: Mapping[str, object], panel: _Panel, heat: _Heat) -> Answer:
    """Return the heat lost through the area in W: U × A × difference; None with a metal frame, which gives no U [computed]."""
    difference, area = in_unit(size(fields, "difference"), "K"), in_unit(size(fields, "area"), "m²") or panel.face
    if difference is None or panel.bridged:
        return Answer({"heat": None}, has_figure=difference is None)
    watts = area * difference / heat.mean
    line = f"heat = U × area × difference = {sig(1 / heat.mean, 6)} × {sig(area, 6)} × {sig(difference, 6)} = {sig(watts)} W"
    return Answer({"heat": watts}, (line,))


def _from_gravity(fields: Mapping[str, object], g: float) -> tuple[dict[str, object], Answer]:
    """Return the fields with density and conductivity worked out from the wood's specific gravity, and the working line."""
    moisture = size(fields, "frame_moisture")
    water = moisture.value_in("%") if moisture else AIR_DRY
    density = wood_density(g, water)
    line = (
        f"frame density = 1000 × G × (1 + moisture) = 1000 × {sig(g, 6)} × {sig(1 + water / 100, 6)} = {density:.1f} kg/m³: "
        "G is for dry wood; the water is added"
    )
    conductivity = fields["frame_conductivity"] or Quantity(wood_conductivity(g, water), "W/mK")
    return {**fields, "frame_density": Quantity(density, "kg/m³"), "frame_conductivity": conductivity}, Answer({}, (line,))


def _masses(panel: _Panel, fields: Mapping[str, object]) -> tuple[Answer, float]:
    """Return the weight of each part in kg with the working lines, and the total."""
    face, clear, depth = panel.face, panel.clear, panel.core.layer.size
    outer, inner, core, frame = panel.outer, panel.inner, panel.core, panel.frame
    sheathing, glue, faces, bar = size(fields, "sheathing"), size(fields, "glue"), fields["sheathed_faces"], fields["bar"]
    assert isinstance(faces, int)
    masses = {
        "skins": face * (outer.layer.size * outer.density + inner.layer.size * inner.density) / 1000,
        "frame": (face - clear) * depth * frame.density / 1000 if frame else 0.0,
        "core": clear * depth * core.density / 1000,
        "sheathing": face * faces * sheathing.value_in("kg/m²") if sheathing else 0.0,
        "glue": face * 2 * glue.value_in("kg/m²") if glue else 0.0,
        "bar": 0.0,
    }
    lines = [
        f"face = {sig(panel.long, 6)} × {sig(panel.wide, 6)} mm = {sig(face)} m²; without the frame, corners counted "
        f"once: {sig(clear)} m², frame {panel.share * 100:.1f} %",
        f"skins = {sig(face)} m² × ({sig(outer.layer.size)} mm × {sig(outer.density)} + {sig(inner.layer.size)} mm × "
        f"{sig(inner.density)} kg/m³) = {sig(masses['skins'])} kg",
        f"core = {sig(clear)} m² × {sig(depth)} mm × {sig(core.density)} kg/m³ = {sig(masses['core'])} kg",
    ]
    if frame:
        lines.append(f"frame = {sig(face - clear)} m² × {sig(depth)} mm × {sig(frame.density)} kg/m³ = {sig(masses['frame'])} kg")
    if sheathing:
        weight = sheathing.value_in("g/m²")
        lines.append(f"sheathing = {sig(face)} m² × {faces} × {sig(weight)} g/m² = {sig(masses['sheathing'])} kg")
    if glue:
        lines.append(f"glue = {sig(face)} m² × 2 lines × {sig(glue.value_in('g/m²'))} g/m² = {sig(masses['glue'])} kg")
    around = None
    if isinstance(bar, str):
        width, strip = _EDGE.parts(bar)
        density, around = strip.material.density, 2 * (panel.long + panel.wide) / 1000
        masses["bar"] = around * width * strip.size * density / 1e6
        lines.append(
            f"bar = {sig(around)} m round × {sig(width, 6)} × {sig(strip.size, 6)} mm × {sig(density)} kg/m³ "
            f"= {sig(masses['bar'])} kg"
        )
    mass = sum(masses.values())
    lines.append(f"mass = {sig(mass)} kg; ÷ {sig(face)} m² = {sig(mass / face)} kg/m²")
    return Answer({**masses, "mass": mass, "areal_mass": mass / face, "bar_length": around}, tuple(lines)), mass


def _heat(panel: _Panel, surfaces: float) -> tuple[_Heat, Answer]:
    """Return the resistances, and the U-values with their working lines."""
    skins = sum(resistance(part.layer.size, part.conductivity) for part in (panel.outer, panel.inner))
    depth = panel.core.layer.size
    core = resistance(depth, panel.core.conductivity)
    plain = surfaces + skins + core
    values: dict[str, float | None] = dict.fromkeys(("u_value", "u_low", "u_high", "frame_adds", "limits_apart"))
    values["u_without_frame"] = 1 / plain
    line = (
        f"R without frame = {surfaces:.2f} (surfaces) + {sig(skins)} (skins) + {sig(depth / 1000)} m / "
        f"{sig(panel.core.conductivity)} W/mK = {sig(plain)} m²K/W"
    )
    share, frame, heat = panel.share, 0.0, _Heat(plain, plain, plain)
    if panel.frame is not None:
        frame = resistance(depth, panel.frame.conductivity)
        heat = _Heat(plain, *_limits(share, surfaces + skins, core, frame))
    if panel.bridged:
        none = "no U with a metal frame: this method of ISO 6946 does not cover insulation bridged by metal"
        return heat, Answer(values, (line, none))
    values |= {"u_value": 1 / heat.mean, "u_low": 1 / heat.upper, "u_high": 1 / heat.lower}
    if panel.frame is None:
        return heat, Answer(values, (line, f"U = 1 / {sig(plain)} = {1 / plain:.3f} W/m²K"))
    adds = plain / heat.mean - 1
    values |= {"frame_adds": 100 * adds, "limits_apart": heat.apart}
    return heat, Answer(
        values,
        (
            line,
            f"upper limit: paths side by side, 1 / ({1 - share:.4f} / {sig(plain)} + {share:.4f} / "
            f"{sig(surfaces + skins + frame)}) = {sig(heat.upper)} m²K/W",
            f"lower limit: core and frame averaged, {sig(surfaces + skins)} + 1 / ({1 - share:.4f} / {sig(core)} "
            f"+ {share:.4f} / {sig(frame)}) = {sig(heat.lower)} m²K/W",
            f"U = 1 / mean of the limits = 1 / {sig(heat.mean)} = {1 / heat.mean:.3f} W/m²K; the frame adds {adds * 100:.0f} %",
        ),
    )


def _room_for(panel: _Panel) -> list[FieldProblem]:
    """Return a problem where frame or ribs fill the whole face."""
    rim, ribs, long, short = panel.rim, panel.ribs, panel.long, min(panel.long, panel.wide)
    if 2 * rim >= short:
        return [
            FieldProblem("frame", f"two sides of {sig(rim, 6)} mm fill the whole {sig(short, 6)} mm", "enter a narrower frame")
        ]
    if rim * (ribs + 2) >= long:
        return [FieldProblem("ribs", f"{ribs} ribs of {sig(rim, 6)} mm fill the whole {sig(long, 6)} mm", "enter fewer ribs")]
    return []


def _frame_problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return where the fields of the frame conflict."""
    if fields["frame"] is None:
        what, fix = "entered without a frame", f"enter the frame too, such as {_FRAME.like}"
        names = ("frame_density", "frame_gravity", "frame_moisture", "frame_conductivity")
        found = [problem for name in names for problem in given({name: fields[name]}, what, f"{fix}, or leave this blank")]
        return [*found, *given({"ribs": fields["ribs"] or None}, what, fix)]
    if fields["frame_density"] is not None and fields["frame_gravity"] is not None:
        return [FieldProblem("frame_gravity", "entered as well as the density of the frame", "leave one of the two blank")]
    if fields["frame_moisture"] is not None and fields["frame_gravity"] is None:
        fix = "enter the specific gravity too, or leave this blank"
        return [FieldProblem("frame_moisture", "needs the specific gravity of the frame", fix)]
    return []


def _lifting(mass: float, panel: _Panel) -> Answer:
    """Return how many people it takes to lift the panel flat, and the limits for them and for one person alone."""
    depth = min(panel.long, panel.wide) / 10
    alone, each = flat_panel(depth)
    people = fewest(mass, alone, each)
    team = alone if people == 1 else team_limit([each] * (people or max(TEAM_FACTORS))) or 0.0
    values = {"lift_people": None if people is None else float(people), "lift_limit": team, "lift_alone": alone}
    reach, body = reach_alone(depth, LOW)
    line = (
        f"reach, lifted flat: one person {body:.0f} + {sig(depth, 5)} / 2 = {sig(reach, 5)} cm; several at opposite edges 30 cm"
    )
    if people == 1:
        sail = (
            f"Lifting: {panel.face:.1f} m² is awkward for one person and a sail in wind: use two people to turn and carry it "
            "(common practice)"
        )
        return Answer(values, (line,), (sail,) if panel.face > _LARGE_FACE.value else ())
    if people is None:
        said = f"Lifting: {mass:.0f} kg is more than the {team:.1f} kg that four people may lift at its edges: {OTHER_WAYS}"
        return Answer(values, (line,), (f"{said}. Prop it before you let go. The lift calculator covers other lifts",))
    four = ", though no team factor is published for four: a hoist is safer" if people == max(TEAM_FACTORS) else ""
    one = f"one person may lift {alone:.1f} kg if the panel is this big" if alone else "one person can't reach its middle"
    said = f"Lifting it flat takes {people} people at opposite edges: they may lift {team:.1f} kg{four}; {one}"
    return Answer(
        values, (line,), (f"{said}. If you are alone, keep it on edge and slide it. The lift calculator covers other lifts",)
    )


def _heat_cautions(panel: _Panel, has_bar: bool, heat: _Heat) -> list[str]:
    if panel.bridged:
        return [
            "A metal frame bridges the insulation, which the simple ISO 6946 method does not cover, so no U is given; the "
            "panel loses far more heat than U without the frame suggests. Use a wood frame, or have it worked out to ISO 10211"
        ]
    said = []
    if has_bar:
        said.append(
            "The bar counts towards the weight only. Where metal joins both skins it bridges the insulation, which the simple "
            "ISO 6946 method does not cover: the edge loses more heat and sweats first. Keep a gap or a plastic strip under "
            "the bar"
        )
    if heat.apart > _LIMITS_APART.value:
        said.append(
            f"The two limits of ISO 6946 are {heat.apart:.0f} % apart: U is somewhere from "
            f"{1 / heat.upper:.2f} to {1 / heat.lower:.2f} W/m²K; use the higher figure where it matters"
        )
    return said


def _material_cautions(panel: _Panel) -> list[str]:
    """Return a caution for each material whose figures come from the table."""
    said = []
    for part in filter(None, (panel.outer, panel.inner, panel.core, panel.frame)):
        if part.typical:
            material = part.layer.material
            note = f" ({material.note})" if material.note else ""
            said.append(
                f"{material.name}: {' and '.join(part.typical)} assumed{note}: these are typical, so use your data sheet or "
                "weigh a piece"
            )
    return list(dict.fromkeys(said))


def _nominal(panel: _Panel) -> list[str]:
    """Return a caution for plywood entered by its nominal inch size, since sanded plywood is thinner."""
    said = []
    sizes = {part.layer.size for part in (panel.outer, panel.inner, panel.core) if "plywood" in part.layer.material.name}
    for row in tables.load("stock").rows:
        if row["material"] == "plywood" and row["name"].endswith(" in"):
            nominal, actual = units.parse(row["name"], "in").value_in("mm"), float(row["thickness_mm"])
            if actual < nominal - _SANDED and any(abs(thick - nominal) < _SOLD_AS.value for thick in sizes):
                usually = f"usually {actual:.1f} mm once sanded, not {nominal:.2f} mm: measure it"
                said.append(f"Plywood sold as {row['name']} is {usually}")
    return said


def _left_out(fields: Mapping[str, object], core: _Part) -> list[str]:
    """Return a caution naming what the weight leaves out."""
    left = []
    if fields["sheathing"] is None:
        left.append("sheathing (usually 550 g/m² per face with 200 g/m² cloth and fill coats)")
    if fields["glue"] is None and core.layer.material.kind == "foam":
        left.append("glue between skins and core (usually 200 g/m² per glue line; foam poured in place needs none)")
    if not left:
        return []
    return [f"The weight leaves out {', '.join(left)}, paint, screws and fittings (common practice): weigh the finished panel"]


_DENSITY = Measure("kg/m³", above=0, high=20_000, soft_low=10, soft_high=9_000)
_LAMBDA = _Conductivity("W/mK", low=0.005, high=500, soft_low=0.018)
_SHEET = "From its data sheet. Blank: a typical figure, shown with the result."
"""Help for the fields that a data sheet answers."""

_SMALL = {"length": "1.2 m", "width": "0.6 m", "skin": "6 mm plywood"}
"""The panel in the worked examples (our choice)."""

CALCULATOR = Calculator(
    name="panel", title="Weight and heat loss of a panel",
    inputs=(
        Field("length", "Length", Measure("mm", low=50, high=20_000, soft_low=150, soft_high=5_000), required=True),
        Field("width", "Width", Measure("mm", low=50, high=20_000, soft_low=150, soft_high=3_000), required=True),
        Field("skin", "Skin", _SKIN, "Thickness and material: 6 mm plywood, 1/4 in plywood, 2 mm aluminium.",
            required=True),
        Field("core", "Core", _CORE, "Thickness and material: 38 mm polyurethane foam, 1-1/2 in XPS.", required=True),
        Field("frame", "Frame", _FRAME, "Width and material all round: 38 mm softwood. It is as deep as the core."),
        Field("inner_skin", "Inner skin, if different", _SKIN, "Blank: same as the skin."),
        Field("ribs", "Ribs across the width", Count(0, 50), "Inner members, of the same width and wood as the frame.",
            default="0"),
        Field("sheathing", "Sheathing per face", Measure("g/m²", above=0, high=10_000, soft_low=250, soft_high=3_000),
            "Cloth with all its epoxy: 550 g/m² for 200 g/m² cloth and fill coats. The laminate calculator shows it as weight "
            "added."),
        Field("sheathed_faces", "Faces sheathed", Count(0, 2), default="2"),
        Field("glue", "Glue per glue line", Measure("g/m²", above=0, high=3_000, soft_low=80, soft_high=600),
            "Two lines, between skins and core. Blank for foam poured in place."),
        Field("bar", "Bar round the edge", _EDGE, "Width x thickness and material: 20 x 2 mm aluminium."),
        Field("skin_density", "Density of the skin", _DENSITY, _SHEET),
        Field("core_density", "Density of the core", _DENSITY, f"{_SHEET} 2 lb/ft³ is 32 kg/m³."),
        Field("frame_density", "Density of the frame", _DENSITY, _SHEET),
        Field("frame_gravity", "Specific gravity of the frame", Measure("", low=0.08, high=1.3, soft_low=0.3, soft_high=0.8),
            "From a wood table, in place of the density: oven-dry weight ÷ volume. The weight of the water is added."),
        Field("frame_moisture", "Moisture of the frame", Measure("%", low=0, high=200, soft_low=5, soft_high=20),
            f"Used with the specific gravity. Blank: {sig(AIR_DRY, 6)} %."),
        Field("skin_conductivity", "Conductivity of the skin", _LAMBDA, _SHEET),
        Field("core_conductivity", "Conductivity of the core", _LAMBDA, f"{_SHEET} Or from its label: R 5 per inch."),
        Field("frame_conductivity", "Conductivity of the frame", _LAMBDA, _SHEET),
        Field("heat_flow", "Direction of heat flow", Choice(("horizontal", "up", "down")),
            "Horizontal through a wall, up through a roof, down through a floor.", default="horizontal"),
        Field("difference", "Inside warmer by", Measure("K", above=0, high=100, soft_low=3, soft_high=60),
            "Inside minus outside temperature on the coldest night. Enter it to get the heat lost in W."),
        Field("area", "Total area of panels like this", Measure("m²", above=0, high=10_000, soft_low=0.1, soft_high=100),
            "For example all the walls. Blank: this panel alone."),
    ),
    outputs=(
        Output("mass", "Weight", "kg", 2),
        Output("u_value", "U, frame included", "W/m²K", 2),
        Output("heat", "Heat lost", "W", 0),
        Output("areal_mass", "Weight per area", "kg/m²", 1),
        Output("skins", "Skins", "kg", 2),
        Output("frame", "Frame", "kg", 2),
        Output("core", "Core", "kg", 2),
        Output("sheathing", "Sheathing", "kg", 2),
        Output("glue", "Glue", "kg", 2),
        Output("bar", "Bar", "kg", 2),
        Output("thickness", "Thickness", "mm", 1),
        Output("frame_share", "Frame, share of the face", "", 3),
        Output("u_without_frame", "U without the frame", "W/m²K", 2),
        Output("u_low", "Minimum U by ISO 6946", "W/m²K", 2),
        Output("u_high", "Maximum U by ISO 6946", "W/m²K", 2),
        Output("skin_density", "Skin density used", "kg/m³", 0),
        Output("core_density", "Core density used", "kg/m³", 0),
        Output("frame_density", "Frame density used", "kg/m³", 0),
        Output("skin_conductivity", "Skin conductivity used", "W/mK", 3),
        Output("core_conductivity", "Core conductivity used", "W/mK", 3),
        Output("frame_conductivity", "Frame conductivity used", "W/mK", 3),
        Output("face", "Area of one face", "m²", 3),
        Output("clear", "Area of one face without the frame", "m²", 3),
        Output("bar_length", "Length of the bar", "m", 2),
        Output("frame_adds", "Added to U by the frame", "%", 0),
        Output("limits_apart", "Difference between the ISO 6946 limits", "%", 0),
        Output("lift_people", "People needed to lift the panel flat", "", 0),
        Output("lift_limit", "Lifting limit for the team needed (or for four)", "kg"),
        Output("lift_alone", "One person's lifting limit, panel flat", "kg"),
    ),
    source=(
        Source("weight: density × volume, corners of the frame counted once", "computed"),
        Source("heat: ISO 6946 combined method, average of the upper and lower limit, as worked in public examples", "read"),
        Source("surface resistances: 0.13 and 0.04 m²K/W from a maker of timber elements", "read"),
        Source("surface resistances 0.10 (heat up) and 0.17 m²K/W (heat down), ISO 6946", "memory"),
        Source("densities and conductivities: tables of solids and woods, each row with its source; typical figures, so your "
            "data sheet comes first", "read"),
        _LIFTING,
        REACH_SOURCE,
        TEAM_SOURCE,
    ),
    valid="For a flat panel of uniform thickness with a frame as deep as the core. Sheathing and glue lines are left out of the "
    "heat loss, where they change almost nothing. U is for the panel and its frame, not for joints, fasteners or metal that "
    "joins the skins: ISO 6946 does not cover metal bridges, and no U is given with a metal frame.",
    examples=(
        Example({**_SMALL, "core": "38 mm polyurethane foam", "frame": "38 mm softwood", "sheathing": "550 g/m²",
            "glue": "200 g/m²", "bar": "20 x 2 mm aluminium", "frame_gravity": "0.40", "core_density": "2 lb/ft³"},
            {"mass": 9.1243, "areal_mass": 12.673, "skins": 4.7088, "frame": 2.2306, "core": 0.71619, "bar": 0.3888},
            Source("density × volume by hand, corners counted once; aluminium 2700 kg/m³", "computed"), rel=0.005),
        Example({"length": "2 m", "width": "1 m", "skin": "23.4 mm plywood", "skin_conductivity": "0.1 W/mK",
            "core": "140 mm XPS", "core_conductivity": "0.042 W/mK", "frame": "32.365 mm softwood",
            "frame_conductivity": "0.13 W/mK"}, {"u_low": 1 / 3.530, "u_high": 1 / 3.418, "u_value": 0.2879},
            Source("combined method by arithmetic on the layers of the Scottish building-regulations example 6.B.2, timber "
            "framed wall: paths of 3.971 and 1.715 m²K/W, timber 9.5 % (read); layers outside the studs counted as skins",
            "computed"), rel=0.001),
        Example({**_SMALL, "skin_conductivity": "0.115 W/mK", "core": "38 mm XPS", "core_conductivity": "R 5 per inch",
            "difference": "20 K", "area": "10 m²"}, {"heat": 10 * 20 / 1.5916}, Source("U × A × difference by hand", "computed"),
            rel=0.0005),
        Example({**_SMALL, "skin_conductivity": "0.115 W/mK", "core": "38 mm XPS", "core_conductivity": "R 5 per inch"},
            {"u_value": 1 / 1.5916, "core_conductivity": 0.028846},
            Source("R 5 per inch is 0.028846 W/mK; layers and surfaces added up by hand", "computed"), rel=0.0005),
    ),
    asked=("length", "width", "skin", "core"),
    compute=_compute, thresholds=(_LARGE_FACE, _LIMITS_APART, _SOLD_AS),
)  # fmt: skip
