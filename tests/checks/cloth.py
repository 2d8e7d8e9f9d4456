"""Cases answered by the calculator `cloth`."""

from checks import text
from shopmate import calc


def _widths(given):
    fields = {"width": text(given["surface_width"]), "roll_width": text(given["roll_width"]), "overlap": text(given["overlap"])}
    return {"widths": calc.run("cloth", {**fields, "length": "1 m"}).outputs["strips"]}


CASES = {"edge-13": _widths}
