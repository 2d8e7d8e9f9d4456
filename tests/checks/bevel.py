"""Cases answered by the calculator `bevel`."""

from checks import text
from shopmate import calc


def _run(**fields):
    return {name: value.value for name, value in calc.run("bevel", {"thickness": "18 mm", **fields}).outputs.items()}


def _compound(given):
    got = _run(slope=text(given["side_slope_from_horizontal"]), sides=text(given["sides"]))
    return {"mitre": got["mitre"], "bevel": got["blade"]}


def _edge(given):
    got = _run(thickness=text(given["thickness"]), angle=text(given["bevel"]))
    return {"face_width": got["face"], "offset": got["offset"]}


CASES = {"edge-09": _compound, "edge-11": _edge}
