"""How far two materials fixed to each other move apart with heat and moisture: total, at each end, and which ends up longer."""

from __future__ import annotations

import re
from fractions import Fraction

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Either, Example, Field, Measure, Output, Source
from shopmate.errors import EntryError, FieldProblem, InputError
from shopmate.models.fields import round_up
from shopmate.models.movement import ELASTIC_ADHESIVE, FOAM_TAPE
from shopmate.records import dataclass
from shopmate.tables.solids import find, solids
from shopmate.units import Quantity
from shopmate.units import significant as sig

_ALONG, _ACROSS = "along grain", "across grain"
"""Directions that follow the name of a wood, which expands about eight times as much across the grain as along it."""

_RADIAL, _TANGENTIAL = "wood radial", "wood tangential"
"""Wood across the grain, worked out from its specific gravity: across the growth rings (quartersawn) or along them (flatsawn)."""

_BY_GRAVITY = {_RADIAL: 9.9, _TANGENTIAL: 18.4}
"""Expansion across the grain in µm/m·K is 32.4 G plus this, for oven-dry G of 0.1 to 0.8 (Wood Handbook) [memory]."""

_PER_GRAVITY = 32.4
"""Factor of G in that formula, µm/m·K [memory]."""

_PER_K_OF_PER_F = Fraction(9, 5)
"""Multiply a coefficient per °F by this to get it per K: a difference of 1 K is one of 1.8 °F [computed]."""

_SWELLING_ACROSS = 0.0034
"""Movement of wood across the grain per % of moisture: yellow birch tangential 0.00338 (Wood Handbook Table 13-5) [read]; a
high figure in that table, where Douglas-fir has 0.00267."""

_SEASON = 4.0
"""Change of moisture in % over a year in sheltered wood [common practice]."""

_SEEN = 0.005
"""Smallest movement in mm that two decimals show. No Threshold needed: it is half the last decimal [computed]."""


