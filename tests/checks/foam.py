"""Cases answered by the calculator `foam`."""

from checks import text
from shopmate import calc

_ANY = {"density": "2 lb/ft³", "ratio": "1:1 by weight"}
"""A foam that the calculator asks for and the figure of the case does not depend on."""


def _outputs(**texts):
    return calc.run("foam", {**_ANY, **texts}).outputs


def _fill(given):
    got = _outputs(
        **{name: text(given[name]) for name in ("length", "width", "depth")},
        density=text(given["free_rise_density"]),
        packing=f"{given['packing']['value']}",
        waste=text(given["waste"]),
    )
    return {
        "volume": got["volume"].value_in("L"),
        "mass_in_place": got["in_place"].value_in("kg"),
        "mass_to_mix": got["to_mix"].value_in("kg"),
    }


def _split(given):
    # 1 L of 1 kg/m³ × packing 1 weighs 1 g: a foam of 20 kg/m³ turns the mass of the case into a volume.
    volume = given["mass"]["value"] * 1000 / 20
    ratio = f"{given['ratio_A']['value']}:{given['ratio_B']['value']} by weight"
    got = _outputs(volume=f"{volume:.9f} L", density="20 kg/m³", packing="1", ratio=ratio)
    return {"A": got["part_a"].value_in("g"), "B": got["part_b"].value_in("g")}


def _by_volume(given):
    ratio = f"{given['volume_ratio']['value']:g}:1 by volume"
    got = _outputs(volume="1 L", ratio=ratio, density_a=text(given["density_A"]), density_b=text(given["density_B"]))
    return {"parts_A_per_100_B_by_weight": got["a_per_100_b"].value_in("")}


def _lifts(given):
    return {"lifts": _outputs(volume="1 L", rise=text(given["depth"]), lift=text(given["lift"]))["pours"]}


def _expansion(given):
    liquid = text(given["liquid_density"])
    got = _outputs(volume="1 L", density=text(given["foam_density"]), density_a=liquid, density_b=liquid)
    return {"ratio": got["expansion"].value_in("")}


def _force(given):
    got = _outputs(**{name: text(value) for name, value in given.items()}, depth="38 mm")
    return {"force": got["skin_force"].value_in("kN"), "mass_equivalent": got["skin_weight"].value_in("kg")}


def _bow(given):
    fields = {"pressure": "pressure", "span": "span", "thickness": "skin", "E": "modulus"}
    got = _outputs(volume="1 L", **{fields[name]: text(value) for name, value in given.items()})
    return {"deflection": got["bow"].value_in("mm")}


CASES = {
    "foam-03": _fill,
    "foam-04": _split,
    "foam-05": _by_volume,
    "foam-07": _lifts,
    "foam-08": _expansion,
    "foam-09": _force,
    "foam-10": _bow,
}
