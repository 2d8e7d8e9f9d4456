"""How far a strip or panel bows when heat, moisture or curing lengthens one face more than the other."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from functools import partial

from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold, Value, joined
from shopmate.errors import FieldProblem
from shopmate.models.beams import BEAMS, POINT, SIMPLE
from shopmate.models.fields import given, in_unit, missing, refuse, together
from shopmate.models.layers import Layer, Stack, shear_stiffness
from shopmate.picture import Curve, Label, Picture, Shape, Texture, both, number, size
from shopmate.records import dataclass
from shopmate.tables import sandwich as materials
from shopmate.units import Quantity
from shopmate.units import significant as sig

_TIMOSHENKO = Source(
    "Timoshenko 1925, two layers with all terms, as quoted in a public solver's test; worked out two ways", "computed"
)
_BIMETAL = Source("Finite-element verification page on a bimetal strip clamped at one end: 3 L² Δε / (4 h) = 5.625", "read")
_LAMINATE = Source("Laminate theory: force and moment over the layers each add up to zero", "computed")
_PLY_SWELLS = Source(
    "Plywood in its plane grows 0.02 % per 10 % relative humidity, a trade body's figure quoted on two web pages", "read"
)
_ARC = Source("Geometry of an arc: R (1 − cos(L/(2 R)))", "computed")
_SHRINKS = Source("A thin laminate cured at room temperature shrinks 0.02 to 0.1 % of its length", "memory")

_FACES = ("top", "bottom")
_CHANGES = {"dt": ("expansion", "K", "µm/m·K"), "dm": ("swelling", "%", "µm/m")}
"""Heat and moisture: field prefix of the change, name of its coefficient, unit of the change, unit of the coefficient."""

_CAUSES = tuple(f"{name}_{face}" for name in _CHANGES for face in _FACES) + tuple(f"{face}_shrink" for face in _FACES)
_COEFFICIENTS = tuple(f"{face}_{name}" for name, _, _ in _CHANGES.values() for face in _FACES)
"""The fields for the changes at each face, and for how much the face moves with each change."""

_HALF_CIRCLE = Threshold(
    180.0, "°", _ARC, "past half a circle", "arc", "3.141 1/m", "3.142 1/m", "curvature",
    {"length": "1 m", **dict.fromkeys((*_CAUSES, *_COEFFICIENTS), "")},
)  # fmt: skip
"""Largest arc whose bow can be measured from a straightedge across the ends."""

_REMEDIES = {
    ("top_shrink", "bottom_shrink"): "Glass both faces in one go, or clamp the panel flat until the epoxy has cured.",
    ("dm_top", "dm_bottom"): "Give both faces and all edges the same sealing coats, so that they swell and dry together.",
    ("dt_top", "dt_bottom"): "Leave room for this bow at seals and catches: it comes and goes with the heat.",
}
"""What to do, by the cause of the bow."""

_MILLION = 1e6
"""µm in a metre, exactly."""


_OF_WHAT = re.compile(r"\s*(?:per (?:1 ?)?%)?\s*(?:RH|MC|points?)?\s*$", re.IGNORECASE)
"""Words that may follow a change of moisture or a swelling: 40 % RH, 20 µm/m per % MC."""


class _Moist(Measure):
    """A change of moisture, or the swelling per 1 % change; 'RH', 'MC' or 'points' may follow."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        return super().read(_OF_WHAT.sub("", text, count=1))


@dataclass(frozen=True, slots=True)
class _Moved:
    """How much a face would lengthen in µm/m if it were free, and the sum it comes from."""

    strain: float
    terms: str


def _compute(**fields: object) -> Answer:
    refuse(*_problems(fields))
    measured = size(fields, "curvature")
    layered = fields["top_thickness"] is not None
    strained = Answer(dict.fromkeys(("strain_difference", "strain_top", "strain_bottom")))
    top = bottom = _Moved(0.0, "")
    if measured is None:
        top, bottom = (_moved(fields, face) for face in _FACES)
        strained = _strained(top, bottom)
    stack = _stack(fields, top.strain, bottom.strain) if layered else None
    if measured is not None:
        curvature = measured.value_in("1/m")
        line = f"curvature {sig(curvature)} 1/m, as entered"
    else:
        assert stack is not None
        curvature = stack.curvature * 1000
        line = f"curvature at which force and moment over the layers balance: {sig(curvature)} 1/m"
    length = number(fields, "length", "m")
    arc = math.degrees(abs(curvature) * length)
    if arc > _HALF_CIRCLE.value:
        field, fix = (
            ("length", "enter a shorter length, or check what you entered for heat, moisture, shrinkage and modulus")
            if measured is None
            else ("curvature", "enter a smaller curvature")
        )
        refuse(FieldProblem(field, f"at {sig(curvature)} 1/m the strip curls past half a circle", fix))
    bowed = _bowed(curvature, length, arc)
    held = _held(fields, stack, abs(_value(bowed, "bow")))
    said = _cautions(fields, curvature, in_unit(size(fields, "width"), "mm") is not None and stack is not None, held)
    return joined(strained, Answer({}, (line,)), bowed, held, Answer({}, (), tuple(said)))


