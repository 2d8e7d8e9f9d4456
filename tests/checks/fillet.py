"""Answers of the fillet calculator to the outside cases it can work out."""

from collections.abc import Callable, Mapping

from shopmate import calc


def _run(**texts):
    outputs = calc.run("fillet", {"length": "1 m", **texts}).outputs
    return {name: value.value for name, value in outputs.items() if value is not None}


def _section(inputs):
    got = _run(radius=f"{inputs['radius_mm']} mm", angle=f"{inputs['included_angle_deg']}°")
    return {"area_mm2": got["section"], "leg_mm": got["leg"], "throat_mm": got["throat"]}


def _square_cove(inputs):
    radius, run = inputs["radius"], inputs["run"]
    got = _run(radius=f"{radius['value']} {radius['unit']}", length=f"{run['value']} {run['unit']}")
    return {"area": got["section"], "volume": got["volume"]}


def _obtuse_cove(inputs):
    radius, angle = inputs["radius"], inputs["interior_angle"]
    return {"area": _run(radius=f"{radius['value']} {radius['unit']}", angle=f"{angle['value']} {angle['unit']}")["section"]}


CASES: dict[str, Callable[[Mapping], dict]] = {
    "fillet-area-2": _section,
    "fillet-area-3": _section,
    "fillet-area-5": _section,
    "fillet-area-6": _section,
    "edge-02": _square_cove,
    "edge-03": _obtuse_cove,
}
