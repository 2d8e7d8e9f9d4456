"""Cases answered by the calculator `panel`."""

from math import sqrt

from checks import text
from shopmate import calc

_UNITS = {"kg/m3": "kg/m³", "g/m2": "g/m²", "W/(m K)": "W/mK"}
_SIZES = {"length": "1.2 m", "width": "0.6 m", "skin": "6 mm plywood", "core": "38 mm polyurethane foam"}


def _text(value):
    return text({"value": value["value"], "unit": _UNITS.get(value["unit"], value["unit"])})


def _outputs(**fields):
    return calc.run("panel", {**_SIZES, **fields}).outputs


def _density(gravity, moisture):
    outputs = _outputs(frame="38 mm softwood", frame_gravity=str(gravity), frame_moisture=f"{moisture} %")
    return outputs["frame_density"].value_in("kg/m³")


def _mass(given):
    outputs = _outputs(
        length=_text(given["length"]),
        width=_text(given["width"]),
        skin=f"{_text(given['skin'])} plywood",
        core=f"{_text(given['core'])} polyurethane foam",
        frame=f"{_text(given['frame_width'])} softwood",
        skin_density=_text(given["rho_plywood"]),
        core_density=_text(given["rho_core"]),
        frame_density=_text(given["rho_frame"]),
        sheathing=_text(given["sheathing_each_face"]),
        glue=_text(given["glue_each_line"]),
        bar=f"{_text(given['bar_width'])} x {_text(given['bar_thickness'])} aluminium",
    )
    assert given["rho_bar"]["value"] == 2700  # what the table has for aluminium
    parts = {name: outputs[name].value_in("kg") for name in ("skins", "frame", "core", "sheathing", "glue", "bar")}
    return {**parts, "total": outputs["mass"].value_in("kg"), "areal": outputs["areal_mass"].value_in("kg/m²")}


def _heat(given, **fields):
    assert (given["Rsi"]["value"], given["Rse"]["value"]) == (0.13, 0.04)  # heat flowing horizontally
    return _outputs(
        skin=f"{_text(given['skin'])} plywood",
        core=f"{_text(given['core'])} polyurethane foam",
        skin_conductivity=_text(given["lambda_skin"]),
        core_conductivity=_text(given["lambda_core"]),
        **fields,
    )


def _plain(given):
    u = _heat(given)["u_value"].value_in("W/m²K")
    return {"R_total": 1 / u, "U": u}


def _framed(given):
    # A square metre of frame with that share: (1 m − 2 w)² is left clear.
    width = (1 - sqrt(1 - given["frame_fraction"]["value"])) / 2
    outputs = _heat(
        given,
        length="1 m",
        width="1 m",
        frame=f"{width * 1000:.9f} mm softwood",
        frame_conductivity=_text(given["lambda_frame"]),
    )
    upper, lower, u = (outputs[name].value_in("W/m²K") for name in ("u_low", "u_high", "u_value"))
    return {"R_upper": 1 / upper, "R_lower": 1 / lower, "R_total": 1 / u, "U": u}


def _per_inch(given):
    outputs = _outputs(core_conductivity=f"R {given['R_per_inch']['value']} per inch")
    return {"conductivity": outputs["core_conductivity"].value_in("W/mK")}


def _btu(given):
    outputs = _outputs(skin_conductivity=f"{given['conductivity']['value']} Btu/(h ft °F)")
    return {"conductivity": outputs["skin_conductivity"].value_in("W/mK")}


CASES = {
    "density-dfir-12": lambda given: {"rho_kg_m3": _density(given["G"], given["mc_pct"])},
    "heat-01": _per_inch,
    "heat-02": _btu,
    "heat-03": _plain,
    "heat-04": _framed,
    "wt-01": lambda given: {"density": _density(given["specific_gravity_12"]["value"], given["moisture"]["value"])},
    "wt-07": _mass,
}
