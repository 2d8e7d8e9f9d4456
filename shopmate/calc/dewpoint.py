"""Dew point of the air, and whether the surface is warm enough and the air dry enough to bond or coat.

Below 0 °C libraries differ: PsychroLib and CoolProp give the dew point over ice (the frost point), MetPy and the
Magnus formula over supercooled water (5 °C and 50 %: −4.03 or −4.57 °C). Ice is used here: it is what forms on a
cold surface, and its higher figure is the safe one. The humidity of air below 0 °C is over ice too.
"""

from __future__ import annotations

import math

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Threshold
from shopmate.models.arrhenius import ZERO_CELSIUS
from shopmate.models.constants import HYGROMETER_DOUBT
from shopmate.models.humid_air import DEW_MARGIN, RULE, TRIPLE_POINT, WET, saturated_at, saturation_pressure
from shopmate.units import Quantity

_WET = Threshold(WET, "%", RULE, "No go: humidity must be below 85 %", "humidity", "84.9 %", "85 %")
"""Relative humidity to stay below."""

_COLD = Threshold(
    10.0, "°C", Source("minimum working temperature of many epoxies, 10 to 18 °C depending on the hardener; the data sheet "
        "overrides it",
                       "common practice"),
    "Cold: below", "surface", "10 °C", "9.9 °C",
)  # fmt: skip
"""Air or surface temperature below which it is too cold for many epoxies."""

_ROUNDING = 1e-9
"""A margin short by less than this, in K, counts as met (our choice). No Threshold needed: it covers rounding between units."""


def _celsius(quantity: Quantity) -> str:
    """Return a temperature as entered and, unless that was °C, in °C."""
    given = units.show(quantity)
    return given if quantity.unit == "°C" else f"{given} = {quantity.value_in('°C'):.2f} °C"


def _compute(air: Quantity, humidity: Quantity, surface: Quantity | None, margin: Quantity) -> Answer:
    at, relative, wanted = air.value_in("°C"), humidity.value_in("%"), margin.value_in("K")
    saturated = saturation_pressure(at)
    pressure = relative / 100 * saturated
    dew_point = min(at, saturated_at(pressure))
    touched = at if surface is None else surface.value_in("°C")
    found = touched - dew_point
    warm, dry = found >= wanted - _ROUNDING, relative < _WET.value

    def shown(celsius: float) -> str:
        """Return a minimum temperature in the unit of the air temperature, rounded up to be safe."""
        return units.show(
            Quantity(math.ceil(float(Quantity(celsius, "°C").to(air.unit).value) * 10 - _ROUNDING) / 10, air.unit), 1
        )

    dry_at = None if dry else saturated_at(pressure * 100 / _WET.value)
    kelvin = dew_point + ZERO_CELSIUS
    ice = "ice" if kelvin <= TRIPLE_POINT else "water"
    working = (
        f"vapour pressure = humidity × saturation at {_celsius(air)} = {relative:g} % × {saturated:.1f} Pa = {pressure:.1f} Pa",
        f"dew point = temperature at which {pressure:.1f} Pa is saturation over {ice} = {dew_point:.2f} °C",
        f"margin = surface − dew point = {touched:.2f} − {dew_point:.2f} = {found:.2f} K; "
        f"at least {wanted:g} °C above: {_kept(warm)}",
        f"humidity {relative:g} %; limit: below {_WET.value:g} %: {_kept(dry)}",
    )
    least = dew_point + wanted
    cautions = []
    if surface is None:
        cautions.append(
            f"No surface temperature entered, so the surface is assumed to be as warm as the air, {shown(at)}. Panels, metal "
            "and a cold bench lag behind the air: measure the surface itself and enter it. On bare metal use a contact "
            "thermometer: infrared reads wrong there."
        )
    if not warm:
        cautions.append(
            f"No go: water can condense on the surface. Warm the surface to {shown(least)} or more, or dry the air; wipe the "
            "surface dry and measure again. Don't heat with an open flame: it adds water and carbon dioxide to the air."
        )
    if dry_at is not None:
        cautions.append(
            f"No go: humidity must be below {_WET.value:g} %. Dry the air, or warm it above {shown(dry_at)} without adding "
            "water (no open flame)."
        )
    if warm and dry:
        cautions.append(
            f"This is for now only: the surface must stay at {shown(least)} or more until the epoxy is tack-free. Measure "
            "again when the shop cools, at dusk, or before each coat."
        )
        worse = min(100.0, relative + HYGROMETER_DOUBT)
        if touched - saturated_at(worse / 100 * saturated) < wanted or worse >= _WET.value:
            cautions.append(
                f"Close: if your hygrometer reads {HYGROMETER_DOUBT:g} % low, as many do (common practice), this is no go. "
                "Warm the surface or dry the air a little more."
            )
    if min(at, touched) < _COLD.value:
        cautions.append(
            f"Cold: below {shown(_COLD.value)} many epoxies cure slowly or incompletely, or blush (common practice). The "
            "minimum on the data sheet decides."
        )
    return Answer(
        {
            "dew_point": dew_point,
            "margin": found,
            "surface_least": least,
            "vapour_pressure": pressure,
            "dry_at": dry_at,
            "margin_rule": _kept(warm),
            "humidity_rule": _kept(dry),
            "verdict": "go" if warm and dry else "no go",
        },
        working,
        tuple(cautions),
    )


