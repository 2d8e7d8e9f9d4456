"""Cases answered by the calculator `edge`."""

from checks import text
from shopmate import calc

_ANY = {"radius": "8 mm", "length": "1 m"}
"""Sizes that the calculator asks for and the figure of the case does not depend on."""


def _run(**fields):
    return {name: value and value.value for name, value in calc.run("edge", {**_ANY, **fields}).outputs.items()}


def _blank(given):
    fields = {"face": text(given["face"]), "radius": text(given["radius"]), "lap": text(given["lap_down_each_edge"])}
    return {"blank": _run(**fields)["blank"]}


def _darts(given):
    # The flange of the case is folded sharp: no round takes part of the cloth.
    fields = {"radius": "0 mm", "lap": text(given["flange"]), "turn": text(given["turn"]), "darts": text(given["darts"])}
    got = _run(**fields)
    return {"excess": got["excess"], "dart_width": got["dart"]}


CASES = {
    "edge-01": lambda given: {"area": _run(radius=text(given["radius"]))["section"]},
    "edge-05": lambda given: {"sagitta": _run(curve=text(given["radius"]), chord=text(given["chord"]))["rise"]},
    "edge-07": lambda given: {"saw_setting": _run(angle=text(given["interior_angle"]))["mitre"]},
    "edge-15": _blank,
    "edge-16": _darts,
}
