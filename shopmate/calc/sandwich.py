"""A sandwich panel as a beam or strip of plate: sag, stresses, wrinkling, a foot on the skin, and what limits it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from functools import partial

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold, Value, joined
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.beams import BEAMS, CANTILEVER, FIXED, POINT, SIMPLE, UNIFORM
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, round_up
from shopmate.models.kelvin import derivatives
from shopmate.models.layers import Layer, Stack, shear_stiffness
from shopmate.picture import Curve, Label, Picture, Shape, both, number, rectangle, size
from shopmate.records import dataclass, replace
from shopmate.tables import sandwich as materials
from shopmate.units import Quantity
from shopmate.units import significant as sig

_BEAM = Source(
    "elementary beam theory plus core shear (formulas of ASTM C393 and D7250, from memory); all twelve deflection factors "
    "checked against a shear-flexible beam model with 400 elements",
    "computed",
)
_STRIP = Source("effective width under a point load: Fourier sums and images of an infinite strip on two edges", "computed")
_PLATE_TABLE = Source(
    "bending moment under a point load: published plate table, small circle at the centre of a long plate", "read"
)
_WRINKLING = Source("wrinkling 0.5 (E Ec Gc)^(1/3): public design notes for a foam-cored blade (215.3 MPa)", "read")
_KNOCK_DOWN = Source(
    "wrinkling factor 0.5 instead of Hoff's ideal 0.91; a solver manual has 0.76 and 0.63: sources differ", "memory"
)
_DISC = Source(
    "plate on springs under a disc (Westergaard, Timoshenko) in Kelvin functions, checked against the Hankel integral; 1.25 for "
    "the continuous layer",
    "computed",
)
_FACTORS = Source(
    "safety factors: skin 2, core shear and wrinkling 3, crush 1.5; the verdict is tight from 80 % of the allowed value",
    "common practice",
)
_SMALL_SAG = Source("beam theory only works for a sag much smaller than the span", "computed")

_POISSON = 0.3
"""Poisson's ratio of the skins [memory]."""

_LAYER_RAISES = 1.25
"""Pressure on a continuous foam layer ÷ that on springs: 6 to 23 % higher under a foot, rounded up [computed]. No Threshold
needed: the pressure never exceeds the load divided by its patch."""

_IDEAL_SHARE = 0.5
"""Share of (E Ec Gc)^(1/3) at which a skin wrinkles [read in public design notes; ideal 0.91]."""

_STRIP_WIDTHS = {SIMPLE: 1.23, FIXED: 0.72, CANTILEVER: 2.0}
"""Effective width in bending under a point load on a wide panel, in spans (infinite strip: 1.228, 0.724, 2.005) [computed]. No
Threshold needed: a narrower panel works over its whole width."""

_NARROW = 0.5
"""Effective width in shear under a point load with fixed ends or a cantilever, in spans: assumed, since no source gives one
[common practice]. No Threshold needed: a narrower panel works over its whole width."""

_PATCH = 100.0
"""Diameter in mm of a point load if none is entered: a shoe sole as a disc [common practice]."""

_PATCH_LOW, _PATCH_HIGH = 10.0, 600.0
"""Smallest and largest diameter in mm of the patch under a point load (our choice)."""

_TIGHT = Threshold(80.0, "%", _FACTORS, "tight", "use", "1.752 kPa", "1.754 kPa", "pressure")
"""Share of the allowed value above which the verdict is tight."""

_FULL = Threshold(100.0, "%", _FACTORS, "too soft", "use", "2.19 kPa", "2.192 kPa", "pressure")
"""Share of the allowed value above which the panel is too weak or too soft."""

_SHORTEST = Threshold(10.0, "", _SMALL_SAG, "can't be trusted", "span_ratio", "43.8 kPa", "43.85 kPa", "pressure")
"""Span ÷ sag below which the sag can't be trusted: beam theory no longer works."""

_WEAK, _SOFT = "too weak", "too soft"
_SAG, _SKIN, _SHEAR, _WRINKLE, _CRUSH, _FOOT = (
    "deflection",
    "skin",
    "core shear",
    "wrinkling",
    "crush",
    "skin under the load",
)
"""What can limit a panel."""

_REMEDIES = {
    _SKIN: "a thicker core or skin, or a shorter span",
    _SHEAR: "a thicker or denser core, or a shorter span; a thicker skin hardly helps",
    _WRINKLE: "a stiffer core or a thicker skin",
    _CRUSH: "a pad under the load, or a core with a higher crush strength",
    _FOOT: "a pad under the load, or a thicker skin",
}
"""What to change, by what limits the panel."""

_SAG_REMEDIES = (
    "a thicker core, stiffer skins or a shorter span",
    "a thicker or denser core, or a shorter span; most of the sag is core shear, and stiffer skins hardly help",
)
"""What to change when the sag is mostly bending, and when it is mostly core shear."""


_BY_MASS = {"N": ("kg", "N"), "kPa": ("kg/m²", "Pa")}
"""For each load unit: the mass unit a load may be entered in, and the unit of that mass × gravity."""

_POUNDS = {"lb": "lbf"}
"""One pound weighs one pound-force, by definition."""


