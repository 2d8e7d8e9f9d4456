"""Glass cloth and epoxy for one face of a panel: cloth, resin by coat with loss, thickness and fibre content."""

from __future__ import annotations

from shopmate import units
from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem
from shopmate.models.fields import in_unit, missing, refuse
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.units import Quantity
from shopmate.units import significant as sig

_GLASS = Source("careful hand work on flat cloth comes to 45 to 50 % glass, a beginner's to 35 to 40 %", "common practice")

_BY_HAND = Threshold(50.0, "%", _GLASS, "the cloth may stay dry", "glass_content", "50 %", "50.1 %")
_WET = Threshold(35.0, "%", _GLASS, "squeegee off what floats the cloth", "glass_content", "35 %", "34.9 %")
_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "in one pot it goes off early", "mix", "0.622 m", "0.6225 m", "length")

_FILL_COAT = "80 to 120 g/m²"
"""One weave-fill coat [common practice]."""

_SEAL_COAT = "100 to 150 g/m²"
"""Seal coat on bare ply or softwood [common practice]."""

_LOSS = "10 to 15 %"
"""What cup, roller and squeegee keep [common practice]."""


class _GlassContent(Measure):
    """A mass fraction in %; a bare number not above 1 is the fraction itself, as no laminate holds 1 % glass."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        typed = units.parse(text, "%")
        if typed.value <= 1 and not units.has_unit(text):
            return super().read(units.show(Quantity(typed.value * 100, "%")))
        return super().read(text)

    def describe(self) -> str:
        return f"{super().describe()}; or the fraction, such as 0.45"


def _compute(
    *,
    area: Quantity | None,
    length: Quantity | None,
    width: Quantity | None,
    cloth: Quantity,
    plies: int,
    glass_content: Quantity,
    seal_coat: Quantity,
    fill_coat: Quantity | None,
    fill_coats: int | None,
    trim: Quantity,
    loss: Quantity,
    glass_density: Quantity,
    epoxy_density: Quantity,
) -> Answer:
    refuse(*_face_problems(area, length, width), *_fill_problems(fill_coat, fill_coats))
    face, face_line = _face(area, length, width)
    coat_weight = in_unit(fill_coat, "g/m²") or 0.0
    coats = fill_coats if fill_coats is not None else int(fill_coat is not None)
    psi = glass_content.value_in("%") / 100
    dry = cloth.value_in("g/m²") * plies
    rho_glass, rho_epoxy = glass_density.value_in("g/mL"), epoxy_density.value_in("g/mL")
    offcut, extra = trim.value_in("%"), loss.value_in("%")
    seal_weight = seal_coat.value_in("g/m²")

    cloth_area = face * plies * (1 + offcut / 100)
    cloth_mass = cloth_area * cloth.value_in("g/m²")
    # The trimmed edge is wetted out too before it is cut off, so resin follows the cloth laid, not the face.
    wet_out = cloth_mass * (1 - psi) / psi
    seal = face * seal_weight
    fill = face * coat_weight * coats
    total = (wet_out + seal + fill) * (1 + extra / 100)

    # Rule of mixtures, a ply of dry glass w: t = w/ρg + w(1−ψ)/(ψρr); with 2.56 and 1.20 g/mL this is the form
    # t = w/3.072 (2.56/ψ − 1.36) of ISO 12215-5 annex C.
    glass_mm, epoxy_mm = dry / rho_glass / 1000, dry * (1 - psi) / psi / rho_epoxy / 1000
    thickness = glass_mm + epoxy_mm
    areal_weight = dry / psi
    weight_added = areal_weight + seal_weight + coat_weight * coats

    working = (
        face_line,
        f"cloth = {sig(face)} m² × {plies} ply × {sig(1 + offcut / 100)} (trim {sig(offcut)} %) = {sig(cloth_area)} m²; "
        f"× {sig(cloth.value_in('g/m²'))} g/m² = {sig(cloth_mass)} g",
        f"wet-out = {sig(cloth_mass)} g × (1 − {sig(psi)})/{sig(psi)} = {sig(wet_out)} g at {sig(psi * 100)} % glass by mass",
        f"seal = {sig(face)} m² × {sig(seal_weight)} g/m² = {sig(seal)} g",
        f"fill = {sig(face)} m² × {coats} × {sig(coat_weight)} g/m² = {sig(fill)} g",
        f"mix = ({sig(wet_out)} + {sig(seal)} + {sig(fill)}) × {sig(1 + extra / 100)} (loss {sig(extra)} %) = {sig(total, 5)} g",
        f"thickness = w/ρg + w(1−ψ)/(ψρr) = {sig(dry)}/{sig(rho_glass)} + {sig(dry * (1 - psi) / psi)}/{sig(rho_epoxy)} "
        f"= {sig(glass_mm * 1000)} + {sig(epoxy_mm * 1000)} = {sig(thickness * 1000)} µm = {thickness:.3f} mm",
        f"fibre volume = {glass_mm:.4f} mm glass ÷ {thickness:.4f} mm = {glass_mm / thickness:.3f} (not the {sig(psi)} by mass)",
    )
    return Answer(
        values={
            "mix": total,
            "wet_out": wet_out,
            "seal": seal,
            "fill": fill,
            "cloth_mass": cloth_mass,
            "cloth_area": cloth_area,
            "thickness": thickness,
            "fibre_volume": glass_mm / thickness,
            "areal_weight": areal_weight,
            "density": areal_weight / 1000 / thickness,
            "weight_added": weight_added,
            "film": coat_weight * coats / rho_epoxy / 1000,
        },
        working=working,
        cautions=_cautions(psi * 100, seal, fill, extra, offcut, total),
    )


def _face_problems(area: Quantity | None, length: Quantity | None, width: Quantity | None) -> list[FieldProblem]:
    sides = {"length": length, "width": width}
    if area is None:
        return missing(sides, "nothing given", "give length and width of the face, or its area")
    return [
        FieldProblem(name, "given beside area", f"leave {name} or area empty: one way only")
        for name, side in sides.items()
        if side is not None
    ]


def _fill_problems(fill_coat: Quantity | None, fill_coats: int | None) -> list[FieldProblem]:
    if fill_coat is None and fill_coats:
        what = f"nothing given for {fill_coats} fill coat{'s' if fill_coats > 1 else ''}"
        return [FieldProblem("fill_coat", what, f"give the weight of one, commonly {_FILL_COAT} (common practice)")]
    return []


def _face(area: Quantity | None, length: Quantity | None, width: Quantity | None) -> tuple[float, str]:
    """Return the area of the face in m² and its working line."""
    if length is not None and width is not None:
        m, n = length.value_in("m"), width.value_in("m")
        return m * n, f"face = {sig(m)} m × {sig(n)} m = {sig(m * n)} m²"
    assert area is not None
    return area.value_in("m²"), f"face = {sig(area.value_in('m²'))} m²"


def _cautions(glass: float, seal: float, fill: float, extra: float, offcut: float, total: float) -> tuple[str, ...]:
    said = []
    if glass > _BY_HAND.value:
        said.append(
            f"{sig(glass, 3)} % glass is more than careful hand work reaches (45 to 50 %, common practice): the cloth may stay "
            "dry; mix for 45 % unless it goes under vacuum"
        )
    elif glass < _WET.value:
        said.append(
            f"{sig(glass, 3)} % glass is wetter than beginners' cloth work (35 to 40 %, common practice; chopped mat 25 to "
            "30 %): squeegee off what floats the cloth, it adds weight and no strength"
        )
    if seal == 0 and fill == 0:
        said.append(
            f"no seal and no fill coats counted: on bare ply with the weave filled they take more than the cloth itself; count "
            f"a seal coat (commonly {_SEAL_COAT}) and two or three fill coats (commonly {_FILL_COAT} each; common practice)"
        )
    elif seal == 0:
        said.append(
            f"no seal coat counted: bare ply or softwood commonly drinks {_SEAL_COAT} and starves the cloth (common practice)"
        )
    elif fill == 0:
        said.append(f"no fill coats counted: filling the weave commonly takes two or three of {_FILL_COAT} (common practice)")
    if extra == 0:
        said.append(f"no loss counted: cup, roller and squeegee commonly keep {_LOSS} (common practice); count 10 % loss")
    if offcut == 0:
        said.append(
            "no trim counted: cloth cut to the very edge frays and falls short; commonly 10 % (common practice): count 10 % trim"
        )
    if total > _BIG_POT.value:
        said.append(
            f"{total:.0f} g is the sum of all coats; in one pot it goes off early: mix coat by coat in small pots, see potlife"
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="laminate", title="Cloth and epoxy for a face",
    inputs=(
        Field("area", "Area of the face", Measure("m²", low=0.0001, high=500, soft_low=0.01, soft_high=30),
            help="Or give length and width."),
        Field("length", "Length of the face", Measure("mm", low=1, high=50_000, soft_low=50, soft_high=6_000)),
        Field("width", "Width of the face", Measure("mm", low=1, high=50_000, soft_low=50, soft_high=3_000)),
        Field("cloth", "Areal weight of the dry cloth, one ply", Measure("g/m²", low=10, high=3_000, soft_low=25,
            soft_high=1_000), help="As sold, in g/m² or oz/yd²: 6 oz/yd² is 203 g/m².", required=True),
        Field("plies", "Plies of this cloth", Count(1, 50), default="1"),
        Field("glass_content", "Glass in the laminate, by mass", _GlassContent("%", low=10, high=80, soft_low=25, soft_high=60),
            help="Mass of glass ÷ mass of laminate; 45, 45 % or 0.45. Typical of careful hand work on flat cloth: 45 to 50 %.",
            default="45 %"),
        Field("seal_coat", "Seal coat on the bare face", Measure("g/m²", low=0, high=1_000, soft_high=300),
            help=f"Commonly {_SEAL_COAT} on bare ply (common practice).", default="0 g/m²"),
        Field("fill_coat", "One fill coat over the weave", Measure("g/m²", low=1, high=1_000, soft_low=50, soft_high=200),
            help=f"Commonly {_FILL_COAT} (common practice)."),
        Field("fill_coats", "Number of fill coats", Count(0, 20), help="One when only fill_coat is given."),
        Field("trim", "Cloth cut off, added to the face", Measure("%", low=0, high=200, soft_high=50),
            help="Commonly 10 % on flat panels (common practice).", default="0 %"),
        Field("loss", "Mix lost, added to the sum of all coats", Measure("%", low=0, high=100, soft_high=30),
            help=f"Stays in cup, roller and squeegee: commonly {_LOSS} (common practice).", default="0 %"),
        Field("glass_density", "Density of the glass", Measure("g/mL", low=1, high=4, soft_low=2.4, soft_high=2.7),
            help="Typical of E-glass: 2.54 to 2.56 g/mL.", default="2.56 g/mL"),
        Field("epoxy_density", "Density of the cured epoxy", Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.3),
            help="Typical of cured epoxy: 1.10 to 1.20 g/mL; use your data sheet.", default="1.20 g/mL"),
    ),
    outputs=(
        Output("mix", "Epoxy to mix for all coats, loss included", "g", 0),
        Output("wet_out", "Of that: wetting out the cloth, before loss", "g", 0),
        Output("seal", "Of that: seal coat, before loss", "g", 0),
        Output("fill", "Of that: all fill coats, before loss", "g", 0),
        Output("cloth_mass", "Cloth, trim included", "g", 0),
        Output("cloth_area", "Cloth, trim included", "m²", 2),
        Output("thickness", "Thickness of the laminate, without seal and fill coats", "mm", 2),
        Output("fibre_volume", "Glass by volume in the laminate, a fraction", "", 3),
        Output("areal_weight", "Areal weight of the laminate, glass and its epoxy", "g/m²", 0),
        Output("density", "Density of the laminate", "g/mL", 2),
        Output("weight_added", "Areal weight with seal and fill coats", "g/m²", 0),
        Output("film", "Thickness of all fill coats together", "mm", 2),
    ),
    source=(
        Source("thickness, fibre volume, density: rule of mixtures on masses and densities", "computed"),
        Source("same thickness as ISO 12215-5 annex C, seen in a public transcription of its formula (secondary)", "read"),
        Source("glass content, coat weights, trim and loss: trade habit; typical: use your data sheet and your scale",
            "common practice"),
        Source("E-glass 2.54 to 2.56, cured epoxy 1.10 to 1.20 g/mL; typical: use your data sheet", "memory"),
    ),
    valid="Void-free laminate of one kind of cloth, glass content 10 to 80 % by mass. For plies of different glass content run "
    "each kind and add masses and thicknesses: the content of a stack is Σw/Σ(w/ψ), never the mean of the contents. Hand "
    "laminates hold a few per cent of air and come out a little thicker.",
    examples=(
        Example({"length": "2.4 m", "width": "1.2 m", "cloth": "200 g/m²", "glass_content": "45 %", "seal_coat": "120 g/m²",
            "fill_coat": "110 g/m²", "fill_coats": "2", "trim": "10 %", "loss": "10 %"}, {"cloth_mass": 633.6, "wet_out": 774.4,
            "seal": 345.6, "fill": 633.6, "mix": 1928.96, "weight_added": 784.44, "film": 0.183333},
            Source("take-off for one face of a 1.2 × 2.4 m panel, summed by arithmetic from common coat weights", "computed"),
            rel=1e-3),
        Example({"area": "1 m²", "cloth": "0.3 kg/m²", "glass_content": "0.30"}, {"thickness": 0.700521},
            Source("t = w/3.072 (2.56/ψ − 1.36) of ISO 12215-5 annex C, from a public transcription (secondary): mat",
            "computed"), rel=1e-3),
        Example({"area": "1 m²", "cloth": "6 oz/yd²", "glass_content": "50"}, {"cloth_mass": 203.0, "areal_weight": 406.0},
            Source("public table of weights and measures: 6.0 oz/yd² = 203 g/m², doubled at equal masses", "read"), abs=2.0,
            rel=0),
    ),
    compute=_compute, thresholds=(_BY_HAND, _WET, _BIG_POT),
)  # fmt: skip
