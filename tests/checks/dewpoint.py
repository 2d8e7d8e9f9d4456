"""Cases answered by the calculator `dewpoint`."""

from checks import text
from shopmate import calc


def _dew_point(air, humidity):
    return calc.run("dewpoint", {"air": air, "humidity": humidity}).outputs["dew_point"].value_in("°C")


def _dew(given):
    return {"dew_point_C": _dew_point(f"{given['T_C']} °C", f"{given['RH_percent']} %")}


def _magnus(given):
    return {"dew_point": _dew_point(text(given["temperature"]), text(given["relative_humidity"]))}


def _gate(given):
    fields = {"air": f"{given['T_air_C']} °C", "humidity": f"{given['RH_percent']} %", "surface": f"{given['T_surface_C']} °C"}
    got = calc.run("dewpoint", fields).outputs
    return {
        "margin_C": got["margin"].value_in("K"),
        "dew_margin_ok": got["margin_rule"] == "kept",
        "rh_ok": got["humidity_rule"] == "kept",
    }


CASES = {
    "bead-18": _magnus,
    **dict.fromkeys(
        ["dew-5-80", "dew-10-65", "dew-20-50", "dew-20-65", "dew-25-50", "dew-25-65", "dew-30-80", "dew-35-65"],
        _dew,
    ),
    **dict.fromkeys(["gate-dew-1", "gate-dew-2", "gate-dew-4", "gate-dew-5"], _gate),
}
