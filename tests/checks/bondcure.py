"""Cases answered by the calculator `bondcure`."""

from checks import text
from shopmate import calc

_FIELDS = {"bond_width": "width", "bar_width": "width", "depth_first_day": "rate"}
_AT_THE_SHEET = {"air": "23 °C", "humidity": "50 %", "open_edges": "2"}
"""The air that the rate of the case is stated for; both long edges meet it."""


def _days(given):
    fields = {_FIELDS[name]: text(value) for name, value in given.items()}
    return {"time": calc.run("bondcure", {**_AT_THE_SHEET, **fields}).outputs["days"].value_in("d")}


CASES = {"bead-17": _days}
