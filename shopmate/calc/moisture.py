"""Equilibrium moisture of wood in the shop's air, and whether wood at that moisture, or as measured, can be bonded."""

from __future__ import annotations

import math

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Threshold
from shopmate.models.constants import HYGROMETER_DOUBT
from shopmate.units import Quantity

_TABLE = Source("Wood Handbook (FPL-GTR-190) table 4-2, in a copy; printed to 0.1 %", "read")
_FORMULA = Source(
    "Hailwood-Horrobin two-hydrate equation in °C, Wood Handbook eq. 4-5 and FPL-RN-0268, in transcriptions", "read"
)
_INSPECTION = Source(
    "FAA AC 43.13-1B par. 1-29g: aircraft wood 8 to 16 %, preferably 10 to 12 %; above 20 % suspect fungus; par. 1-6: surfacing",
    "read",
)
_FIT = Source("FPL-RN-0268, abstract: the formula is within 0.13 % of its table on average and never more than 0.9 % off", "read")

_DRY = Threshold(8.0, "%", _INSPECTION, "wood too dry", "measured", "8 %", "7.99 %")
_DAMP = Threshold(16.0, "%", _INSPECTION, "wood too damp", "measured", "16 %", "16.01 %", beside={"most": "20 %"})
"""Minimum and maximum moisture content allowed in aircraft wood."""

_BETTER = Threshold(10.0, "%", _INSPECTION, "allowed", "measured", "10 %", "9.99 %")
_BEST = Threshold(12.0, "%", _INSPECTION, "allowed", "measured", "12 %", "12.01 %")
"""Minimum and maximum of the preferred moisture content."""

_FUNGUS = Threshold(20.0, "%", _INSPECTION, "damp enough for fungus", "measured", "20 %", "20.01 %")
"""Moisture content above which to suspect fungus."""

_UNDER_CLOTH = 12.0
"""Maximum moisture content in % under epoxy and glass cloth [common practice; the data sheet overrides it]."""

_WET = Threshold(95.0, "%", _TABLE, "off the published table", "humidity", "95 %", "95.1 %")
"""Relative humidity where the published table ends: above it water collects in the pores and this formula no longer holds."""

_DRIFT = Threshold(1.0, "%", _FIT, "it will not improve here", "", "19.05 %", "18.95 %", "measured", {"humidity": "85 %"})
"""Difference below which the wood has settled to the air it is in."""


def _equilibrium(celsius: float, humidity: float) -> float:
    """Return the equilibrium moisture content in % of oven-dry mass at `celsius` °C and `humidity` % relative humidity.

    Hailwood and Horrobin, two hydrates, coefficients for °C: Wood Handbook eq. 4-5 and FPL-RN-0268, read in transcriptions.
    The °F set (W = 330 + ...) differs: never mix the two.
    """
    w, k, k1, k2 = _coefficients(celsius)
    kh = k * humidity / 100
    hydrates = k1 * kh + k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + (hydrates + k1 * k2 * kh**2) / (1 + hydrates))


def _coefficients(t: float) -> tuple[float, float, float, float]:
    """Return W, K, K1 and K2 at `t` °C."""
    return (
        349 + 1.29 * t + 0.0135 * t**2,
        0.805 + 0.000736 * t - 0.00000273 * t**2,
        6.27 - 0.00938 * t - 0.000303 * t**2,
        1.91 + 0.0407 * t - 0.000293 * t**2,
    )


def _humidity_for(celsius: float, content: float) -> float:
    """Return the relative humidity in % that gives an equilibrium of `content` %, which is no more than 16 %.

    Found by halving the range, since moisture content only rises with humidity.
    """
    low, high = 0.0, 100.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _equilibrium(celsius, middle) < content else (low, middle)
    return low


def _wood_rule(content: float) -> str:
    if content > _FUNGUS.value:
        return "suspect fungus"
    if not _DRY.value <= content <= _DAMP.value:
        return "out"
    return "preferred" if _BETTER.value <= content <= _BEST.value else "allowed"


def _judge(content: float, most: float) -> str:
    """Return in words whether wood of `content` % is fit to bond, and to cover with cloth (maximum `most` %)."""
    if content > _FUNGUS.value:
        return "damp enough for fungus"
    if content > _DAMP.value:
        return "too damp"
    if content < _DRY.value:
        return "too dry"
    return "too damp for cloth" if content > most else "fit"