class _Coefficient(Measure):
    """A coefficient of expansion, also as books write it: '23e-6 1/K', '13 x 10^-6 per °F', '3.4 µin/in·°F'."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        match = _WRITTEN.fullmatch(" ".join(text.split()).replace("μ", "µ").replace("º", "°"))
        if match is None or not (match["power"] or match["fahrenheit"]) or (match["power"] and match["micro"]):
            return super().read(text)
        number = units.parse_number(match["number"])
        millionths = number if match["power"] or match["micro"] else number * 10**6
        if match["fahrenheit"]:
            millionths *= _PER_K_OF_PER_F
        return super().read(units.show(Quantity(millionths, "µm/m·K")))

    def describe(self, unit: str = "") -> str:
        return f"{super().describe(unit)}; or '23e-6 1/K', '13e-6 1/°F'"


_WRITTEN = re.compile(
    r"(?P<number>[0-9.,/]+) ?(?P<power>e-6|[x×*] ?10 ?(?:\^ ?-6|\*\* ?-6|⁻⁶))? ?"
    r"(?:(?P<micro>[µu](?:in/in|m/m)|ppm)|in/in|m/m|mm/mm|1)? ?(?:/|·|per|\*)? ?"
    r"(?:(?P<fahrenheit>°? ?F|deg ?F)|K|°? ?C|deg ?C)",
    re.IGNORECASE,
)
"""How books write a coefficient: a number, in millionths or as length per length, per kelvin or degree."""


class _SolidInDirection(Choice):
    """A solid from the table, and for wood its grain direction; other common names are accepted too."""

    __slots__ = ()

    def read(self, text: str) -> str:
        try:
            return super().read(text)
        except EntryError as unknown:
            plain = re.sub(r" ?(?:the )?grain$", "", " ".join(text.lower().split()))
            direction = next((way for way in (_ALONG, _ACROSS) if plain.endswith(way.split()[0])), "")
            base = plain.removesuffix(direction.split()[0]).strip() if direction else plain
            try:
                solid = find(base)
            except EntryError:
                raise unknown from None
        if solid.along is None:
            raise EntryError(
                f"the table has no expansion for {solid.name}",
                f"use softwood or hardwood {_ALONG} or {_ACROSS}" if solid.kind == "wood" else "enter its coefficient, in µm/m·K",
            )
        if solid.across is None:
            return solid.name
        if not direction:
            raise EntryError(f"{text} needs a grain direction", f"enter {solid.name} {_ALONG} or {solid.name} {_ACROSS}")
        return f"{solid.name} {direction}"


@dataclass(frozen=True, slots=True)
class _Expansion:
    """One material: lowest and highest published coefficient in µm/m·K, whether it is wood, modulus in GPa."""

    name: str
    low: float
    high: float
    wood: bool = False
    across: bool = False
    modulus: float | None = None


_STILL = _Expansion("a base that does not move", 0.0, 0.0)


def _names() -> tuple[str, ...]:
    found = []
    for solid in solids():
        if solid.along is not None:
            found += [solid.name] if solid.across is None else [f"{solid.name} {_ALONG}", f"{solid.name} {_ACROSS}"]
    return (*found, _RADIAL, _TANGENTIAL)


def _expansion(material: str | Quantity | None, gravity: float | None) -> _Expansion:
    if material is None:
        return _STILL
    if isinstance(material, Quantity):
        figure = material.value_in("µm/m·K")
        return _Expansion(f"{units.significant(figure)} µm/m·K", figure, figure)
    if material in _BY_GRAVITY:
        assert gravity is not None
        figure = _PER_GRAVITY * gravity + _BY_GRAVITY[material]
        return _Expansion(material, figure, figure, wood=True, across=True)
    base = material.removesuffix(f" {_ALONG}").removesuffix(f" {_ACROSS}")
    solid = find(base)
    across = material.endswith(_ACROSS)
    low_high = solid.across if across else solid.along
    assert low_high is not None
    return _Expansion(material, *low_high, solid.kind in ("wood", "sheet"), across, None if across else solid.modulus)


def _compute(
    *,
    length: Quantity,
    dt: Quantity,
    material_a: str | Quantity,
    material_b: str | Quantity | None,
    fixed: str,
    gravity: Quantity | None,
    moisture_change: Quantity | None,
    swelling: Quantity | None,
    modulus: Quantity | None,
) -> Answer:
    problems = [*_gravity_problems(gravity, material_a, material_b), *_moisture_problems(moisture_change, swelling)]
    if problems:
        raise InputError(*problems)
    g = gravity.value_in("") if gravity else None
    a, b = _expansion(material_a, g), _expansion(material_b, g)
    run, change = length.value_in("mm"), dt.value_in("K")

    used_a, used_b = _farthest_apart(a, b)
    difference = abs(used_a - used_b)
    least = 0.0 if a.name == b.name else max(0.0, a.low - b.high, b.low - a.high)
    # A negative change times no difference is −0.0, and that must not read as shrinkage.
    movement, surely = (apart * 1e-6 * run * change + 0.0 for apart in (difference, least))
    moisture, moisture_lines = _by_moisture(run, moisture_change, swelling)
    together, longer, together_lines = _together(a, b, movement, moisture)
    stress, stress_lines = _held_rigid(modulus.value_in("GPa") if modulus else a.modulus, a.high, change)
    worst = abs(movement) + abs(moisture or 0.0)
    joint = worst / 2 if fixed == "middle" else worst

    working = [
        f"a = {_told(a, used_a)}; b = {_told(b, used_b)}",
        f"movement = |a − b| × length × dt = |{sig(used_a)} − {sig(used_b)}| × 10⁻⁶ × {sig(run, 6)} mm × {_signed(change)} K "
        f"= {_two(movement)} mm",
    ]
    if least < difference:
        working.append(
            f"smallest movement in any source = {sig(least)} × 10⁻⁶ × {sig(run, 6)} mm × {_signed(change)} K = {_two(surely)} mm"
        )
    if fixed == "middle":
        working.append(f"each end = movement / 2 = {_two(movement / 2)} mm, since the parts are fixed at mid-length")
    return Answer(
        values={
            "movement": movement,
            "movement_each_end": movement / 2 if fixed == "middle" else None,
            "moisture_movement": moisture,
            "movement_worst": None if moisture is None else worst,
            "movement_together": together,
            "longer": longer,
            "moves_more": _moves_more(a, b),
            "coefficient_a": used_a,
            "coefficient_b": used_b,
            "stress": stress,
            "movement_least": surely,
            "joint": joint,
            "elastic": ELASTIC_ADHESIVE.thickness(joint),
            "tape": FOAM_TAPE.thickness(joint),
            "season": run * _SWELLING_ACROSS * _SEASON if a.across or b.across else None,
        },
        working=(*working, *moisture_lines, *together_lines, *stress_lines, *_soft(joint)),
        cautions=tuple(_cautions(a, b, fixed, joint, moisture, run)),
    )


def _two(movement: float) -> str:
    """Return mm to two decimals; a smaller movement to two digits, so that it never prints as zero."""
    text = f"{abs(movement):.2f}" if abs(movement) >= _SEEN or not movement else sig(abs(movement), 2)
    return f"−{text}" if movement < 0 else text


def _signed(change: float) -> str:
    """Return a change of temperature or moisture as text, a negative one in brackets."""
    return sig(change) if change >= 0 else f"(−{sig(-change)})"


def _soft(joint: float) -> list[str]:
    """Return the working lines for the thickness of a soft joint that absorbs `joint` mm of movement."""
    if not joint:
        return []
    return [
        f"thickness of {kind.name} = {_two(joint)} mm ÷ {kind.shear:g} = {_two(kind.thickness(joint))} mm ({kind.rule})"
        for kind in (ELASTIC_ADHESIVE, FOAM_TAPE)
    ]


def _by_moisture(run: float, change: Quantity | None, swelling: Quantity | None) -> tuple[float | None, list[str]]:
    """Return the movement by moisture of `run` mm, in mm, negative for drying, with its working; None if no change of moisture
    was entered."""
    if change is None or swelling is None:
        return None, []
    each, percent = swelling.value_in(""), change.value_in("%")
    moisture = run * each * percent + 0.0
    return moisture, [
        f"moisture = length × coefficient × change = {sig(run, 6)} mm × {sig(each, 6)} × {_signed(percent)} % "
        f"= {_two(moisture)} mm"
    ]


def _together(
    a: _Expansion, b: _Expansion, movement: float, moisture: float | None
) -> tuple[float | None, str | None, list[str]]:
    """Return in mm how far heat and moisture together move the two apart, which ends up longer, and the working.

    Heat moves the material that expands more, moisture the wood. If both move the same material the movements add, signs
    included, otherwise they oppose. None where the sources or the fields don't say which material moves.
    """
    more, wood = _moves_more(a, b), _swells(a, b)
    if (movement and more is None) or (moisture and wood is None):
        why = "moves more with heat" if movement and more is None else "swells"
        return (
            None,
            None,
            [f"heat and moisture together: not worked out, because it is not known which one {why}"]
            if moisture is not None
            else [],
        )
    heat = movement if more == a.name else -movement
    damp = 0.0 if moisture is None else moisture if wood == a.name else -moisture
    ahead = heat + damp
    longer = (a.name if ahead > 0 else b.name) if ahead else None
    if moisture is None:
        return None, longer, []
    both = f"{_two(heat)} {'−' if damp < 0 else '+'} {_two(abs(damp))}"
    line = f"how much longer the first ends up, heat and moisture = {both} = {_two(ahead)} mm"
    return abs(ahead), longer, [line, f"worst case, heat and moisture opposing = {_two(abs(heat) + abs(damp))} mm"]


def _swells(a: _Expansion, b: _Expansion) -> str | None:
    """Return which of the two swells with moisture: the wood, or the first if there is no second; None if both or neither do."""
    if b is _STILL:
        return a.name
    if a.wood == b.wood:
        return None
    return a.name if a.wood else b.name


def _held_rigid(stiffness: float | None, coefficient: float, change: float) -> tuple[float | None, list[str]]:
    """Return the stress in MPa of a part that cannot move, with its working; from GPa, µm/m·K and K, None without a modulus."""
    if stiffness is None:
        return None, []
    stress = stiffness * 1000 * coefficient * 1e-6 * abs(change)
    return stress, [
        f"stress in a, if it cannot move = E × a × dt = {sig(stiffness)} GPa × {sig(coefficient)} × 10⁻⁶ × {sig(abs(change))} K "
        f"= {stress:.1f} MPa, {'in tension as it cools' if change < 0 else 'in compression as it warms'}"
    ]


def _farthest_apart(a: _Expansion, b: _Expansion) -> tuple[float, float]:
    """Return the coefficients to use, in µm/m·K: the pair that lies farthest apart within the published ranges.

    Two parts of one material move alike, wherever in its range that material lies.
    """
    if a.name == b.name:
        return a.high, b.high
    return (a.high, b.low) if a.high - b.low >= b.high - a.low else (a.low, b.high)


def _moves_more(a: _Expansion, b: _Expansion) -> str | None:
    """Return the one that moves more by every source, None if the sources disagree."""
    if a.low > b.high:
        return a.name
    return b.name if b.low > a.high else None


def _gravity_problems(gravity: Quantity | None, *materials: str | Quantity | None) -> list[FieldProblem]:
    wanted = [name for name in materials if isinstance(name, str) and name in _BY_GRAVITY]
    if wanted and gravity is None:
        return [FieldProblem("gravity", f"needed for {wanted[0]}", "enter the specific gravity of the wood, such as 0.48")]
    if gravity is not None and not wanted:
        return [FieldProblem("gravity", "neither material uses it", f"choose {_RADIAL} or {_TANGENTIAL}, or leave this blank")]
    return []


def _moisture_problems(change: Quantity | None, swelling: Quantity | None) -> list[FieldProblem]:
    if (change is None) == (swelling is None):
        return []
    missing, like = ("moisture_change", "4 %") if change is None else ("swelling", "0.0027 for Douglas-fir, tangential")
    return [FieldProblem(missing, "missing", f"moisture needs both the change and the swelling: enter this too, such as {like}")]


def _told(material: _Expansion, used: float) -> str:
    """Return the coefficient used for a material, its name, and the range of the sources."""
    if material is _STILL:
        return material.name
    if material.low == material.high:
        return f"{sig(used)} µm/m·K ({material.name})"
    return f"{sig(used)} µm/m·K ({material.name}: sources {sig(material.low)} to {sig(material.high)})"


def _cautions(a: _Expansion, b: _Expansion, fixed: str, joint: float, moisture: float | None, run: float) -> list[str]:
    said = []
    both = (a, b)
    apart = [f"{item.name} {sig(item.low)} to {sig(item.high)} µm/m·K" for item in both if item.low < item.high]
    if joint > 0:
        said += [
            f"Fix the part at mid-length and leave its ends free to slide: then each end moves no more than {_two(joint)} mm."
            if fixed == "middle"
            else f"With one end fixed, the other moves the whole {_two(joint)} mm: leave a gap, slot or soft joint there that "
            "is wide enough for all of it.",
            f"For a soft joint use elastic adhesive {_up(ELASTIC_ADHESIVE.thickness(joint))} mm thick ({ELASTIC_ADHESIVE.rule}) "
            f"or foam tape {_up(FOAM_TAPE.thickness(joint))} mm thick ({FOAM_TAPE.rule}; thicker where it moves every day). The "
            "data sheet overrides both. A thin rigid glue line would shear, peel at its ends or bow the panel.",
        ]
    if moisture is None and any(item.across for item in both):
        said.append(
            "Moisture is not included, and across the grain it moves wood more than heat does: a change of "
            f"{_SEASON:.0f} % moves {sig(run)} mm of wood by up to {_two(run * _SWELLING_ACROSS * _SEASON)} mm "
            f"({_SWELLING_ACROSS} per %). Enter the change of wood moisture and the swelling."
        )
    elif moisture is None and any(item.wood for item in both):
        said.append(
            "Moisture is not included: it hardly moves wood along the grain, or plywood in its plane, but do seal the edges."
        )
    if apart:
        said.append(f"The sources differ: {', '.join(apart)}. The figures farthest apart are used; a data sheet overrides them.")
    if any(item.name in _BY_GRAVITY for item in both):
        said.append(
            "The specific-gravity formula comes out low: for Douglas-fir it gives 25 (radial) and 34 (tangential) µm/m·K, and "
            "others measured 27 and 38 to 45. Allow a quarter more across the grain."
        )
    return said


def _up(thickness: float) -> str:
    """Return mm rounded up to the hundredth, so that a joint this thick is thick enough."""
    return f"{round_up(thickness * 100) / 100:g}"


_KIND = Either(_SolidInDirection(_names), _Coefficient("µm/m·K", low=0.1, high=300, soft_low=2, soft_high=130))

CALCULATOR = Calculator(
    name="expansion", title="Movement with heat and moisture",
    inputs=(
        Field("length", "Length joined", Measure("mm", above=0, high=100_000, soft_low=20, soft_high=12_000),
            help="Measure in the direction it moves: for movement across the grain, the width of the board.", required=True),
        Field("dt", "Temperature change", Measure("K", low=-150, high=150, soft_low=-90, soft_high=90),
            help="From the day of bonding to the coldest night (−30 K, say), or to a dark face in hot sun (50 K).",
            required=True),
        Field("material_a", "First material", _KIND, help="The bar, for example. Or enter its coefficient.", required=True),
        Field("material_b", "Second material", _KIND, help="What the first is fixed to. Blank: a base that does not move."),
        Field("fixed", "Fixed at", Choice(("middle", "one end")), help="Where the two are fixed and cannot slide.",
            default="middle"),
        Field("gravity", "Specific gravity of the wood", Measure("", low=0.1, high=0.8, soft_low=0.3),
            help=f"For {_RADIAL} and {_TANGENTIAL} only."),
        Field("moisture_change", "Change of wood moisture", Measure("%", low=-24, high=24, soft_low=-8, soft_high=8),
            help="In % of moisture content: 8 % to 12 % is 4 %; 12 % to 8 % is −4 %, shrinkage."),
        Field("swelling", "Swelling per % of moisture", Measure("", low=0, high=0.01, soft_low=0.0005, soft_high=0.005),
            help="As a fraction of the width. Tangential: Douglas-fir 0.00267, yellow birch 0.00338."),
        Field("modulus", "Modulus of elasticity of the first", Measure("GPa", above=0, high=1000, soft_low=0.1, soft_high=250),
            help="Used for the stress if the part cannot move. Blank: a typical value, if the table has one."),
    ),
    outputs=(
        Output("movement", "Differential movement with heat (−: shrinks)", "mm", 2),
        Output("movement_each_end", "Heat movement at each end", "mm", 2),
        Output("longer", "Ends up longer"),
        Output("elastic", "Elastic adhesive, minimum thickness", "mm", 2),
        Output("tape", "Foam tape, minimum thickness", "mm", 2),
        Output("moisture_movement", "Movement with moisture (−: shrinks)", "mm", 2),
        Output("movement_together", "Heat and moisture together", "mm", 2),
        Output("movement_worst", "Heat and moisture opposing, worst case", "mm", 2),
        Output("joint", "Movement the joint must take", "mm", 2),
        Output("moves_more", "Moves more with heat"),
        Output("coefficient_a", "Coefficient used, first", "µm/m·K", 1),
        Output("coefficient_b", "Coefficient used, second", "µm/m·K", 1),
        Output("stress", "Stress in the first if it cannot move", "MPa", 1),
        Output("movement_least", "Smallest movement in any source", "mm", 2),
        Output("season", "Moisture movement over a year, up to", "mm", 2),
    ),
    source=(
        Source("movement (a1 − a2) L dT, stress E a dT: definitions of the coefficient and the modulus", "computed"),
        Source("coefficients: table of solids, each row with its sources; typical, so your data sheet comes first", "read"),
        Source("wood by specific gravity: 32.4 G + 9.9 radial, 32.4 G + 18.4 tangential, USDA Wood Handbook", "memory"),
        Source("moisture: width × coefficient × change, USDA Wood Handbook FPL-GTR-190 Table 13-5 (copy)", "read"),
        ELASTIC_ADHESIVE.source,
        FOAM_TAPE.source,
    ),
    valid="Both materials at the same temperature, free to move except where fixed; a glued joint moves less and is stressed "
    "instead. Moisture 6 to 14 %, where swelling is proportional; above about 28 % wood stops swelling. A coefficient per °F is "
    "multiplied by 1.8 to give it per K.",
    examples=(
        Example({"length": "2.0 m", "dt": "60 K", "material_a": "23 µm/m·K", "material_b": "3.5 µm/m·K"}, {"movement": 2.34,
            "movement_each_end": 1.17, "elastic": 2.34, "tape": 0.39},
            Source("aluminium 23e-6 (table after Gere), Douglas-fir along the grain 3.5e-6 (encyclopaedia table), multiplied out",
            "computed"), rel=0.005),
        Example({"length": "300 mm", "dt": "0 K", "material_a": "hardwood across grain", "moisture_change": "4 %",
            "swelling": "0.00338"}, {"moisture_movement": 4.056, "movement": 0.0, "movement_worst": 4.056},
            Source("USDA Wood Handbook FPL-GTR-190 Table 13-5, yellow birch tangential 0.00338", "computed"), rel=0.005),
        Example({"length": "1 m", "dt": "40 K", "material_a": "23e-6 1/K", "modulus": "69 GPa"}, {"stress": 63.48,
            "movement": 0.92}, Source("stress of a fully restrained bar E a dT; E 69 GPa from memory", "computed"), rel=0.01),
        Example({"length": "400 mm", "dt": "20 K", "material_a": "aluminium", "material_b": "softwood across grain",
            "moisture_change": "-4 %", "swelling": "0.00267"}, {"moisture_movement": -4.272},
            Source("USDA Wood Handbook FPL-GTR-190 Table 13-5, Douglas-fir tangential 0.00267, dried by 4 %", "computed"),
            rel=0.005),
    ),
    asked=("length", "dt", "material_a", "material_b"),
    compute=_compute,
)  # fmt: skip
