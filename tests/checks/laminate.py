"""Answers of the laminate calculator to the outside cases it can work out."""

from collections.abc import Callable, Mapping

from shopmate import calc


def _run(**texts):
    return {
        name: value.value for name, value in calc.run("laminate", {"area": "1 m²", **texts}).outputs.items() if value is not None
    }


def _thickness(inputs):
    texts = {"cloth": f"{inputs['dry_glass_kg_m2']} kg/m²", "glass_content": str(inputs["psi_glass_mass_fraction"])}
    if "glass_density_g_cm3" in inputs:
        texts |= {
            "glass_density": f"{inputs['glass_density_g_cm3']} g/cm³",
            "epoxy_density": f"{inputs['resin_density_g_cm3']} g/cm³",
        }
    return {"thickness_mm": _run(**texts)["thickness"]}


def _resin(inputs):
    got = _run(cloth=f"{inputs['dry_glass_g_m2']} g/m²", glass_content=str(inputs["psi_glass_mass_fraction"]))
    return {"resin_g_m2": got["wet_out"], "laminate_g_m2": got["areal_weight"]}


def _fibre_volume(inputs):
    got = _run(
        cloth="200 g/m²",
        glass_content=str(inputs["psi_glass_mass_fraction"]),
        glass_density=f"{inputs['glass_density_g_cm3']} g/cm³",
        epoxy_density=f"{inputs['resin_density_g_cm3']} g/cm³",
    )
    return {"fibre_volume_fraction": got["fibre_volume"], "laminate_density_g_cm3": got["density"]}


def _ounces(inputs):
    return {"g_m2": _run(cloth=f"{inputs['oz_yd2']} oz/yd²")["cloth_mass"]}


def _take_off(inputs):
    result = calc.run(
        "laminate",
        {
            "length": f"{inputs['length_m']} m",
            "width": f"{inputs['width_m']} m",
            "cloth": f"{inputs['dry_glass_g_m2']} g/m²",
            "glass_content": str(inputs["psi_glass_mass_fraction"]),
            "seal_coat": f"{inputs['seal_coat_g_m2']} g/m²",
            "fill_coat": f"{inputs['fill_coat_g_m2']} g/m²",
            "fill_coats": str(inputs["fill_coats"]),
            "trim": f"{100 * inputs['trim_fraction']} %",
            "loss": f"{100 * inputs['loss_fraction']} %",
        },
    )
    got = {name: value.value for name, value in result.outputs.items() if value is not None}
    pot = calc.run("mix", {"ratio": "100:45 by weight", "total": f"{got['mix']} g"})
    return {
        "cloth_g": got["cloth_mass"],
        "wetout_resin_g": got["wet_out"],
        "seal_g": got["seal"],
        "fill_g": got["fill"],
        "mixed_total_g": got["mix"],
        "hardener_g_at_45phr": pot.outputs["hardener"].value,
    }


def _film(inputs):
    # Film grows in step with the coat, so the coat for a film follows from the film of any one coat.
    film = _run(cloth="200 g/m²", fill_coat="100 g/m²", epoxy_density=f"{inputs['density_g_cm3']} g/cm³")["film"]
    return {"coat_g_m2": 100 * inputs["film_mm"] / film}


def _cured_weight(inputs):
    got = _run(
        cloth=f"{inputs['cloth']['value']} {inputs['cloth']['unit']}",
        glass_content=str(inputs["fibre_weight_fraction"]["value"]),
    )
    return {"laminate": got["areal_weight"], "resin": got["wet_out"]}


CASES: dict[str, Callable[[Mapping], dict]] = {
    "lam-thick-1": _thickness,
    "lam-thick-3": _thickness,
    "lam-thick-4": _thickness,
    "lam-thick-6": _thickness,
    "lam-thick-identity": _thickness,
    "lam-resin-2": _resin,
    "lam-resin-3": _resin,
    "lam-vf-1": _fibre_volume,
    "lam-vf-2": _fibre_volume,
    "lam-takeoff-panel": _take_off,
    "lam-film": _film,
    "unit-oz": _ounces,
    "unit-6oz": _ounces,
    "wt-04": _cured_weight,
}