def _compute(*, air: Quantity, humidity: Quantity, measured: Quantity | None, most: Quantity) -> Answer:
    at, relative, limit = air.value_in("°C"), humidity.value_in("%"), most.value_in("%")
    content = _equilibrium(at, relative)
    found = None if measured is None else measured.value_in("%")
    judged, subject = (content, "air") if found is None else (found, "wood")
    upper = min(limit, _DAMP.value)
    # Rounded inward, so that air kept within the figures shown keeps the wood within its limits.
    least = math.ceil(_humidity_for(at, _DRY.value) * 10) / 10
    highest = math.floor(_humidity_for(at, upper) * 10) / 10
    w, k, k1, k2 = _coefficients(at)
    kh = k * relative / 100
    degrees = units.show(air) if air.unit == "°C" else f"{units.show(air)} = {at:.2f} °C"
    working = [
        f"at {degrees}: W = {w:.2f}, K = {k:.5f}, K1 = {k1:.4f}, K2 = {k2:.4f}; Kh = {k:.5f} × {relative / 100:.4g} = {kh:.5f}",
        "equilibrium = 1800/W × (Kh/(1 − Kh) + (K1·Kh + 2·K1·K2·Kh²)/(1 + K1·Kh + K1·K2·Kh²)) "
        f"= 1800/{w:.2f} × ({kh / (1 - kh):.4f} + {k1 * kh + 2 * k1 * k2 * kh**2:.4f}/{1 + k1 * kh + k1 * k2 * kh**2:.4f}) "
        f"= {content:.2f} %",
        f"{'wood settled in this air' if found is None else 'wood as measured'}: {judged:.4g} %; aircraft wood "
        f"{_DRY.value:g} to {_DAMP.value:g} %, preferably {_BETTER.value:g} to {_BEST.value:g} %, above {_FUNGUS.value:g} % "
        f"suspect fungus: {_wood_rule(judged)}",
        f"under epoxy and cloth, maximum {limit:g} %: {_kept(judged <= limit)}",
        f"at this temperature {least:.1f} to {highest:.1f} % humidity keeps wood at {_DRY.value:g} to {upper:g} %",
    ]
    if found is not None:
        working.append(
            f"still to dry = measured − equilibrium = {found:.4g} − {content:.2f} = {found - content:+.2f} % (minus: still to "
            "gain)"
        )
    return Answer(
        {
            "verdict": f"{subject} {_judge(judged, limit)}",
            "equilibrium": content,
            "wood_rule": _wood_rule(judged),
            "cloth_rule": _kept(judged <= limit),
            "to_give_off": None if found is None else found - content,
            "humidity_least": least,
            "humidity_most": highest,
        },
        tuple(working),
        (
            *_wood_cautions(found, content, limit),
            *_air_cautions(at, relative, limit, least, highest),
            "Measure both parts of a joint: they should be within 2 to 3 % of each other (common practice). Set the meter for "
            "the "
            "species and the wood temperature; on ply, glue lines make a pin meter read wrong.",
        ),
    )


def _kept(rule: bool) -> str:
    return "kept" if rule else "broken"


def _wood_cautions(found: float | None, content: float, limit: float) -> list[str]:
    if found is None:
        return [
            f"This is for the air only: wood left in it settles at {content:.1f} %, thin ply in days, thick stock in weeks or "
            "months (common practice). Only a moisture meter can tell what is in the wood now: measure it before bonding."
        ]
    said = []
    word = _judge(found, limit)
    if word == "damp enough for fungus":
        said.append(
            f"Wood above {_FUNGUS.value:g} %: suspect fungus (FAA AC 43.13-1B par. 1-29g). Look for discoloured wood and probe "
            "it "
            "for soft spots. Don't bond or seal it until it is dry and you know it is sound; replace any decayed wood."
        )
    elif word in ("too damp", "too damp for cloth"):
        most = _DAMP.value if word == "too damp" else limit
        said.append(
            f"Wood above {most:g} %: don't {'bond or sheathe' if word == 'too damp' else 'seal or sheathe'} it yet. Damp trapped "
            "under epoxy lifts the cloth as the wood dries, and can rot the wood. Sticker it in drier air and measure again."
        )
    elif word == "too dry":
        said.append(
            f"Wood below {_DRY.value:g} %: it will gain moisture and swell after bonding. "
            f"Leave it in air that brings it to {_DRY.value:g} to {min(limit, _DAMP.value):g} % and measure again."
        )
    if word == "fit" and _judge(content, limit) != "fit":
        said.append(
            f"Fit now, but this air will bring it to {content:.1f} %, and its surface within hours (common practice): keep it "
            "wrapped and bond it as soon as you have surfaced it (FAA AC 43.13-1B par. 1-6)."
        )
    elif word != "fit" and abs(found - content) < _DRIFT.value:
        said.append(
            f"The wood is within {_DRIFT.value:g} % of where this air keeps it: it will not improve here until you change the "
            "air."
        )
    return said


