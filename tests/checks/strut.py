"""Cases answered by the calculator `strut`."""

from checks import text
from shopmate import calc

_GUIDED = {"mode": "guided", "weight": "300 N", "struts": "1", "angle": "90°", "progressivity": "1"}
_FIELDS = {"strut_arm": "arm", "angle": "lid_angle", "angle_from_horizontal": "angle"}
"""Names of the cases that the calculator calls otherwise."""


def _outputs(**texts):
    return calc.run("strut", texts).outputs


def _given(inputs, *, but=()):
    return {_FIELDS.get(name, name): text(value) for name, value in inputs.items() if name not in but}


def _newtons(quantity):
    return quantity.value_in("N")


def _at_temperature(inputs):
    got = _outputs(**_GUIDED, force=text(inputs["force_20C"]), cold=text(inputs["temperature"]))
    return {"force": _newtons(got["force_cold"])}


def _coefficient(_):
    got = _outputs(**_GUIDED, force="100 N", hot="21 °C")
    return {"coefficient": _newtons(got["force_hot"]) - 100}


def _on_the_rod(inputs):
    # The calculator tells the pressure behind a force; the two are proportional.
    got = _outputs(**_GUIDED, force="100 lbf", rod=text(inputs["rod_diameter"]))
    return {"force": 100 * inputs["pressure"]["value"] / got["gas_pressure"].value_in("psi")}


def _by_gas_volume(inputs):
    sizes = {"gas_volume": f"{inputs['gas_volume_extended']['value']} mL", "rod": text(inputs["rod_diameter"])}
    got = _outputs(**{**_GUIDED, "progressivity": ""}, force="100 N", stroke=text(inputs["stroke"]), **sizes)
    return {"ratio": got["progressivity_used"].value_in("")}


def _along_the_stroke(inputs):
    first, second = inputs["F1"]["value"], inputs["F2"]["value"]
    got = _outputs(
        mode="guided",
        weight="300 N",
        base_offset="0 mm",
        height_closed="400 mm",
        rise=text(inputs["compression"]),
        stroke=text(inputs["stroke"]),
        force=f"{first} N",
        progressivity=f"{second}/{first}",
    )
    return {"force": _newtons(got["push_closed"])}


def _simple_hinge(inputs):
    got = _outputs(mode="hinged", **_given(inputs))
    return {"force_per_strut": _newtons(got["force_closed"]), "force_with_margin": _newtons(got["force"])}


def _hinge(inputs):
    got = _outputs(mode="hinged", **_given(inputs))
    return {
        "strut_length": got["length_closed"].value_in("m"),
        "arm": got["arm_closed"].value_in("m"),
        "force_per_strut": _newtons(got["force_closed"]),
    }


def _guided(inputs):
    got = _outputs(mode="guided", **_given(inputs))
    return {
        "force_per_strut": _newtons(got["force_closed"]),
        "force_with_margin": _newtons(got["force"]),
        "side_force_per_strut": _newtons(got["side_force"]),
    }


def _angle_opens(inputs):
    got = _outputs(mode="guided", **_given(inputs))
    return {name: _newtons(got[name]) for name in ("force_closed", "force_open")}


def _cold_roof(inputs):
    given = {"weight": text(inputs["weight"]), "force": text(inputs["vertical_strut_force_20C"])}
    got = _outputs(**{**_GUIDED, **given}, cold=text(inputs["temperature"]))
    return {"hand_force": _newtons(got["hand_open_cold"])}


CASES = {
    "strut-01": _at_temperature,
    "strut-02": _coefficient,
    "strut-04": _on_the_rod,
    "strut-06": _by_gas_volume,
    "strut-07": _along_the_stroke,
    "strut-08": _simple_hinge,
    "strut-09": _hinge,
    "strut-10": _hinge,
    "strut-12": _guided,
    "strut-14": _angle_opens,
    "strut-15": _cold_roof,
}