def _value(answer: Answer, name: str) -> float:
    value = answer.values[name]
    assert isinstance(value, int | float)
    return float(value)


def _modulus(fields: Mapping[str, object], face: str) -> float | None:
    """Return the modulus in MPa entered for a face or the core, else that of its material; None where there is neither."""
    figure = in_unit(size(fields, f"{face}_modulus"), "MPa")
    name = fields[f"{face}_material"]
    if figure is not None or not isinstance(name, str):
        return figure
    return materials.core(name).modulus if face == "core" else materials.skin(name).modulus


def _coefficient(fields: Mapping[str, object], face: str, change: str) -> float | None:
    """Return the expansion or swelling of a face, as entered or else of its material; None where there is neither."""
    kind, _, unit = _CHANGES[change]
    figure, name = in_unit(size(fields, f"{face}_{kind}"), unit), fields[f"{face}_material"]
    if figure is not None or not isinstance(name, str):
        return figure
    skin = materials.skin(name)
    return skin.expansion if change == "dt" else skin.swelling


def _problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    found: list[FieldProblem] = []
    if fields["curvature"] is not None:
        fix = "enter either the curvature, or the heat, moisture or shrinkage that causes it"
        found += given({name: fields[name] for name in (*_CAUSES, *_COEFFICIENTS)}, "a curvature is entered too", fix)
    elif all(fields[name] is None for name in _CAUSES):
        fix = "enter a temperature change, a moisture change or a shrinkage for a face, or a curvature you measured"
        found.append(FieldProblem("dt_top", "nothing you entered makes the strip bow", fix))
    faces = {f"{face}_thickness": fields[f"{face}_thickness"] for face in _FACES}
    if fields["curvature"] is None:
        found += missing(faces, "still blank", "enter the thickness of both layers")
    else:
        found += together(faces, "still blank", "enter the thickness of both layers, or of neither")
    found += _layer_problems(fields)
    return [*found, *_cause_problems(fields)]


def _layer_problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each layer without a modulus, and for what belongs to a core that is not there."""
    found = []
    for layer in (*_FACES, "core"):
        if fields[f"{layer}_thickness"] is not None and _modulus(fields, layer) is None:
            fix = f"enter it from the data sheet, or choose the {layer} material"
            found.append(FieldProblem(f"{layer}_modulus", f"not known for the {layer} layer", fix))
    if fields["core_thickness"] is None:
        parts = ("core_modulus", "core_material", "core_shear_modulus", "core_strain")
        found += given(
            {name: fields[name] for name in parts}, "no core thickness is entered", "enter the core thickness too, or clear this"
        )
    return found


def _cause_problems(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each change without its coefficient, and for each coefficient without a change."""
    found = []
    for change, (kind, _, _) in _CHANGES.items():
        for face in _FACES:
            if fields[f"{change}_{face}"] is not None and _coefficient(fields, face, change) is None:
                fix = "enter it from the data sheet, or choose a material whose figure is in the skins table"
                found.append(FieldProblem(f"{face}_{kind}", f"not known for the {face} layer", fix))
        if fields["curvature"] is None and all(fields[f"{change}_{face}"] is None for face in _FACES):
            named = {f"{face}_{kind}": fields[f"{face}_{kind}"] for face in _FACES}
            what = "no temperature change is entered" if change == "dt" else "no moisture change is entered"
            found += given(named, what, "enter the change for both layers too, or clear this")
    return found