class _Load(Measure):
    """A force or a pressure, or the mass with that weight: 800 N or 80 kg, 1 kPa or 20 lb/ft²."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        mass, _ = _BY_MASS[self.unit]
        try:
            typed = units.parse(text, mass if units.has_unit(text) else self.unit)
        except EntryError:
            return super().read(text)
        return self.within(typed, text)

    def within(self, quantity: Quantity, text: str = "") -> Quantity:
        mass, weight = _BY_MASS[self.unit]
        if quantity.unit in _POUNDS:
            quantity = Quantity(quantity.value, _POUNDS[quantity.unit])
        if units.dimension(quantity.unit) == units.dimension(mass):
            quantity = Quantity(quantity.to(mass).value * Fraction(repr(GRAVITY)), weight)
        return super().within(quantity, text)

    def describe(self, unit: str = "") -> str:
        return f"{super().describe(unit)}; or {_BY_MASS[self.unit][0]}"


@dataclass(frozen=True, slots=True)
class _Skin:
    """A skin: thickness in mm; moduli along the span and under a foot, and strength, in MPa; None if not known."""

    thickness: float
    modulus: float
    local: float
    strength: float | None


@dataclass(frozen=True, slots=True)
class _Core:
    """The core: thickness in mm, the rest in MPa, None if not known."""

    thickness: float
    modulus: float
    stiff: float
    shear_modulus: float
    shear_strength: float | None
    crush: float | None


@dataclass(frozen=True, slots=True)
class _Panel:
    """Skins and core across a width in mm."""

    top: _Skin
    bottom: _Skin
    core: _Core
    width: float

    @property
    def stack(self) -> Stack:
        top, bottom, core = self.top, self.bottom, self.core
        return Stack(
            (Layer(top.thickness, top.modulus), Layer(core.thickness, core.modulus), Layer(bottom.thickness, bottom.modulus))
        )

    @property
    def apart(self) -> float:
        """Distance between the middles of the skins in mm."""
        return self.core.thickness + (self.top.thickness + self.bottom.thickness) / 2

    @property
    def bending(self) -> float:
        """Bending stiffness in N·mm²."""
        return self.width * self.stack.stiffness

    @property
    def shear(self) -> float:
        """Shear stiffness in N."""
        return shear_stiffness(self.core.thickness, self.core.shear_modulus, self.apart, self.width)


@dataclass(frozen=True, slots=True)
class _Acting:
    """The load on the panel: total in N, lengths in mm, and the effective widths under it in mm."""

    kind: str
    total: float
    span: float
    support: str
    creep: float
    bends: float
    shears: float
    bears: float
    """The width that carries the moment."""


_FIGURES = {"skin_modulus": "skin_material", "core_modulus": "core_material", "core_shear_modulus": "core_material"}
"""The moduli, each with the material field whose table also has it."""

_Fields = Mapping[str, object]
"""The fields as entered."""


def _compute(**fields: object) -> Answer:
    refuse(*_problems(fields))
    wrinkling = _wrinkling(fields)
    if fields["span"] is None and fields["width"] is None:
        values = dict.fromkeys((*_BEAM_OUTPUTS, *_JUDGED, "skin_mean"))
        pressed = _foot(fields) if fields["point"] is not None else Answer(dict.fromkeys(_LOCAL_OUTPUTS))
        return _ended(fields, joined(Answer(values), wrinkling, pressed), None)
    panel = _panel(fields)
    stiff = _stiffness(panel)
    acting = _acting(fields, panel)
    if acting is None:
        none = dict.fromkeys((*_BEAM_OUTPUTS[2:], *_JUDGED, *_LOCAL_OUTPUTS))
        said = "No load entered: enter a load over the whole panel or at one place to get sag and stresses."
        return joined(Answer(none), stiff, wrinkling, Answer({}, (), (said,)))
    bent, stressed = _bent(panel, acting), _stressed(panel, acting)
    pressed = _foot(fields) if acting.kind == POINT else Answer(dict.fromkeys(_LOCAL_OUTPUTS))
    return _ended(fields, joined(stiff, bent, stressed, wrinkling, pressed), (panel, acting))


def _known(fields: _Fields, name: str) -> float | None:
    """Return a modulus in MPa as entered, otherwise from the table; None if there is neither."""
    if (figure := size(fields, name)) is not None:
        return figure.value_in("MPa")
    material = fields[_FIGURES[name]]
    if not isinstance(material, str):
        return None
    if name == "skin_modulus":
        return materials.skin(material).modulus
    core = materials.core(material)
    return core.modulus if name == "core_modulus" else core.shear_modulus


def _problems(fields: _Fields) -> list[FieldProblem]:
    beam = {name: fields[name] for name in ("span", "width")}
    any_beam = fields["span"] is not None or fields["pressure"] is not None
    found = (
        []
        if fields["point"] is None
        else given({"pressure": fields["pressure"]}, "a load at one place is entered too", "enter one load at a time")
    )
    if any_beam:
        found += missing(beam, "nothing entered", "enter both span and width of the panel")
    wanted = ["skin_modulus", "core_modulus", "core_shear_modulus"]
    if any_beam or fields["width"] is not None:
        what = "blank, and the panel needs it"
    elif fields["point"] is not None:
        wanted, what = wanted[:2], "blank, and a load on the skin needs it"
    else:
        what = "nothing entered"
    if what != "nothing entered":
        found += missing({name: fields[name] for name in ("skin", "core")}, what, "enter its thickness")
    for name in wanted:
        if _known(fields, name) is None:
            fix = f"enter it from the data sheet, or choose the {_FIGURES[name].replace('_', ' ')}"
            if fields[_FIGURES[name]] is not None:
                fix = f"the table has no value for {fields[_FIGURES[name]]}: enter it from the data sheet"
            found.append(FieldProblem(name, what, fix))
    return [*found, *_load_problems(fields)]


def _load_problems(fields: _Fields) -> list[FieldProblem]:
    name = fields["load_case"]
    if not isinstance(name, str):
        return []
    case = materials.load_case(name)
    field = "point" if case.load == POINT else "pressure"
    if fields[field] is not None:
        return []
    return [
        FieldProblem(
            field,
            f"no load entered for {name}",
            "enter the load, or leave the kind of load blank: the kind alone doesn't set a load",
        )
    ]


def _patch(fields: _Fields) -> float:
    """Return the diameter in mm of the patch under a point load."""
    name = fields["load_case"]
    case = materials.load_case(name) if isinstance(name, str) else None
    return in_unit(size(fields, "patch"), "mm") or (case.patch if case else None) or _PATCH


def _point(fields: _Fields) -> float:
    """Return the point load in N including the step factor, 0 if there is none."""
    name = fields["load_case"]
    return number(fields, "point", "N") * (materials.load_case(name).factor if isinstance(name, str) else 1.0)


def _skin(fields: _Fields, thickness: str, material: str, modulus: str) -> _Skin:
    """Return a skin from the fields of these names."""
    name, figure = fields[material], size(fields, modulus)
    typical = materials.skin(name) if isinstance(name, str) else None
    if figure is not None:
        along = local = figure.value_in("MPa")
    else:
        assert typical is not None
        # A foot bends the skin in both directions [common practice].
        along, local = typical.modulus, math.sqrt(typical.modulus * typical.across)
    strength = in_unit(size(fields, "skin_strength"), "MPa") or (typical.strength if typical else None)
    return _Skin(number(fields, thickness, "mm"), along, local, strength)


def _core(fields: _Fields) -> _Core:
    """Return the core; its shear modulus is 0 if not known and only a foot on the skin is worked out."""
    name, given_modulus = fields["core_material"], size(fields, "core_modulus")
    typical = materials.core(name) if isinstance(name, str) else None
    modulus, shear = _known(fields, "core_modulus"), _known(fields, "core_shear_modulus")
    assert modulus is not None
    return _Core(
        number(fields, "core", "mm"),
        modulus,
        typical.stiff if typical and typical.stiff and given_modulus is None else modulus,
        shear or 0.0,
        in_unit(size(fields, "core_shear_strength"), "MPa") or (typical.shear_strength if typical else None),
        in_unit(size(fields, "core_crush"), "MPa") or (typical.crush if typical else None),
    )


def _panel(fields: _Fields) -> _Panel:
    top = _skin(fields, "skin", "skin_material", "skin_modulus")
    bottom = top
    if fields["skin_bottom_material"] is not None or fields["skin_bottom_modulus"] is not None:
        bottom = _skin(fields, "skin", "skin_bottom_material", "skin_bottom_modulus")
    thickness = in_unit(size(fields, "skin_bottom"), "mm") or top.thickness
    return _Panel(top, replace(bottom, thickness=thickness), _core(fields), number(fields, "width", "mm"))


def _acting(fields: _Fields, panel: _Panel) -> _Acting | None:
    """Return the load and its effective widths, None if no load was entered."""
    span, support, b = number(fields, "span", "mm"), str(fields["support"]), panel.width
    name = fields["load_case"]
    usual = materials.load_case(name).creep if isinstance(name, str) else 0.0
    creep = number(fields, "creep", "") if fields["creep"] is not None else usual
    if fields["pressure"] is not None:
        return _Acting(UNIFORM, number(fields, "pressure", "MPa") * b * span, span, support, creep, b, b, b)
    if fields["point"] is None or not span:
        return None
    bends, shears, bears = _widths(span, support, min(_patch(fields), span))
    return _Acting(POINT, _point(fields), span, support, creep, min(b, bends), min(b, shears), min(b, bears))


def _widths(span: float, support: str, patch: float) -> tuple[float, float, float]:
    """Return the effective widths in mm for bending, shear and moment of a wide panel under a point load."""
    bends = _STRIP_WIDTHS[support] * span
    if support != SIMPLE:
        return bends, _NARROW * span, _NARROW * span
    spread = math.log(4 * span / (math.pi * patch))
    return bends, math.pi * span / 2 / (spread + 1 / 2), math.pi * span / ((1 + _POISSON) * spread + 1)


def _stiffness(panel: _Panel) -> Answer:
    c, g, d, b = panel.core.thickness, panel.core.shear_modulus, panel.apart, panel.width
    working = (
        f"d, between the middles of the skins = {sig(c, 5)} + {sig(panel.top.thickness, 5)} / 2 + "
        f"{sig(panel.bottom.thickness, 5)} / 2 = {sig(d, 6)} mm",
        f"D, about the neutral axis, including the core and each skin's own bending = {sig(panel.bending / 1e6, 5)} N·m²",
        f"S = Gc b d² / c = {sig(g, 5)} MPa × {sig(b, 6)} mm × {sig(d, 6)} mm × {sig(d, 6)} mm / {sig(c, 5)} mm = "
        f"{sig(panel.shear / 1000)} kN",
    )
    return Answer({"bending_stiffness": panel.bending / 1e6, "shear_stiffness": panel.shear / 1000}, working)


def _bent(panel: _Panel, acting: _Acting) -> Answer:
    """Return the sag from bending and from shear, and the effective widths under a point load."""
    beam, b, span, total = BEAMS[acting.support, acting.kind], panel.width, acting.span, acting.total
    bending, shear = panel.bending * acting.bends / b, panel.shear * acting.shears / b
    by_bending, by_shear = beam.bending * total * span**3 / bending, beam.shear * total * span / shear
    sag, long = by_bending + by_shear, by_bending + (1 + acting.creep) * by_shear
    metres, part = f"{sig(span / 1000, 6)} m", f"× {sig(total, 5)} N ×"
    working = [
        f"sag from bending, over {sig(acting.bends, 5)} mm of width = {_part(beam.bending)} {part} {metres} × {metres} × "
        f"{metres} / {sig(bending / 1e6, 5)} N·m² = {sig(by_bending)} mm",
        f"sag from core shear, over {sig(acting.shears, 5)} mm of width = {_part(beam.shear)} {part} {metres} / "
        f"{sig(shear / 1000, 5)} kN = {sig(by_shear)} mm",
        f"sag = {by_bending:.4f} + {by_shear:.4f} = {sag:.4f} mm, or span ÷ {sig(span / sag)}",
    ]
    if acting.creep:
        working.append(
            f"long-term sag = {by_bending:.4f} + {sig(1 + acting.creep, 5)} × {by_shear:.4f} = {long:.4f} mm: the core creeps"
        )
    point = acting.kind == POINT
    values = {
        "deflection_bending": by_bending, "deflection_shear": by_shear, "deflection": sag, "deflection_long": long,
        "shear_ratio": by_shear / by_bending, "span_ratio": span / sag,
        "width_bending": acting.bends if point else None, "width_shear": acting.shears if point else None,
        "width_moment": acting.bears if point else None,
    }  # fmt: skip
    return Answer(values, tuple(working))


def _part(factor: float) -> str:
    """Return a beam factor as a fraction."""
    exact = Fraction(factor).limit_denominator(384)
    return f"{exact.numerator} / {exact.denominator}"


def _stressed(panel: _Panel, acting: _Acting) -> Answer:
    """Return the moment and shear force, and the stresses they cause in skins and core."""
    beam, d = BEAMS[acting.support, acting.kind], panel.apart
    moment, force = beam.moment * acting.total * acting.span, beam.force * acting.total
    thin = min(panel.top.thickness, panel.bottom.thickness)
    mean, core_shear = moment / (acting.bears * thin * d), force / (acting.shears * d)
    outer = max(_outer(panel, acting))
    working = (
        f"M = {_part(beam.moment)} × {sig(acting.total, 5)} N × {sig(acting.span / 1000, 6)} m = {sig(moment / 1000)} N·m; "
        f"V = {_part(beam.force)} × {sig(acting.total, 5)} N = {sig(force)} N",
        f"mean skin stress = M / (b t d) = {sig(moment / 1000, 5)} N·m / ({sig(acting.bears, 5)} mm × {sig(thin, 5)} mm × "
        f"{sig(d, 6)} mm) = {sig(mean)} MPa; outer fibre, including the skin's own bending = {sig(outer)} MPa",
        f"core shear stress = V / (b d) = {sig(force, 5)} N / ({sig(acting.shears, 5)} mm × {sig(d, 6)} mm) = "
        f"{sig(core_shear)} MPa",
    )
    values = {"moment": moment / 1000, "shear": force, "skin_mean": mean, "skin_stress": outer, "core_shear": core_shear}
    return Answer(values, working)


def _outer(panel: _Panel, acting: _Acting) -> tuple[float, float]:
    """Return the stress in MPa at the outer fibre of the top and the bottom skin."""
    stack = panel.stack
    depth = sum(layer.thickness for layer in stack.layers)
    bent = BEAMS[acting.support, acting.kind].moment * acting.total * acting.span / (acting.bears * stack.stiffness)
    return panel.top.modulus * bent * stack.axis, panel.bottom.modulus * bent * (depth - stack.axis)


def _wrinkling(fields: _Fields) -> Answer:
    """Return the stress at which the compressed skin wrinkles, if the moduli are known."""
    skin, core, shear = (_known(fields, name) for name in _FIGURES)
    if skin is None or core is None or shear is None:
        return Answer({"wrinkling_stress": None})
    if fields["span"] is not None:
        skin = _pressed(fields, _panel(fields)).modulus
    stress = _wrinkles(skin, core, shear)
    line = f"wrinkling stress = {_IDEAL_SHARE:g} × ({sig(skin, 6)} × {sig(core, 5)} × {sig(shear, 5)})^(1/3) = {sig(stress)} MPa"
    return Answer({"wrinkling_stress": stress}, (line,))


def _wrinkles(skin: float, core: float, shear: float) -> float:
    """Return the stress in MPa at which a skin wrinkles on its core; moduli in MPa."""
    return float(_IDEAL_SHARE * math.cbrt(skin * core * shear))


def _pressed(fields: _Fields, panel: _Panel) -> _Skin:
    """Return the skin in compression under a load: the top; on a cantilever the bottom; with fixed ends the less stiff."""
    if fields["support"] == SIMPLE:
        return panel.top
    if fields["support"] == CANTILEVER:
        return panel.bottom
    return min(panel.top, panel.bottom, key=lambda skin: skin.modulus * skin.thickness)


def _reach(radius: float, skin: _Skin, modulus: float, thick: float) -> float:
    """Return r, the patch radius divided by the length over which the skin spreads a load on that core (mm, MPa)."""
    plate = skin.local * skin.thickness**3 / (12 * (1 - _POISSON**2))
    return radius / math.sqrt(math.sqrt(plate * thick / modulus))


def _core_pressure(load: float, patch: float, skin: _Skin, core: _Core) -> float:
    """Return the pressure in MPa on the core under a load in N on a round patch with a diameter in mm."""
    radius = patch / 2
    spread, r = load / (math.pi * radius**2), _reach(radius, skin, core.stiff, core.thickness)
    return min(spread, _LAYER_RAISES * spread * (1 + r * derivatives(r)[0]))


def _foot(fields: _Fields) -> Answer:
    """Return what a point load does under its patch: pressure on the core, dent, and local bending of the skin."""
    load, patch = _point(fields), _patch(fields)
    skin, core, width = (
        _skin(fields, "skin", "skin_material", "skin_modulus"),
        _core(fields),
        in_unit(size(fields, "width"), "mm"),
    )
    if width is not None and patch > width * (1 + NOISE):
        line = f"no core pressure or dent: the {sig(patch)} mm patch under the load is wider than the {sig(width, 6)} mm panel"
        return Answer(dict.fromkeys(_LOCAL_OUTPUTS), (line,))
    radius, thick = patch / 2, core.thickness
    spread = load / (math.pi * radius**2)
    r = _reach(radius, skin, core.modulus, thick)
    ker, kei = derivatives(r)
    pressure = _core_pressure(load, patch, skin, core)
    dent = spread * (1 + r * ker) * thick / core.modulus
    moment = (1 + _POISSON) * load * (radius / r) * kei / (2 * math.pi * radius)
    bent = 6 * moment / skin.thickness**2
    working = (
        f"under the load: {sig(load, 5)} N on a {sig(patch)} mm patch is {sig(spread)} MPa; the skin spreads it to "
        f"{sig(pressure)} MPa on the core ({_LAYER_RAISES:g} × the pressure on springs, but no more than load ÷ patch)",
        f"dent {sig(dent, 3)} mm; local bending stress in the skin {sig(bent)} MPa",
    )
    values = {"core_pressure": pressure, "dent": dent, "skin_local": bent, "patch_pressure": spread, "patch_used": patch}
    return Answer(values, working)


def _pad(fields: _Fields, factor: float) -> int | None:
    """Return the diameter in mm of the smallest pad that keeps the core from crushing, None if none in range does."""
    skin, core, load = _skin(fields, "skin", "skin_material", "skin_modulus"), _core(fields), _point(fields)
    assert core.crush is not None
    allowed, low, high = core.crush / factor, _PATCH_LOW, _PATCH_HIGH
    if _core_pressure(load, high, skin, core) > allowed:
        return None
    while high - low > NOISE * high:
        middle = (low + high) / 2
        if _core_pressure(load, middle, skin, core) > allowed:
            low = middle
        else:
            high = middle
    return round_up(high)


def _figure(answer: Answer, name: str) -> float:
    value = answer.values[name]
    assert isinstance(value, int | float)
    return float(value)


def _uses(fields: _Fields, answer: Answer, beam: tuple[_Panel, _Acting] | None) -> dict[str, float | None]:
    """Return each stress × safety factor ÷ strength, and sag ÷ allowed sag, in %; None where the strength is not known."""
    factor = {name: number(fields, f"{name}_factor", "") for name in ("skin", "shear", "wrinkling", "crush")}
    top, core = _skin(fields, "skin", "skin_material", "skin_modulus"), _core(fields)
    found: dict[str, float | None] = {}
    if beam is not None:
        panel, acting = beam
        found[_SAG] = _figure(answer, "deflection_long") * number(fields, "limit", "") / acting.span
        pairs = [(stress, skin.strength) for stress, skin in zip(_outer(panel, acting), (panel.top, panel.bottom), strict=True)]
        shares = [stress / strength for stress, strength in pairs if strength is not None]
        found[_SKIN] = factor["skin"] * max(shares) if len(shares) == len(pairs) else None
        shear = core.shear_strength
        found[_SHEAR] = factor["shear"] * _figure(answer, "core_shear") / shear if shear else None
        thin, pressed = min(panel.top.thickness, panel.bottom.thickness), _pressed(fields, panel)
        mean = _figure(answer, "skin_mean") * thin / pressed.thickness
        found[_WRINKLE] = factor["wrinkling"] * mean / _figure(answer, "wrinkling_stress")
    if answer.values["core_pressure"] is not None:
        found[_CRUSH] = factor["crush"] * _figure(answer, "core_pressure") / core.crush if core.crush else None
        found[_FOOT] = factor["skin"] * _figure(answer, "skin_local") / top.strength if top.strength else None
    return {name: None if share is None else 100 * share for name, share in found.items()}


_USES = {
    _SAG: "use_deflection", _SKIN: "use_skin", _SHEAR: "use_core_shear", _WRINKLE: "use_wrinkling", _CRUSH: "use_crush",
    _FOOT: "use_foot",
}  # fmt: skip
"""The output for each check."""

_BEAM_OUTPUTS = (
    "bending_stiffness", "shear_stiffness", "deflection_bending", "deflection_shear", "deflection", "deflection_long",
    "shear_ratio", "span_ratio", "width_bending", "width_shear", "width_moment", "moment", "shear", "skin_stress", "core_shear",
    "skin_mean",
)  # fmt: skip
_LOCAL_OUTPUTS = ("core_pressure", "dent", "skin_local", "patch_pressure", "patch_used")
_JUDGED = (*_USES.values(), "load", "use", "governs", "verdict", "pressure_limit", "point_limit", "pad")
"""The parts of the answer: panel under load, foot on the skin, and both together."""


def _ended(fields: _Fields, answer: Answer, beam: tuple[_Panel, _Acting] | None) -> Answer:
    """Return the answer with the limiting check, the verdict and the cautions."""
    uses = _uses(fields, answer, beam) if beam or fields["point"] is not None else {}
    known = {name: use for name, use in uses.items() if use is not None}
    values: dict[str, Value | float | None] = dict.fromkeys(_JUDGED)
    values |= {_USES[name]: use for name, use in known.items()}
    values["load"] = beam[1].total if beam else _point(fields) or None
    if not known:
        return joined(answer, Answer(values, (), tuple(_cautions(fields, answer, beam, uses, None))))
    governs = max(known, key=lambda name: known[name])
    most = known[governs]
    values |= {"use": most, "governs": governs, "verdict": _verdict(known)}
    if len(known) == len(uses):
        name, unit = ("pressure", "kPa") if fields["pressure"] is not None else ("point", "N")
        values[f"{name}_limit"] = number(fields, name, unit) / most * 100
    pad = None
    if known.get(_CRUSH, 0.0) > _FULL.value:
        pad = _pad(fields, number(fields, "crush_factor", ""))
        values["pad"] = None if pad is None else float(pad)
    said = "; ".join(f"{name} {sig(use, 3)} %" for name, use in known.items())
    cautions = tuple(_cautions(fields, answer, beam, uses, pad))
    return joined(answer, Answer(values, (f"share of the allowed value: {said}",), cautions))


def _verdict(known: Mapping[str, float]) -> str:
    """Return the verdict on the checks, worst first."""
    over = sorted((name for name in known if known[name] > _FULL.value), key=lambda name: -known[name])
    if over:
        return "; ".join(dict.fromkeys(_SOFT if name == _SAG else _WEAK for name in over))
    return "tight" if max(known.values()) >= _TIGHT.value else "ok"


def _cautions(
    fields: _Fields,
    answer: Answer,
    beam: tuple[_Panel, _Acting] | None,
    uses: Mapping[str, float | None],
    pad: int | None,
) -> list[str]:
    """Return what to do, the most important first."""
    said = []
    known = {name: use for name, use in uses.items() if use is not None}
    for name in sorted((name for name in known if known[name] > _FULL.value), key=lambda name: -known[name]):
        remedy = _remedy(name, answer, pad)
        said.append(f"{name.capitalize()}: {sig(known[name], 3)} % of the allowed value. Use {remedy}.")
    unknown = [name for name in uses if name not in known]
    if unknown:
        said.append(
            f"Not checked: {', '.join(unknown)}. Enter the strengths from the data sheets (skin, core shear and core crush)."
        )
    if beam is not None:
        said += _beam_cautions(fields, answer, *beam)
    return [*said, *_material_cautions(fields, bool(uses))]


def _remedy(name: str, answer: Answer, pad: int | None) -> str:
    """Return what to change for the check that exceeds its limit."""
    if name == _SAG:
        return _SAG_REMEDIES[_figure(answer, "shear_ratio") > 1]
    return f"a stiff pad of {pad} mm or more under the load" if name == _CRUSH and pad else _REMEDIES[name]


def _beam_cautions(fields: _Fields, answer: Answer, panel: _Panel, acting: _Acting) -> list[str]:
    said = []
    if _figure(answer, "span_ratio") < _SHORTEST.value:
        said.append(
            f"The sag can't be trusted: beam theory fails long before the sag reaches span ÷ {_SHORTEST.value:g}. Change the "
            "panel first."
        )
    said.append(
        "For snow, wind and people, use the loads in your local code. Don't use these figures for a panel over people's heads "
        "or a guard rail: have an engineer check it."
    )
    if acting.kind == POINT and min(acting.bends, acting.shears) < panel.width:
        said.append(
            "Keep the load away from a free edge: only half the width carries it there, and the panel sags about twice as far."
        )
    if acting.kind == POINT and acting.support != SIMPLE and acting.shears < panel.width:
        said.append(
            f"No source found for the effective width in shear under a point load with {acting.support} support: half the span "
            "is assumed. Load a test panel."
        )
    if acting.kind == POINT and acting.support == CANTILEVER:
        said.append(
            "Close the free end with a solid strip: the core pressure and dent are for the middle of a face, not its edge."
        )
    if acting.support == FIXED:
        said.append("Ends are fixed only if they are clamped solid: choose 'simple' for ends on battens, glued or screwed.")
    if acting.kind == UNIFORM and not acting.creep:
        said.append("Foam creeps under a lasting load: choose snow or own weight as the kind of load to see the long-term sag.")
    return said


def _material_cautions(fields: _Fields, loaded: bool) -> list[str]:
    """Return cautions on the materials: sound foam, cool and dry, and data-sheet figures."""
    if not loaded:
        return []
    said = [
        "These figures assume sound foam bonded all over: tap the skin to find voids. Foam softens in the sun, and wet ply loses "
        "stiffness."
    ]
    fields_of = ("skin_material", "skin_bottom_material", "core_material")
    named = list(dict.fromkeys(str(fields[name]) for name in fields_of if fields[name] is not None))
    if named:
        said.append(f"These are typical figures for {', '.join(named)}: enter your data-sheet figures if you have them.")
    if fields["point"] is not None and fields["load_case"] is None:
        said.append("Set a solid block into the core under every bolt, hinge or permanent foot.")
    return said


_DROP = 0.9
"""Sag as drawn, for a panel drawn 1 thick (our choice)."""

_SKIN_DRAWN = 0.16
"""Smallest skin thickness in the picture, for a panel drawn 1 thick (our choice). No Threshold needed: it is only drawn."""

_LOAD_DRAWN = 0.03
"""Smallest half width of a point load in the picture, for a span drawn 1 long (our choice). No Threshold needed: it is only
drawn."""

_PLACES = 41
"""Number of points in the drawn curve of the panel (our choice)."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the bent panel from the side: span drawn 1 long, panel 1 thick, sag enlarged to be visible."""
    sag, span, core, top = size(outputs, "deflection"), size(inputs, "span"), size(inputs, "core"), size(inputs, "skin")
    load = size(inputs, "point") or size(inputs, "pressure")
    if sag is None or span is None or core is None or top is None or load is None:
        return None
    support, kind = str(inputs["support"]), POINT if "point" in inputs else UNIFORM
    beam, bending, shear = (
        BEAMS[support, kind],
        number(outputs, "deflection_bending", "mm"),
        number(outputs, "deflection_shear", "mm"),
    )
    bottom = size(inputs, "skin_bottom") or top
    deep = sum(part.value_in("mm") for part in (top, core, bottom))
    upper, lower = (max(_SKIN_DRAWN, skin.value_in("mm") / deep) for skin in (top, bottom))

    def face(x: float) -> float:
        return -_DROP * (bending * beam.bent(x) + shear * beam.sheared(x)) / (bending + shear)

    def layer(begin: float, end: float, above: float, below: float) -> tuple[tuple[float, float], ...]:
        places = [begin + (end - begin) * step / (_PLACES - 1) for step in range(_PLACES)]
        return (*((x, face(x) + above) for x in places), *((x, face(x) + below) for x in reversed(places)))

    half = max(_LOAD_DRAWN, number(outputs, "patch_used", "mm") / span.value_in("mm") / 2)
    at = 1 - half if support == CANTILEVER else 0.5
    ends = (0.0, 1.0) if kind == UNIFORM else (max(0.0, at - half), min(1.0, at + half))
    shapes = (
        Shape(layer(*ends, 0.4, 0.0), "load", "dots"),
        Shape(layer(0, 1, 0, -upper), "skin", "solid"),
        Shape(layer(0, 1, -upper, lower - 1), "core", "light"),
        Shape(layer(0, 1, lower - 1, -1), "skin", "solid"),
        *(Shape(outline, "support", "hatch") for outline in _supports(support)),
    )
    labels = (
        Label("load", ((ends[0] + ends[1]) / 2, face(at) + 0.2), load),
        Label("skin", (0.25, face(0.25) - upper / 2), top),
        Label("core", (0.3, face(0.3) - 0.5), core),
        Label("sag", (at, face(at) - 1 + lower / 2), sag),
        Label("span", (0.02, -1.2), span),
    )
    held = {SIMPLE: "resting on both ends", FIXED: "clamped at both ends", CANTILEVER: "clamped at one end"}[support]
    words = (
        f"A panel with a {both(top)} skin on a {both(core)} core, {held}, sags {both(sag)} "
        f"over {both(span)} under {both(load)}: {outputs['verdict']}."
    )
    unloaded = Curve(((0.0, 0.0), (1.0, 0.0)), "unloaded", "dot")
    foot = ("not to scale; sag enlarged",)
    return Picture(shapes, labels, words, (-0.08, -2.0), (1.08, 0.5), (unloaded,), foot, _SKIN_DRAWN, "", to_scale=False)


