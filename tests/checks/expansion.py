"""Cases answered by the calculator `expansion`."""

from checks import text
from shopmate import calc


def _coefficient(given):
    return f"{given['value'] * 1e6:.9g}e-6 {given['unit']}"


def _outputs(**fields):
    return calc.run("expansion", {"length": "1 m", "dt": "60 K", "material_a": "aluminium", **fields}).outputs


def _on_wood(given):
    return _outputs(
        length=text(given["length"]),
        dt=text(given["delta_T"]),
        material_a=_coefficient(given["alpha_aluminium"]),
        material_b=_coefficient(given["alpha_wood"]),
    )


def _stress(given):
    outputs = _outputs(dt=text(given["delta_T"]), material_a=_coefficient(given["alpha"]), modulus=text(given["E"]))
    return {"stress": outputs["stress"].value_in("MPa")}


def _across(given):
    gravity = str(given["specific_gravity"]["value"])
    return {
        f"alpha_{way}": _outputs(material_a=f"wood {way}", gravity=gravity)["coefficient_a"].value_in("1/K")
        for way in ("radial", "tangential")
    }


def _moisture(given):
    outputs = _outputs(
        length=text(given["width"]),
        moisture_change=text(given["delta_MC"]),
        swelling=str(given["coefficient_tangential"]["value"]),
    )
    return {"movement": outputs["moisture_movement"].value_in("mm")}


CASES = {
    "therm-01": lambda given: {"difference": _on_wood(given)["movement"].value_in("mm")},
    "therm-02": lambda given: {"difference_per_end": _on_wood(given)["movement_each_end"].value_in("mm")},
    "therm-05": _stress,
    "therm-07": _across,
    "therm-08": _moisture,
}