def _moved(fields: Mapping[str, object], face: str) -> _Moved:
    """Return how much a face would lengthen; a change left blank counts as none."""
    strain, terms = 0.0, ""
    for change, (_, unit, _) in _CHANGES.items():
        by, figure = _coefficient(fields, face, change), in_unit(size(fields, f"{change}_{face}"), unit)
        if by is not None and figure is not None:
            strain += by * figure
            terms += f" {'−' if figure < 0 else '+'} {sig(by)} × {sig(abs(figure))}"
    if (shrink := in_unit(size(fields, f"{face}_shrink"), "%")) is not None:
        strain -= shrink / 100 * _MILLION
        terms += f" {'+' if shrink < 0 else '−'} 10000 × {sig(abs(shrink))}"
    return _Moved(strain, terms.removeprefix(" + ") if terms.startswith(" +") else f"0{terms}")


def _strained(top: _Moved, bottom: _Moved) -> Answer:
    """Return how much each face would lengthen if it were free, and the difference."""
    lines = tuple(
        f"{name} face, expansion × K + swelling × % − shrinkage: {face.terms} = {sig(face.strain, 5)} µm/m"
        for name, face in zip(_FACES, (top, bottom), strict=True)
    )
    apart = top.strain - bottom.strain
    values = {"strain_difference": apart, "strain_top": top.strain, "strain_bottom": bottom.strain}
    return Answer(values, (*lines, f"top − bottom: {sig(apart, 5)} µm/m"))


def _stack(fields: Mapping[str, object], top: float, bottom: float) -> Stack:
    """Return the layers; a core without a strain of its own gets the mean of the faces. Strains in µm/m."""
    own = in_unit(size(fields, "core_strain"), "µm/m")
    strains = {"top": top, "core": (top + bottom) / 2 if own is None else own, "bottom": bottom}
    layers = []
    for name, strain in strains.items():
        thickness, modulus = in_unit(size(fields, f"{name}_thickness"), "mm"), _modulus(fields, name)
        if thickness is not None and modulus is not None:
            layers.append(Layer(thickness, modulus, strain))
    return Stack(tuple(layers))


def _bowed(curvature: float, length: float, arc: float) -> Answer:
    """Return bow and tip in mm of a strip with that curvature in 1/m and length in m."""
    bow = tip = 0.0
    if curvature:
        # 1 − cos x = 2 sin²(x / 2), which keeps its digits where the strip is nearly straight.
        bow = 2 * math.sin(curvature * length / 4) ** 2 / curvature * 1000
        tip = 2 * math.sin(curvature * length / 2) ** 2 / curvature * 1000
    convex = ("bottom", "flat", "top")[(curvature > 0) - (curvature < 0) + 1]
    values: dict[str, Value | float | None] = {
        "bow": bow, "tip": tip, "convex": convex, "curvature": curvature, "radius": 1 / curvature if curvature else None,
        "arc": arc,
    }  # fmt: skip
    line = (
        f"bow of the arc, (1 − cos(κ L / 2)) / κ over {sig(length, 6)} m: {sig(bow)} mm; tip with one end clamped: {sig(tip)} mm"
    )
    return Answer(values, (line,))


def _held(fields: Mapping[str, object], stack: Stack | None, bow: float) -> Answer:
    """Return the force at mid-length that presses the strip straight between end supports, if layers and width are known."""
    width, length = in_unit(size(fields, "width"), "mm"), number(fields, "length", "mm")
    if stack is None or width is None:
        return Answer(dict.fromkeys(("hold_force", "bending_stiffness", "shear_stiffness")))
    beam, bending = BEAMS[SIMPLE, POINT], width * stack.stiffness
    soft = beam.bending * length**3 / bending
    shear = _core_shear(fields)
    stiff = None
    lines = [f"bending stiffness D over the width, core and the layers' own bending included: {sig(bending / 1e6, 5)} N·m²"]
    if shear is not None and len(stack.layers) > len(_FACES):
        top, core, bottom = (layer.thickness for layer in stack.layers)
        stiff = shear_stiffness(core, shear, core + (top + bottom) / 2, width)
        soft += beam.shear * length / stiff
        lines.append(f"shear stiffness S over the width, Gc b d² / c: {sig(stiff / 1000)} kN")
    force = bow / soft
    lines.append(f"force at mid-length, bow / (L³ / (48 D){' + L / (4 S)' if len(lines) > 1 else ''}): {sig(force)} N")
    values = {"hold_force": force, "bending_stiffness": bending / 1e6, "shear_stiffness": stiff and stiff / 1000}
    return Answer(values, tuple(lines))