def _kept(rule: bool) -> str:
    return "kept" if rule else "broken"


_PSYCHROLIB = Source("PsychroLib 2.5.0, GetTDewPointFromRelHum; CoolProp 8.0.0 agrees within 0.01 K", "computed")

# Humidity from 1 %, so that 0.65 typed for 65 % is refused, not treated as bone-dry air.
CALCULATOR = Calculator(
    name="dewpoint", title="Dew point, and is the surface warm enough?",
    inputs=(
        Field("air", "Air temperature", Measure("°C", low=-40, high=60, soft_low=5, soft_high=35), "Measured near the work.",
            required=True),
        Field("humidity", "Relative humidity", Measure("%", low=1, high=100, soft_low=15), "In %, "
            "measured near the work.", required=True),
        Field("surface", "Surface temperature", Measure("°C", low=-40, high=100, soft_low=5, soft_high=40),
            "The coldest spot of the part you are bonding. Blank: same as the air."),
        Field("margin", "Margin above dew point", Measure("K", low=0, high=30, soft_low=3, soft_high=10),
            "How much warmer than the dew point the surface must be.", default=f"{DEW_MARGIN:g} °C"),
    ),
    outputs=(
        Output("verdict", "Verdict"),
        Output("dew_point", "Dew point", "°C"),
        Output("margin", "Surface above dew point by", "K"),
        Output("surface_least", "Minimum surface temperature", "°C"),
        Output("margin_rule", "Margin rule"),
        Output("humidity_rule", "Humidity rule"),
        Output("vapour_pressure", "Vapour pressure", "Pa"),
        Output("dry_at", "Air temperature that meets the humidity rule", "°C"),
    ),
    source=(
        Source("ASHRAE Handbook Fundamentals 2017, ch. 1, eq. 5 and 6, in the source of PsychroLib 2.5.0", "read"),
        RULE,
        Source(f"minimum {_COLD.value:g} °C for epoxy, hygrometer tolerance {HYGROMETER_DOUBT:g} %", "common practice"),
    ),
    valid="Air −40 to 60 °C and 1 to 100 % (the formulas work from −100 to 200 °C). Below 0 °C the dew point is over ice. The "
    "rule is about condensation only: the temperature and moisture limits on the data sheet apply too.",
    examples=(
        Example({"air": "20 °C", "humidity": "65 %"}, {"dew_point": 13.2272}, _PSYCHROLIB, rel=0, abs=0.01),
        Example({"air": "68 °F", "humidity": "65 %"}, {"dew_point": 13.2272}, _PSYCHROLIB, rel=0, abs=0.01),
        Example({"air": "5 °C", "humidity": "50 %"}, {"dew_point": -4.03}, _PSYCHROLIB, rel=0, abs=0.01),
        Example({"air": "20 °C", "humidity": "65 %", "surface": "16 °C"}, {"margin": 2.77278, "margin_rule": "broken",
            "humidity_rule": "kept", "verdict": "no go"}, Source(f"{RULE.text}; dew point by PsychroLib 2.5.0", "computed"),
            rel=0, abs=0.01),
        Example({"air": "12 °C", "humidity": "90 %", "surface": "14 °C"}, {"margin": 3.58771, "margin_rule": "kept",
            "humidity_rule": "broken", "verdict": "no go"}, Source(f"{RULE.text}; dew point by PsychroLib 2.5.0", "computed"),
            rel=0, abs=0.01),
    ),
    asked=("air", "humidity", "surface"), readings={"air": ("air",), "humidity": ("humidity",), "surface": ("surface",)},
    compute=_compute, thresholds=(_WET, _COLD),
)  # fmt: skip
