"""Cases answered by the calculator `bead`."""

from checks import text
from shopmate import calc


def _reach(unit, **fields):
    return calc.run("bead", fields).outputs["length_per_cartridge"].value_in(unit)


def _round(given):
    fields = {"cartridge": text(given["volume"]), "diameter": text(given["diameter"])}
    return {"length": _reach("m", **fields)}


def _round_in_feet(given):
    fields = {"cartridge": text(given["volume"]), "diameter": text(given["diameter"])}
    return {"length": _reach("ft", **fields), "length_m": _reach("m", **fields)}


def _rectangle(given):
    fields = {"cartridge": text(given["cartridge_volume"]), "base": text(given["width"]), "height": text(given["depth"])}
    return {"length": _reach("ft", shape="rectangle", **fields)}


def _half_round(given):
    return {"length": _reach("m", shape="half-round", cartridge=text(given["volume"]), base=text(given["base_width"]))}


def _triangle(given):
    fields = {"cartridge": text(given["volume"]), "base": text(given["base_width"]), "height": text(given["height"])}
    return {"length": _reach("m", shape="triangle", **fields)}


def _laid(given):
    gun, hand = (given[name]["value"] for name in ("extrusion_speed", "travel_speed"))
    fields = {"cartridge": "300 mL", "nozzle": text(given["nozzle_bore"]), "push": f"{gun / hand}"}
    return {"bead_diameter": calc.run("bead", fields).outputs["diameter"].value_in("mm")}


CASES = {
    "bead-01": _round,
    "bead-02": _round_in_feet,
    "bead-03": _rectangle,
    "bead-04": _half_round,
    "bead-05": _triangle,
    "bead-14": _laid,
}