def _core_shear(fields: Mapping[str, object]) -> float | None:
    """Return the core's shear modulus in MPa, as entered or from its material; None where there is neither."""
    name = fields["core_material"]
    return in_unit(size(fields, "core_shear_modulus"), "MPa") or (
        materials.core(name).shear_modulus if isinstance(name, str) else None
    )


def _cautions(fields: Mapping[str, object], curvature: float, is_held: bool, held: Answer) -> list[str]:
    """Return what to do, the most important first."""
    said = []
    if curvature:
        said += [remedy for causes, remedy in _REMEDIES.items() if any(fields[name] is not None for name in causes)]
    if curvature and is_held:
        said.append(
            f"If you force the strip straight, it never stops pushing on its fastenings: {sig(_value(held, 'hold_force'), 3)} "
            "N at mid-length. Do not leave that to glue or tape alone."
        )
    if is_held and fields["core_thickness"] is not None and _core_shear(fields) is None:
        said.append(
            "The core's shear modulus is not known, so the core counts as rigid and the force shown is too high. Enter the "
            "modulus to get the right force."
        )
    alone = [
        f"{'heat' if change == 'dt' else 'moisture'} at the {face}"
        for change in _CHANGES
        for face, other in (_FACES, _FACES[::-1])
        if fields[f"{change}_{face}"] is None and fields[f"{change}_{other}"] is not None
    ]
    if alone:
        said.append(f"Left blank, so counted as no change: {', '.join(alone)}. Check that nothing changed there.")
    if any(fields[f"{face}_shrink"] is not None for face in _FACES):
        said.append(
            "The usual shrinkage of a laminate cured at room temperature, 0.02 to 0.1 %, is from memory: glass a test strip and "
            "measure its bow."
        )
    return [*said, *_material_cautions(fields)]


def _material_cautions(fields: Mapping[str, object]) -> list[str]:
    """Return the cautions about typical material figures, and about what these figures leave out."""
    said = []
    names = list(dict.fromkeys(str(fields[f"{layer}_material"]) for layer in (*_FACES, "core") if fields[f"{layer}_material"]))
    if names:
        percent = any(fields[f"dm_{face}"] is not None and fields[f"{face}_swelling"] is None for face in _FACES)
        of = "; the swelling is per point of relative humidity, not of moisture content" if percent else ""
        said.append(f"Typical figures are used for {', '.join(names)}{of}. Enter your data-sheet figures where you have them.")
    if fields["curvature"] is None:
        said.append(
            "Check the panel for twist with winding sticks: unbalanced plies twist a panel, and these figures leave twist out. "
            "Do not store the panel bowed: creep makes a bow permanent."
        )
    return said


_RISE = 0.8
"""Height of the bow as drawn, for a strip drawn 1 thick (our choice)."""

_LAYER_DRAWN = 0.25
"""Thinnest layer drawn, for a strip drawn 1 thick (our choice). No Threshold needed: it only shapes the drawing."""

_PLACES = 41
"""Points along the curve of the bowed strip (our choice)."""

_DRAWN: dict[str, Texture] = {"top": "solid", "core": "light", "bottom": "hatch"}
"""How each layer is filled."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return a side view of the strip, not to scale: length and thickness drawn equal, the bow enlarged."""
    bow, convex, length = number(outputs, "bow", "mm"), str(outputs["convex"]), size(inputs, "length")
    assert length is not None
    rise = {"top": _RISE, "bottom": -_RISE, "flat": 0.0}[convex]
    sizes = {name: found for name in _DRAWN if (found := size(inputs, f"{name}_thickness")) is not None}
    whole = sum(found.value_in("mm") for found in sizes.values())
    drawn = {name: max(_LAYER_DRAWN, found.value_in("mm") / whole) for name, found in sizes.items()} or {"strip": 1.0}
    total, above = sum(drawn.values()), 0.0
    shapes, labels = [], []
    for name, part in reversed(drawn.items()):
        below, above = above, above + part / total
        shapes.append(Shape(_arch(rise, above, below), name if sizes else "strip", _DRAWN.get(name, "solid")))
        if sizes:
            labels.append(Label(name, (0.3, _height(rise, 0.3) + (above + below) / 2), sizes[name]))
    deep = Quantity(abs(bow), "mm")
    rests = 0.0 if rise >= 0 else 1.0
    labels += [
        Label("bow", (0.5, rests + rise / 2), deep),
        Label("length", (0.02, rests), length),
    ]
    low, high = min(0.0, rise) - 0.2, 1.2 + max(0.0, rise)
    said = f"A strip {both(length)} long stays flat."
    if convex != "flat":
        other = "bottom" if convex == "top" else "top"
        said = (
            f"A strip {both(length)} long bows {both(deep, 1)} at mid-length: the {convex} face is convex, the {other} face "
            "hollow."
        )
    straight = Curve(((0.0, rests), (1.0, rests)), "straightedge", "dot")
    drawing, foot = tuple(reversed(shapes)), ("not to scale; bow enlarged",)
    return Picture(
        drawing, tuple(labels), said, (0.0, low), (1.0, high), (straight,), foot, 1 / 6, "",
        to_scale=False,
    )  # fmt: skip


