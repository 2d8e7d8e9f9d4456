"""Cases answered by the calculator `tape`."""

from checks import text
from shopmate import calc

_ANY = {"mass": "5 kg", "width": "25 mm"}
"""A load and a width that the calculator asks for and the thickness of the case does not depend on."""


def _outputs(**texts):
    return calc.run("tape", {**_ANY, **texts}).outputs


def _area(given):
    return {"area": _outputs(mass=text(given["load"]), rule=text(given["rule"]))["area"].value_in("cm²")}


def _uneven(given):
    return {"min_thickness": _outputs(surface_mismatch=text(given["mismatch"]))["thickness"].value_in("mm")}


def _travel(given):
    # The strain limit of the case is the one of the calculator: another would not give the travel expected.
    assert given["strain_limit"]["value"] == 3
    return {"travel": _outputs(thickness=text(given["thickness"]))["travel"].value_in("mm")}


CASES = {"tape-01": _area, "tape-06": _uneven, "tape-07": _travel}
