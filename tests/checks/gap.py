"""Cases answered by the calculator `gap`."""

import re

from checks import text
from shopmate import calc

_ANY = {"gap": "16 mm", "leg_a": "12 mm", "leg_b": "12 mm"}
"""Sizes that the calculator asks for and the figure of the case does not depend on."""


def _run(**fields):
    return calc.run("gap", {**_ANY, **fields})


def _mm(*names, **fields):
    outputs = _run(**fields).outputs
    return tuple(outputs[name].value_in("mm") for name in names)


def _listed(given):
    return ", ".join(f"{value} {given['unit']}" for value in given["value"])


def _overlap(given):
    sizes = {"gap": text(given["gap"]), "leg_a": text(given["bar_1"]), "leg_b": text(given["bar_2"])}
    names = ("overlap", "tip_clearance_1", "tip_clearance_2")
    return dict(zip(names, _mm("overlap", "clearance_a", "clearance_b", **sizes), strict=True))


def _stack(given):
    # Two legs of 12 mm across 16 mm overlap by the nominal 8 mm.
    assert _mm("overlap") == (given["nominal"]["value"],)
    got = _mm("worst", "rss", "overlap_least", "overlap_rss", tolerances=_listed(given["tolerances"]))
    return dict(zip(("worst_case", "rss", "min_worst", "min_rss"), got, strict=True))


def _equal_parts(given):
    got = _mm("worst", "rss", tolerances=", ".join([text(given["tolerance"])] * given["parts"]["value"]))
    return dict(zip(("worst_case", "rss"), got, strict=True))


def _three_sigma(given):
    result = _run(tolerances=_listed(given["tolerances"]))
    raw = re.search(r"√3 × RSS = ([\d.]+) mm", " ".join(result.working))[1]
    return {"three_sigma_uniform": float(raw), "reported": result.outputs["uniform"].value_in("mm")}


def _compression(given):
    fields = {"seal": text(given["free_height"]), "at": text(given["closed_gap"])}
    return {"compression": _run(**fields).outputs["compression"].value_in("%")}


def _window(given):
    least, most = _mm("at_least", "at_most", seal=text(given["free_height"]))
    return {"gap_max": most, "gap_min": least}


def _pavement(given):
    outputs = _run(seal=text(given["width"]), squeeze_most="60 %").outputs
    return {"max_width_in_joint": outputs["at_most"].value_in("in"), "min_width_in_joint": outputs["at_least"].value_in("in")}


def _closing(given):
    outputs = _run(
        seal_force=text(given["force_per_length"]), opening_length=text(given["length"]), opening_width=text(given["width"])
    ).outputs
    return {"perimeter": outputs["seal_length"].value_in("m"), "force": outputs["closing_force"].value_in("N")}


CASES = {
    "gap-01": _overlap,
    "gap-03": _stack,
    "gap-04": _equal_parts,
    "gap-06": _three_sigma,
    "seal-01": _compression,
    "seal-02": _window,
    "seal-04": _pavement,
    "seal-05": _closing,
}
