"""Answers of the thicken calculator to the outside cases it can work out."""

from shopmate import calc


def _run(inputs, filler, **texts):
    masses, densities = inputs["mass_parts"], inputs["particle_density_g_cm3"]
    fields = {"epoxy": f"{masses[0]} g", "epoxy_density": f"{densities[0]} g/mL", "filler": filler}
    particles = {"loading": f"{masses[1]} %", "particle_density": f"{densities[1]} g/mL"}
    got = calc.run("thicken", {**fields, **particles, **texts}).outputs
    return {
        "density_g_cm3": got["density"].value,
        "volume_ml_per_100g_epoxy": got["volume"].value,
        "epoxy_mass_fraction": masses[0] / got["total"].value,
    }


CASES = {
    "thick-density-1": lambda inputs: _run(inputs, "glass bubbles"),
    "thick-density-2": lambda inputs: _run(inputs, "fumed silica"),
    "thick-density-4": lambda inputs: _run(inputs, "milled glass", silica=f"{inputs['mass_parts'][2]} %"),
}
