"""Cases answered by the calculator `shim`."""

from checks import text
from shopmate import calc


def _single(given):
    stock = ", ".join(f"{value} {given['stock']['unit']}" for value in given["stock"]["value"])
    outputs = calc.run("shim", {"gap": text(given["gap"]), "part": text(given["slide"]), "stock": stock, "pieces": "1"}).outputs
    number, unit = outputs["pick"].split()
    assert unit == "mm"
    return {
        "shim": outputs["shim"].value_in("mm"),
        "nearest_single": float(number),
        "residual": outputs["left"].value_in("mm"),
    }


CASES = {"shim-01": _single}
