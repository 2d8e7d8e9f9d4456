"""Cases that name their calculator and its own fields and outputs: typed as they stand, read in the unit that is expected."""

from collections.abc import Callable, Mapping
from functools import partial

from checks import Case, cases
from shopmate import calc
from shopmate.calculator import Output
from shopmate.units import Quantity
from shopmate.units.known import BY_SPELLING

_AS_TYPED = {
    "degC": "°C", "deg": "°", "1": "", "-": "", "count": "", "word": "", "text": "", "G": "", "% RH": "%",
    "psi bearing strength": "psi", "um/(m*K)": "µm/m·K", "um/m per % RH": "µm/m", "um/m": "µm/m", "N*m": "N·m", "N*m2": "N·m²",
    "m2K/W": "m²K/W", "m2": "m²", "m3": "m³", "m3/h": "m³/h", "m3/h of vapour": "m³/h", "ft3/min": "ft³/min", "m2/kg": "m²/kg",
    "mm each edge": "mm", "mm per root day": "mm", "mm per root day at 23 degC 50 %": "mm",
    "g/m2h, all planes together": "g/m²h", "g/m2 in 8 h": "g/m²", "m, at the inside face, for no condensation": "m",
    "m from the inside face to the wettest plane": "m", "count by length": "", "count by area": "", "US pint/min": "pt/min",
}  # fmt: skip
"""Units of the cases that a user types otherwise."""


def _text(given: object) -> str:
    """Return {"value", "unit"} as a user would type it; lists of parts and layers say their unit themselves or are in mm."""
    assert isinstance(given, dict), given
    unit = _AS_TYPED.get(given["unit"], given["unit"])
    return f"{given['value']} {unit}".strip() if unit.lower() in BY_SPELLING else str(given["value"])


def _read(output: Output, value: object, wanted: object) -> object:
    """Return an output in the unit that is expected of it, or as it is where that is a word or a count."""
    assert isinstance(wanted, dict), wanted
    unit = _AS_TYPED.get(wanted["unit"], wanted["unit"])
    if isinstance(value, Quantity):
        return float(value.value_in(unit)) if unit in BY_SPELLING or unit else float(value.value)
    return value


def _answer(case: Case, inputs: Mapping[str, object]) -> Mapping[str, object]:
    result = calc.run(case.calculator, {name: _text(given) for name, given in inputs.items()})
    outputs = {output.name: output for output in calc.find(case.calculator).outputs}
    return {name: _read(outputs[name], result.outputs[name], wanted) for name, wanted in case.expected.items()}


CASES: dict[str, Callable[[Mapping[str, object]], Mapping[str, object]]] = {
    case.id: partial(_answer, case) for case in cases().values() if case.calculator
}
