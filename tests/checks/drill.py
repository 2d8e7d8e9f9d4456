"""Answers of the drill calculator, and of its table of sizes, to the outside cases it can work out."""

from collections.abc import Callable, Mapping

from shopmate import calc, tables

_ROUND = {"nearest": "nearest", "at_most": "down", "at_least": "up"}
_SERIES = {
    "fractional": "fractional",
    "number": "number",
    "fractional+number+letter": "inch",
    "metric 0.1 mm steps": "metric",
}


def _choose(inputs):
    target = f"{inputs['target_in']} in" if "target_in" in inputs else f"{inputs['target_mm']} mm"
    return calc.run("drill", {"diameter": target, "round": _ROUND[inputs["mode"]], "series": _SERIES[inputs["series"]]}).outputs


def _inch(inputs):
    got = _choose(inputs)
    return {"label": got["drill"], "diameter_in": got["diameter"].value_in("in")}


def _metric(inputs):
    return {"diameter_mm": _choose(inputs)["diameter"].value_in("mm")}


def _size(inputs):
    return {"diameter_in": float(tables.load("drill_sizes").row("name", inputs["label"])["diameter_in"])}


CASES: dict[str, Callable[[Mapping], dict]] = {
    "drill-number-5": _size,
    "drill-number-28": _size,
    "drill-number-30": _size,
    "drill-letter-e": _size,
    "drill-near-frac-0917": _inch,
    "drill-near-num-1179": _inch,
    "drill-most-frac-1179": _inch,
    "drill-least-all-142": _inch,
    "drill-least-frac-168": _inch,
    "drill-near-all-2312": _inch,
    "drill-metric-up-no6": _metric,
}