def _supports(support: str) -> list[tuple[tuple[float, float], ...]]:
    """Return the supports or clamps of the panel, in picture units."""
    if support == SIMPLE:
        return [rectangle(x, -1.5, x + 0.04, -1) for x in (0.0, 0.96)]
    walls = [rectangle(-0.08, -1.4, 0, 0.4), rectangle(1, -1.4, 1.08, 0.4)]
    return walls if support == FIXED else walls[:1]


_SKINS, _CORES = (Choice(partial(materials.names, table), partial(materials.other_names, table)) for table in ("skins", "cores"))
_THICK = Measure("mm", low=0.2, high=25, soft_low=0.5, soft_high=19)
_STIFF = Measure("MPa", low=500, high=250_000)
_FOAM = Measure("MPa", low=0.5, high=500, soft_high=200)
_SHEET = "From its data sheet; overrides the typical figure for the material."
"""Help for the fields with a figure from a data sheet."""


_PLY = {"span": "1200 mm", "width": "600 mm", "skin": "6 mm", "skin_material": "plywood", "core": "38 mm",
        "core_material": "PU foam 2 lb"}  # fmt: skip
"""The panel in the worked examples (our choice)."""

CALCULATOR = Calculator(
    name="sandwich", title="Sag and strength of a sandwich panel under load",
    inputs=(
        Field("span", "Span", Measure("mm", low=50, high=6000, soft_low=150, soft_high=3000),
            "Distance between the supports. For a cantilever, how far it sticks out."),
        Field("width", "Width", Measure("mm", low=20, high=3000), "Panel width, across the span."),
        Field("skin", "Skin thickness", _THICK, "The top skin, or both skins if you leave the bottom one blank."),
        Field("core", "Core thickness", Measure("mm", low=3, high=300, soft_low=5, soft_high=200)),
        Field("support", "How the ends are held", Choice((SIMPLE, FIXED, CANTILEVER)),
            "Simple: resting on both ends. Fixed: both ends clamped solid. Cantilever: one end "
            "clamped, the other free.", default=SIMPLE),
        Field("pressure", "Load over the whole panel", _Load("kPa", low=0.001, high=50, soft_low=0.05, soft_high=10),
            "Snow, wind or water, as a pressure or a mass per area: 1 kPa, 20 lb/ft², 100 kg/m²."),
        Field("point", "Or load at one place", _Load("N", low=1, high=20_000, soft_low=20, soft_high=5000),
            "A force or a mass at mid-span or at the tip of a cantilever: 800 N or 80 kg."),
        Field("skin_material", "Skin material", _SKINS,
            "For ply, choose whether the span runs along or across the face grain."),
        Field("skin_modulus", "Skin modulus, along the span", _STIFF, _SHEET),
        Field("core_material", "Core material", _CORES),
        Field("core_modulus", "Core modulus", _FOAM, _SHEET),
        Field("core_shear_modulus", "Core shear modulus", _FOAM, _SHEET),
        Field("load_case", "Kind of load", Choice(lambda: materials.names("load_cases")),
            "Sets the footprint, the extra force of a step and the creep under a lasting load. Enter the load itself "
            "above."),
        Field("patch", "Patch under the load", Measure("mm", low=_PATCH_LOW, high=_PATCH_HIGH, soft_low=20, soft_high=400),
            "Diameter. Blank: 100 mm, or the usual one for the kind of load."),
        Field("skin_bottom", "Bottom skin thickness", _THICK, "Blank: same as the top skin."),
        Field("skin_bottom_material", "Bottom skin material", _SKINS, "Blank: same as the top skin."),
        Field("skin_bottom_modulus", "Bottom skin modulus", _STIFF, "Blank: same as the top skin."),
        Field("creep", "Creep of the core", Measure("", low=0, high=10),
            "Core-shear sag added over time ÷ core-shear sag at first: 2.4 for snow, 7 for own weight. Blank: 0, or the usual "
            "one for the kind of load."),
        Field("limit", "Allowed sag, as span ÷ sag", Measure("", low=50, high=1000, soft_low=100, soft_high=500), default="200"),
        Field("skin_strength", "Skin strength", Measure("MPa", low=1, high=3000, soft_low=5), "Strength "
            "of the weaker skin. " + _SHEET),
        Field("core_shear_strength", "Core shear strength", Measure("MPa", low=0.01, high=20, soft_high=5), _SHEET),
        Field("core_crush", "Core crush strength", Measure("MPa", low=0.01, high=50, soft_high=10), _SHEET),
        Field("skin_factor", "Safety factor, skin", Measure("", low=1, high=10), default="2"),
        Field("shear_factor", "Safety factor, core shear", Measure("", low=1, high=10), default="3"),
        Field("wrinkling_factor", "Safety factor, wrinkling", Measure("", low=1, high=10), default="3"),
        Field("crush_factor", "Safety factor, crush", Measure("", low=1, high=10), "For a short-term load.", default="1.5"),
    ),
    outputs=(
        Output("verdict", "Verdict"),
        Output("deflection", "Sag", "mm", 1),
        Output("span_ratio", "Span ÷ sag", "", 0),
        Output("governs", "Limited by"),
        Output("use", "Share of the allowed value used", "%", 0),
        Output("pressure_limit", "Maximum load over the whole panel", "kPa", 2),
        Output("point_limit", "Maximum load at one place", "N", 0),
        Output("pad", "Smallest pad under the load", "mm", 0),
        Output("core_pressure", "Pressure on the core", "MPa", 3),
        Output("dent", "Dent under the load", "mm", 2),
        Output("deflection_long", "Long-term sag", "mm", 1),
        Output("deflection_bending", "Sag from bending", "mm", 2),
        Output("deflection_shear", "Sag from core shear", "mm", 2),
        Output("shear_ratio", "Shear sag ÷ bending sag", "", 2),
        Output("load", "Load used", "N", 0),
        Output("moment", "Bending moment", "N·m", 1),
        Output("shear", "Shear force", "N", 0),
        Output("skin_mean", "Skin stress, mean", "MPa", 3),
        Output("skin_stress", "Skin stress, outer fibre", "MPa", 3),
        Output("core_shear", "Core shear stress", "MPa", 4),
        Output("wrinkling_stress", "Stress at which the skin wrinkles", "MPa", 1),
        Output("skin_local", "Skin stress under the load", "MPa", 2),
        Output("bending_stiffness", "Bending stiffness", "N·m²", 0),
        Output("shear_stiffness", "Shear stiffness", "kN", 2),
        Output("width_bending", "Effective width, bending", "mm", 0),
        Output("width_shear", "Effective width, core shear", "mm", 0),
        Output("width_moment", "Effective width, moment", "mm", 0),
        Output("patch_used", "Patch used", "mm", 0),
        Output("patch_pressure", "Load ÷ patch", "MPa", 3),
        Output("use_deflection", "Sag, share of allowed value", "%", 1),
        Output("use_skin", "Skin stress, share of allowed value", "%", 1),
        Output("use_core_shear", "Core shear, share of allowed value", "%", 1),
        Output("use_wrinkling", "Wrinkling, share of allowed value", "%", 1),
        Output("use_crush", "Core crush, share of allowed value", "%", 1),
        Output("use_foot", "Skin under the load, share of allowed value", "%", 1),
    ),
    source=(_BEAM, _STRIP, _PLATE_TABLE, _WRINKLING, _KNOCK_DOWN, _DISC, _FACTORS,
        Source("materials and loads: tables skins, cores and load_cases, with a source on each row", "read")),
    valid="For a flat panel with the load downwards, a sag much smaller than the span and skins uniform across the width. The "
    "extra stiffness E/(1 − ν²) of wide plates is left out, which is safe. Not covered: voids, holes, fittings that load one "
    "spot, unbonded skins, buckling of a panel loaded on edge, water in the core, fatigue. The mean skin stress is for the "
    "thinner skin. The skin in compression can wrinkle: the top one, or the bottom one of a cantilever.",
    examples=(
        Example({**_PLY, "pressure": "1 kPa"}, {"bending_stiffness": 24559, "shear_stiffness": 51.97, "deflection_bending": 0.660,
            "deflection_shear": 2.078, "deflection": 2.738, "shear_ratio": 3.15, "skin_stress": 0.770, "core_shear": 0.0136,
            "governs": "deflection", "verdict": "ok"}, _BEAM, rel=0.003),
        Example({**_PLY, "point": "800 N"}, {"width_bending": 600.0, "width_shear": 584.0, "deflection": 5.92,
            "deflection_long": 5.92, "width_moment": 600.0}, _STRIP, rel=0.002),
        Example({"span": "1500 mm", "width": "500 mm", "skin": "1.5 mm", "skin_modulus": "14 GPa", "core": "25 mm",
            "core_modulus": "15 MPa", "core_shear_modulus": "5 MPa", "pressure": "500 Pa"}, {"deflection_bending": 4.45,
            "deflection_shear": 1.00}, _BEAM, rel=0.003),
        Example({"point": "800 N", "patch": "50 mm", "skin": "6 mm", "skin_modulus": "7 GPa", "core": "38 mm",
            "core_modulus": "5 MPa", "core_crush": "0.11 MPa"}, {"core_pressure": 0.103, "dent": 0.62, "skin_local": 12.7,
            "governs": "crush", "verdict": "too weak"}, _DISC, rel=0.01),
        Example({"skin_modulus": "60 GPa", "core_modulus": "70 MPa", "core_shear_modulus": "19 MPa"}, {"wrinkling_stress": 215.3},
            _WRINKLING, rel=0.001),
    ),
    asked=("span", "width", "skin", "core"),
    compute=_compute, thresholds=(_TIGHT, _FULL, _SHORTEST), pictures=(_picture,),
)  # fmt: skip
