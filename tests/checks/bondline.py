"""Cases answered by the calculator `bondline`."""

from checks import text
from shopmate import calc

_FIELDS = {
    "bar_width": "width",
    "bond_width": "width",
    "bond_line": "thickness",
    "run": "length",
    "beads": "beads",
    "diameter": "bead",
    "cartridge": "cartridge",
    "waste": "waste",
    "open_time_ref": "open_time",
    "temperature_ref": "open_temperature",
    "temperature": "temperature",
}
_ANY = {"width": "20 mm", "thickness": "1 mm", "length": "1 m"}
"""Sizes that the calculator asks for and the figure of the case does not depend on."""


def _outputs(given):
    return calc.run("bondline", {**_ANY, **{_FIELDS[name]: text(value) for name, value in given.items()}}).outputs


CASES = {
    "bead-07": lambda given: {"diameter": _outputs(given)["bead"].value_in("mm")},
    "bead-09": lambda given: {"squeeze_out": _outputs(given)["squeeze_out"].value_in("mL")},
    "bead-11": lambda given: {"spread_width": _outputs(given)["spread"].value_in("mm")},
    "bead-12": lambda given: {
        "volume": _outputs(given)["volume_needed"].value_in("mL"),
        "cartridges": _outputs(given)["cartridges"],
    },
    "bead-15": lambda given: {"open_time": _outputs(given)["close_within"].value_in("min")},
}
