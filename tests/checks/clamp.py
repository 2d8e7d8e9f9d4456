"""Cases answered by the calculator `clamp`."""

from checks import text
from shopmate import calc

_ANY = {"length": "1.2 m", "width": "40 mm"}
"""A joint that the calculator asks for and the pressure or spacing of the case does not depend on."""


def _outputs(**texts):
    return calc.run("clamp", {**_ANY, **texts}).outputs


def _usual(given):
    got = _outputs(glue="resorcinol", wood=given["wood"]["value"])
    return {"low": got["pressure_low"].value_in("psi"), "high": got["pressure_high"].value_in("psi")}


def _panel(given):
    got = _outputs(**{name: text(value) for name, value in given.items()})
    return {"force": got["force"].value_in("kN"), "clamps": got["clamps_by_force"]}


def _vacuum(given):
    vacuum = text(given["vacuum"])
    got = calc.run("clamp", {"length": text(given["length"]), "width": text(given["width"]), "pressure": vacuum})
    return {"pressure": got.inputs["pressure"].value_in("kPa"), "force": got.outputs["force"].value_in("kN")}


def _caul(given):
    got = _outputs(glue="epoxy", pad=text(given["pad_width"]), caul=text(given["caul_thickness"]))
    return {"spacing": got["spacing"].value_in("mm")}


def _best(given):
    got = _outputs(glue=given["adhesive"]["value"], wood="hardwood", strength=text(given["compression_strength"]))
    return {"pressure": got["best_pressure"].value_in("MPa")}


CASES = {"clamp-01": _usual, "clamp-04": _panel, "clamp-05": _vacuum, "clamp-06": _caul, "clamp-12": _best}
