"""Filler for a pot of mixed epoxy, by consistency: grams to weigh, and density and volume of the thickened mix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem
from shopmate.models import fillers
from shopmate.models.fields import given, refuse
from shopmate.models.fillers import CONSISTENCIES, usual
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.units import Quantity

_TRUST = 0.5
"""Tolerance of the amounts in the table, as a share [common practice: judge by how the mix sags]."""

_EPOXY_DENSITY = "1.10 g/mL"
"""Density of mixed epoxy, usually 1.08 to 1.15 g/mL [memory; the data sheet overrides it]."""

_AIR = (3.0, 10.0)
"""How much stirred-in air lowers the density of a thickened mix, in % [memory]."""

_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "in one pot heats up", "epoxy", "500 g", "500.1 g")


def _falls_to(row: Mapping[str, str], loading: float) -> str:
    """Return the usual consistency at `loading` (% of the mixed epoxy)."""
    thinner = ""
    for name in CONSISTENCIES:
        low, high = usual(row, name)
        if loading < low:
            return f"between {thinner} and {name}" if thinner else f"thinner than {name}"
        if loading <= high:
            return name
        thinner = name
    return f"drier than {thinner}"


def _mixture(parts: Sequence[tuple[float, float, str]]) -> tuple[dict[str, float], list[str]]:
    """Return the mass in g, volume in mL and density of the mix, without and with air, and the working.

    A part is its mass in g, the density of its particles in g/mL, and its name.
    """
    total = sum(mass for mass, _, _ in parts)
    volume = sum(mass / density for mass, density, _ in parts)
    density = total / volume
    sums = " + ".join(f"{mass:.2f}/{each:.4g}" for mass, each, _ in parts)
    # With the most or the least air: the lowest density goes with the largest volume.
    thin, full = (1 - air / 100 for air in _AIR)
    return {
        "total": total,
        "density": density,
        "volume": volume,
        "density_low": density * full,
        "density_high": density * thin,
        "volume_low": volume / thin,
        "volume_high": volume / full,
    }, [
        f"volume = Σ mass ÷ particle density ({', '.join(name for _, _, name in parts)}) = {sums} = {volume:.2f} mL",
        f"density = {total:.2f} g ÷ {volume:.2f} mL = {density:.4g} g/mL without air",
        f"stirred-in air usually lowers the density by {_AIR[0]:g} to {_AIR[1]:g} %: {density * full:.3f} to "
        f"{density * thin:.3f} g/mL, {volume / thin:.1f} to {volume / full:.1f} mL",
    ]


def _heap_lines(heap: tuple[float, float] | None) -> list[str]:
    if heap is None:
        return []
    about = f"{heap[0]:.0f} mL" if heap[0] == heap[1] else f"{heap[0]:.0f} to {heap[1]:.0f} mL"
    return [f"loose filler, before it is wetted out: about {about}; choose a cup that holds it"]


def _compute(
    *,
    epoxy: Quantity,
    filler: str,
    consistency: str | None,
    loading: Quantity | None,
    silica: Quantity | None,
    use: str | None,
    epoxy_density: Quantity,
    particle_density: Quantity | None,
) -> Answer:
    row = fillers.row(filler)
    what = "the filler is already fumed silica"
    refuse(
        *_one_amount(row, consistency, loading),
        *(given({"silica": silica}, what, "leave it blank and enter consistency or loading") if filler == "fumed silica" else []),
        *_no_spheres(row, use),
        *_no_heap(row, particle_density),
    )
    mixed, rho = epoxy.value_in("g"), epoxy_density.value_in("g/mL")
    grain = float(row["particle_g_ml"]) if particle_density is None else particle_density.value_in("g/mL")
    percent, span, working = _loading(row, consistency, loading)
    weighed = mixed * percent / 100
    working.append(f"filler = {mixed:.2f} g mixed epoxy × {percent:.4g} % = {weighed:.2f} g, stirred in after mixing")
    fumed, lines = _silica(row, mixed, silica)
    working += lines
    # By particle density: a heap is mostly air, which the epoxy fills.
    parts = [(mixed, rho, "epoxy"), (weighed, grain, filler)]
    if fumed:
        parts.append((fumed, float(fillers.row("fumed silica")["particle_g_ml"]), "fumed silica"))
    mixture, lines = _mixture(parts)
    working += lines
    heap = _heap(row, weighed)
    working += _heap_lines(heap)
    amounts = span and (mixed * span[0] / 100, mixed * span[1] / 100)
    stirred = amounts and (amounts[0] * (1 - _TRUST), amounts[1] * (1 + _TRUST))
    return Answer(
        {
            "filler": weighed,
            "silica": fumed,
            "filler_low": amounts and amounts[0],
            "filler_high": amounts and amounts[1],
            "loading": percent,
            "consistency": _falls_to(row, percent) if consistency is None else consistency,
            **mixture,
            "heap_low": heap and heap[0],
            "heap_high": heap and heap[1],
            "start_with": stirred and stirred[0],
            "at_hand": stirred and stirred[1],
            "silica_loading": None if fumed is None else fumed / mixed * 100,
        },
        tuple(working),
        (
            *_use_cautions(row),
            *_amount_cautions(stirred, row, percent),
            *_silica_cautions(row, mixed, fumed),
            *_pot_cautions(mixed, row),
            fillers.DUST,
            "the filler is a share of the MIXED epoxy: stir it in after mixing. The pot life runs from the first drop of "
            "hardener",
        ),
    )


def _heap(row: Mapping[str, str], weighed: float) -> tuple[float, float] | None:
    """Return the range in mL of the loose filler; None if the table does not say."""
    if not row["bulk_low_g_ml"]:
        return None
    return weighed / float(row["bulk_high_g_ml"]), weighed / float(row["bulk_low_g_ml"])


def _loading(
    row: Mapping[str, str], consistency: str | None, loading: Quantity | None
) -> tuple[float, tuple[float, float] | None, list[str]]:
    """Return the filler in % of the mixed epoxy, the usual range for the consistency, and the working."""
    if consistency is None:
        assert loading is not None
        return loading.value_in("%"), None, []
    low, high = usual(row, consistency)
    percent = (low + high) / 2
    line = f"{consistency} with {row['filler']}: usually {low:g} to {high:g} g per 100 g of mixed epoxy; middle {percent:g} g"
    return percent, (low, high), [line]


def _silica(row: Mapping[str, str], mixed: float, silica: Quantity | None) -> tuple[float | None, list[str]]:
    """Return the extra fumed silica in g, as entered or as usual against settling, and its working; None if there is none."""
    if silica is not None:
        share = silica.value_in("%")
        fumed = mixed * share / 100
        return fumed, [f"fumed silica = {mixed:.2f} g mixed epoxy × {share:.4g} % = {fumed:.2f} g"]
    if not row["silica_low_g"]:
        return None, []
    least, most = usual(row, "silica")
    share = (least + most) / 2
    fumed = mixed * share / 100
    return fumed, [
        f"fumed silica against settling: usually {least:g} to {most:g} g per 100 g of mixed epoxy; middle: {mixed:.2f} g × "
        f"{share:g} % = {fumed:.2f} g"
    ]


def _one_amount(row: Mapping[str, str], consistency: str | None, loading: Quantity | None) -> list[FieldProblem]:
    if consistency is None and loading is None:
        commonly = ", ".join("{1:g} to {2:g} % {0}".format(name, *usual(row, name)) for name in CONSISTENCIES)
        fix = f"choose {', '.join(CONSISTENCIES)}, or enter the loading; for {row['filler']} usually {commonly}"
        return [FieldProblem("consistency", "nothing entered, and no loading", fix)]
    if consistency is not None and loading is not None:
        return [FieldProblem("loading", "entered together with consistency", "enter only one of them; the other follows from it")]
    return []


def _no_spheres(row: Mapping[str, str], use: str | None) -> list[FieldProblem]:
    if use != "structural" or row["use"] == "structural":
        return []
    able = ", ".join(other["filler"] for other in tables.load("fillers").rows if other["use"] == "structural")
    what = f"{row['filler']} are for fairing only: they are hollow, and crush and break out under load"
    return [FieldProblem("filler", what, f"for a fillet or a bond line use {able}")]


def _no_heap(row: Mapping[str, str], density: Quantity | None) -> list[FieldProblem]:
    """Return a problem if a density can only be the bulk density: less than half that of the lightest usual particle."""
    least = float(row["particle_low_g_ml"])
    if density is None or density.value_in("g/mL") >= least / 2:
        return []
    what = f"{units.show(density)} is the bulk density, mostly air, not that of the particles of {row['filler']}"
    return [FieldProblem("particle_density", what, f"enter the particle density, usually {row['particle_g_ml']} g/mL")]


def _use_cautions(row: Mapping[str, str]) -> list[str]:
    if row["filler"] == "fumed silica":
        return ["fumed silica cures hard to sand: shape it while wet, and use phenolic spheres or glass bubbles for fairing"]
    return fillers.fairing_only(row)


def _amount_cautions(stirred: tuple[float, float] | None, row: Mapping[str, str], percent: float) -> list[str]:
    """Return the caution on the tolerance of an amount; `stirred` is how many g to start with and to have ready."""
    if stirred is not None:
        first, last = stirred
        return [
            f"the amounts are common practice, within {_TRUST * 100:g} %: stir in {units.significant(first, 3)} g, then add "
            f"more until a dab on a stick stands the way you want it. Have {units.significant(last, 3)} g at hand, and write "
            "down how much you used"
        ]
    most = usual(row, "non-sag")[1]
    if percent > most:
        return [
            f"{percent:.3g} % {row['filler']} is more than the {most:g} % that usually gives a non-sag mix (common practice, "
            f"within {_TRUST * 100:g} %): it may be too dry to wet the panel, so brush plain epoxy on the faces first"
        ]
    return []


def _silica_cautions(row: Mapping[str, str], mixed: float, fumed: float | None) -> list[str]:
    most = 0.0
    if row["silica_low_g"]:
        least, most = usual(row, "silica")
        if not fumed:
            return [f"without silica {row['filler']} settles: add {least:g} to {most:g} % fumed silica (common practice)"]
    if fumed and fumed > mixed * most / 100:
        alone = _falls_to(fillers.row("fumed silica"), fumed / mixed * 100)
        return [
            f"{fumed / mixed * 100:.3g} % fumed silica thickens the mix too (by itself it would be {alone}, common practice): "
            f"stir it in first, then add less {row['filler']} than shown, judging by how the mix sags"
        ]
    return []


def _pot_cautions(mixed: float, row: Mapping[str, str]) -> list[str]:
    if mixed <= _BIG_POT.value:
        return []
    spheres = "; hollow spheres hold the heat in as well" if row["use"] == "fairing" else ""
    return [
        f"{mixed:.0f} g of epoxy in one pot heats up, goes off early and may smoke (common practice){spheres}: split it "
        "before you add hardener, or spread it out at once; see the potlife calculator"
    ]


_IDENTITY = Source("density = Σm/Σ(m/ρ) with particle densities: rule of mixtures, arithmetic", "computed")

CALCULATOR = Calculator(
    name="thicken", title="Grams of filler to thicken a pot of epoxy",
    inputs=(
        Field("epoxy", "Mixed epoxy", Measure("g", above=0, high=50_000, soft_low=5, soft_high=1_000),
            "Resin plus hardener in the pot.", required=True),
        Field("filler", "Filler", Choice(fillers.names), required=True),
        Field("consistency", "Consistency", Choice(CONSISTENCIES),
            "Brushable runs off the stick, spreadable sags slowly, non-sag stands. Or enter a loading."),
        Field("loading", "Filler loading, % of the mixed epoxy", Measure("%", above=0, high=300, soft_low=1, soft_high=60),
            "By weight: 30 % is 30 g per 100 g of mixed epoxy. Or choose a consistency."),
        Field("silica", "Extra fumed silica, %", Measure("%", low=0, high=50, soft_high=9),
            "By weight of the mixed epoxy. Blank: 3 % with milled or chopped glass, otherwise none."),
        Field("use", "Use", Choice(("structural", "fairing")),
            "Structural is a fillet or bond line that carries load; hollow spheres are not allowed there."),
        Field("epoxy_density", "Density, mixed epoxy", Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.25),
            "Typical. Use your data sheet, or the density from the mix calculator.", default=_EPOXY_DENSITY),
        Field("particle_density", "Density, filler particles", Measure("g/mL", low=0.05, high=5, soft_low=0.1, soft_high=3),
            "Particle density, not bulk density, from the filler's data sheet. Blank: a typical one."),
    ),
    outputs=(
        Output("filler", "Filler", "g", 1),
        Output("silica", "Extra fumed silica", "g", 1),
        Output("filler_low", "Filler, usual minimum", "g", 1),
        Output("filler_high", "Filler, usual maximum", "g", 1),
        Output("total", "Total mix", "g", 1),
        Output("volume", "Volume without air", "mL", 0),
        Output("density", "Density without air", "g/mL", 2),
        Output("density_low", f"Density with {_AIR[1]} % air", "g/mL", 2),
        Output("density_high", f"Density with {_AIR[0]} % air", "g/mL", 2),
        Output("consistency", "Usual consistency"),
        Output("loading", "Filler, % of the epoxy", "%", 1),
        Output("start_with", "Stir in first", "g", 1),
        Output("at_hand", "Filler to have at hand", "g", 1),
        Output("heap_low", "Loose filler volume, min", "mL", 0),
        Output("heap_high", "Loose filler volume, max", "mL", 0),
        Output("volume_low", f"Volume with {_AIR[0]} % air", "mL", 0),
        Output("volume_high", f"Volume with {_AIR[1]} % air", "mL", 0),
        Output("silica_loading", "Silica, % of the epoxy", "%", 1),
    ),
    source=(
        _IDENTITY,
        Source("loadings from the table of fillers, within 50 %: judge by how the mix sags", "common practice"),
        Source("particle and bulk densities from the table, epoxy 1.10 g/mL, air 3 to 10 %: typical, use your data sheet",
            "memory"),
    ),
    valid="Dry filler in freshly mixed epoxy, up to a stiff paste. Density and volume are without stirred-in air, so a fillet "
    "worked out with that density is never short of mix; the mix usually contains 3 to 10 % air. Cold "
    "epoxy is thicker and needs less filler. The data sheets for epoxy and filler override every figure here.",
    examples=(
        Example({"epoxy": "100 g", "filler": "glass bubbles", "loading": "20 %", "epoxy_density": "1.15",
            "particle_density": "0.20"}, {"filler": 20, "total": 120, "density": 0.64186, "volume": 186.957,
            "volume_low": 192.739, "volume_high": 207.73, "consistency": "spreadable"}, _IDENTITY, rel=1e-5),
        Example({"epoxy": "100 g", "filler": "fumed silica", "loading": "6 %", "epoxy_density": "1.10"}, {"total": 106,
            "density": 1.13204, "volume": 93.6364, "consistency": "non-sag"}, _IDENTITY, rel=1e-5),
        Example({"epoxy": "100 g", "filler": "wood flour", "loading": "30 %", "silica": "2 %", "epoxy_density": "1.10"},
            {"silica": 2, "total": 132, "density": 1.180}, _IDENTITY, rel=0, abs=0.0005),
        Example({"epoxy": "250 g", "filler": "milled glass", "consistency": "non-sag"}, {"filler_low": 87.5, "filler_high": 125,
            "filler": 106.25, "silica": 7.5, "silica_loading": 3, "total": 363.75, "start_with": 43.75, "at_hand": 187.5},
            Source("35 to 50 g milled glass with 2 to 4 g fumed silica per 100 g of mixed epoxy", "common practice")),
    ),
    asked=("epoxy", "filler", "consistency|loading"),
    compute=_compute, thresholds=(_BIG_POT,),
)  # fmt: skip