def _air_cautions(at: float, relative: float, limit: float, least: float, highest: float) -> list[str]:
    said = []
    word = _judge(_equilibrium(at, relative), limit)
    if word == "too dry":
        said.append(
            f"Air too dry to leave wood in: raise the humidity to {least:.1f} % or more at this temperature, or keep the wood "
            "wrapped."
        )
    elif word != "fit":
        said.append(
            f"Air too damp to leave wood in: run a dehumidifier until the humidity is {highest:.1f} % or less at this "
            "temperature, or warm the room with dry heat (no open flame) and check again."
        )
    else:
        other = {
            _judge(_equilibrium(at, min(100.0, max(0.0, relative + doubt))), limit)
            for doubt in (-HYGROMETER_DOUBT, HYGROMETER_DOUBT)
        }
        if other != {"fit"}:
            said.append(
                f"Close: if your hygrometer is {HYGROMETER_DOUBT:g} % out (common practice), this air is unfit; keep it well "
                "within "
                f"{least:.1f} to {highest:.1f} %."
            )
    if relative > _WET.value:
        said.append(
            f"Above {_WET.value:g} % humidity you are off the published table: wood can be wetter than this. Assume it is wet."
        )
    return said


# Humidity and moisture start at 1 %: that stops 0.65 typed for 65 %, and 0.12 for 12 %. The table starts at 30 °F, −1.1 °C.
CALCULATOR = Calculator(
    name="moisture", title="Wood moisture in this air, and is it fit to bond?",
    inputs=(
        Field("air", "Air temperature", Measure("°C", low=-1.2, high=60, soft_low=5, soft_high=35),
            "Measure it where the wood is kept.",
            required=True),
        Field("humidity", "Relative humidity", Measure("%", low=1, high=100, soft_low=15, soft_high=_WET.value),
            "In %, where the wood is kept: what the hygrometer reads most of the day.", required=True),
        Field("measured", "Measured wood moisture", Measure("%", low=1, high=200, soft_low=5, soft_high=30),
            "From a moisture meter or by oven-drying, in % of dry mass. The verdict is then on the wood, not the air."),
        Field("most", "Maximum moisture under epoxy", Measure("%", low=9, high=20, soft_low=10, soft_high=15),
            "From the epoxy's data sheet.",
            default=f"{_UNDER_CLOTH:g} %"),
    ),
    outputs=(
        Output("equilibrium", "Equilibrium moisture", "%"),
        Output("verdict", "Verdict"),
        Output("wood_rule", "Aircraft-wood limits"),
        Output("cloth_rule", "Limit under epoxy"),
        Output("to_give_off", "Still to dry (minus: to gain)", "%"),
        Output("humidity_least", "Minimum humidity to keep", "%"),
        Output("humidity_most", "Maximum humidity to keep", "%"),
    ),
    source=(
        _FORMULA,
        _TABLE,
        _INSPECTION,
        _FIT,
        Source(f"Maximum {_UNDER_CLOTH:g} % under epoxy and cloth, both parts within 2 to 3 %; hygrometers are up to "
            f"{HYGROMETER_DOUBT:g} % out", "common practice"),
    ),
    valid="Solid softwood and ply that has settled in steady air, −1 to 60 °C and up to 95 % humidity, as in the published "
    "table. Species, glue and whether the wood was wetter or drier before change the figure by 1 to 2 % (memory); FPL-GTR-229 "
    "calls the data behind the table too old for science. The verdict is on the wood once you enter a measured moisture, "
    "otherwise on the air.",
    examples=(
        Example({"air": "20 °C", "humidity": "50 %"}, {"equilibrium": 9.271141, "verdict": "air fit", "wood_rule": "allowed"},
            Source("documentation example of a public conservation-science R package, from FPL-RN-0268", "read"), rel=1e-6),
        Example({"air": "70 °F", "humidity": "65 %"}, {"equilibrium": 12.0, "cloth_rule": "kept"}, _TABLE, rel=0, abs=0.06),
        Example({"air": "50 °F", "humidity": "85 %"}, {"equilibrium": 18.4, "verdict": "air too damp", "wood_rule": "out",
            "cloth_rule": "broken"}, _TABLE, rel=0, abs=0.06),
        Example({"air": "20 °C", "humidity": "50 %", "measured": "14 %"}, {"wood_rule": "allowed",
            "verdict": "wood too damp for cloth", "cloth_rule": "broken"}, _INSPECTION),
    ),
    asked=("air", "humidity", "measured"),
    readings={"air": ("air",), "humidity": ("humidity",), "measured": ("moisture",)},
    compute=_compute, thresholds=(_DRY, _DAMP, _BETTER, _BEST, _FUNGUS, _WET, _DRIFT),
)  # fmt: skip