def _height(rise: float, x: float) -> float:
    """Return the height of the bottom face at a share `x` of the length, in picture units."""
    return rise * 4 * x * (1 - x)


def _arch(rise: float, above: float, below: float) -> tuple[tuple[float, float], ...]:
    """Return the outline of a layer between two heights above the bottom face."""
    places = [step / (_PLACES - 1) for step in range(_PLACES)]
    return (*((x, _height(rise, x) + above) for x in places), *((x, _height(rise, x) + below) for x in reversed(places)))


def _listed(table: str) -> Choice:
    """Return the choice of a table's materials, each by any of its names."""
    names: Callable[[], tuple[str, ...]] = partial(materials.names, table)
    return Choice(names, partial(materials.other_names, table))


_THICK = Measure("mm", low=0.05, high=300, soft_low=0.1, soft_high=100)
_STIFF = Measure("MPa", low=0.5, high=250_000)
_WARMER = Measure("K", low=-100, high=100, soft_low=-50, soft_high=60)
_DAMPER = _Moist("%", low=-100, high=100)
_EXPANDS = Measure("µm/m·K", low=-5, high=200)
_SWELLS = _Moist("µm/m", low=0, high=5000, soft_high=4000)
_SHORTER = Measure("%", low=-1, high=3, soft_high=0.5)
_OWN = "Blank: the typical figure for its material."
"""Help for the fields whose figure a material can supply."""

_GLASSED = {"length": "1200 mm", "top_thickness": "0.5 mm", "top_modulus": "14 GPa", "top_shrink": "0.05 %",
            "bottom_thickness": "6 mm", "bottom_modulus": "7 GPa"}  # fmt: skip
"""Plywood with glass on one face, for the worked examples (our choice)."""

_PANEL = {"length": "1200 mm", "top_thickness": "6 mm", "top_material": "plywood", "bottom_thickness": "6 mm",
          "bottom_material": "plywood", "core_thickness": "38 mm", "core_material": "PU foam 2 lb"}  # fmt: skip
"""A panel for the worked examples (our choice)."""

