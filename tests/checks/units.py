"""Cases that are conversions only, answered by shopmate.units from what a user would type."""

from checks import text
from shopmate.units import Quantity, parse


def _converted(typed, unit):
    return parse(typed, unit).value_in(unit)


def _stress(given):
    # 4 in² for each lb of load: the lb presses as lbf, so the stress is 1/4 psi.
    return {"stress": _converted(f"1/{given['rule']['value']} psi", "kPa")}


def _spread(given):
    return {"spread": _converted(f"{given['spread']['value']}/1000 lb/ft²", "g/m²")}


def _per_kelvin(given):
    # A difference of 1 °F is 5/9 K, without the offset of the scale.
    return {"alpha": given["alpha"]["value"] / Quantity(1, "Δ°F").value_in("K")}


CASES = {
    "tape-02": _stress,
    "tape-04": lambda given: {"pressure": _converted(text(given["pressure"]), "kPa")},
    "clamp-03": lambda given: {"pressure": _converted(text(given["pressure"]), "kPa")},
    "clamp-10": _spread,
    "foam-01": lambda given: {"density": _converted(text(given["density"]), "kg/m³")},
    "therm-03": _per_kelvin,
    "wt-03": lambda given: {"density": _converted(text(given["density"]), "kg/m³")},
}