CALCULATOR = Calculator(
    name="bow", title="Bow of a strip or panel, and the force to hold it straight",
    inputs=(
        Field("length", "Length", Measure("mm", low=50, high=10_000, soft_low=100), required=True),
        Field("width", "Width", Measure("mm", low=5, high=3000), "Enter it to get the force that holds the strip straight."),
        Field("top_thickness", "Top layer thickness", _THICK),
        Field("top_material", "Top layer material", _listed("skins")),
        Field("bottom_thickness", "Bottom layer thickness", _THICK),
        Field("bottom_material", "Bottom layer material", _listed("skins")),
        Field("core_thickness", "Core thickness", _THICK, "Blank: the two layers are bonded directly to each other."),
        Field("core_material", "Core material", _listed("cores")),
        Field("dt_top", "Top: warmer than at bonding by", _WARMER,
            "Count from the temperature at bonding, not from 20 °C. Negative if it is colder now."),
        Field("dt_bottom", "Bottom: warmer than at bonding by", _WARMER),
        Field("dm_top", "Top: damper than at bonding by", _DAMPER,
            "Percentage points of relative humidity or of moisture content, to match the swelling. Negative if it is drier now."),
        Field("dm_bottom", "Bottom: damper than at bonding by", _DAMPER),
        Field("top_shrink", "Top: shrinks while curing by", _SHORTER,
            "0.02 to 0.1 % for glass cloth in epoxy cured at room temperature."),
        Field("bottom_shrink", "Bottom: shrinks while curing by", _SHORTER),
        Field("top_modulus", "Top modulus", _STIFF, _OWN),
        Field("bottom_modulus", "Bottom modulus", _STIFF, _OWN),
        Field("core_modulus", "Core modulus", _STIFF, _OWN),
        Field("core_shear_modulus", "Core shear modulus", _STIFF, "Needed for the force that holds the strip straight. " + _OWN),
        Field("top_expansion", "Top: thermal expansion", _EXPANDS, _OWN),
        Field("bottom_expansion", "Bottom: thermal expansion", _EXPANDS, _OWN),
        Field("top_swelling", "Top: swelling per 1 %", _SWELLS,
            "Per point of relative humidity or of moisture content, to match the change you entered. " + _OWN),
        Field("bottom_swelling", "Bottom: swelling per 1 %", _SWELLS, _OWN),
        Field("core_strain", "Core: lengthens by", Measure("µm/m", low=-30_000, high=30_000),
            "Blank: the average of the two faces."),
        Field("curvature", "Measured curvature", Measure("1/m", low=-20, high=20, soft_low=-2, soft_high=2),
            "8 × bow / length², positive if the top is convex. Enter it instead of heat, moisture and shrinkage."),
    ),
    outputs=(
        Output("bow", "Bow at mid-length", "mm", 1),
        Output("convex", "Convex face"),
        Output("hold_force", "Force to hold the strip straight", "N", 0),
        Output("tip", "Lift at the tip with one end clamped", "mm", 1),
        Output("strain_difference", "Top grows more than bottom by", "µm/m", 0),
        Output("curvature", "Curvature", "1/m", 4),
        Output("radius", "Radius (−: bottom convex)", "m", 1),
        Output("strain_top", "Top would lengthen by, if free", "µm/m", 0),
        Output("strain_bottom", "Bottom would lengthen by, if free", "µm/m", 0),
        Output("bending_stiffness", "Bending stiffness", "N·m²", 1),
        Output("shear_stiffness", "Shear stiffness", "kN", 2),
        Output("arc", "Angle of the arc", "°", 1),
    ),
    source=(_LAMINATE, _TIMOSHENKO, _BIMETAL, _ARC, _PLY_SWELLS, _SHRINKS,
        Source("Materials from the tables skins and cores, each row with its source", "read")),
    valid="For a strip free to bow one way, with its layers bonded all over, cross-sections that stay plane and moduli that do "
    "not change with heat or moisture. The face that grew is the convex one; heat lengthens a face and drying shortens it. Bow "
    "and tip are those of the true arc, not the approximations κ L²/8 and κ L²/2. Not covered: twist, unbalanced plies, creep, "
    "bowing both ways at once.",
    examples=(
        Example({**_PANEL, "width": "600 mm", "dm_top": "40 %", "dm_bottom": "0 %"}, {"strain_difference": 800.0,
            "curvature": 0.01806, "bow": 3.25, "convex": "top"}, _PLY_SWELLS, rel=0.01),
        Example(_GLASSED, {"strain_difference": -500.0, "curvature": -0.051446, "bow": -9.26, "convex": "bottom",
            "strain_top": -500.0, "strain_bottom": 0.0}, _TIMOSHENKO, rel=0.005),
        Example({"length": "3 m", "top_thickness": "150 mm", "top_modulus": "10 GPa", "top_expansion": "5 µm/m·K",
            "bottom_thickness": "150 mm", "bottom_modulus": "10 GPa", "bottom_expansion": "10 µm/m·K", "dt_top": "50 K",
            "dt_bottom": "50 K"}, {"tip": -5.625, "curvature": -0.00125, "radius": -800.0}, _BIMETAL, rel=0.0001),
        Example({**_PANEL, "dt_top": "30 K", "dt_bottom": "0 K", "dm_top": "-30 %", "dm_bottom": "0 %"},
            {"strain_difference": -417.0, "bow": -1.6944}, _LAMINATE, rel=0.005),
        Example({"length": "1 m", "curvature": "1 1/m"}, {"bow": 122.42, "arc": 57.3}, _ARC, rel=0.001),
    ),
    asked=("length", "top_thickness", "bottom_thickness", "dt_top|dm_top|top_shrink"),
    compute=_compute, thresholds=(_HALF_CIRCLE,), pictures=(_picture,),
)  # fmt: skip
