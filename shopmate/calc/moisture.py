"""What moisture content wood comes to in this air, and whether that, or the content measured, may be bonded and sheathed."""

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
    "FAA AC 43.13-1B par. 1-29g: aircraft wood 8 to 16 %, better 10 to 12 %, over 20 % suspect fungus; par. 1-6: surfacing",
    "read",
)
_FIT = Source("FPL-RN-0268, abstract: the fit is within 0.13 % of its table on the mean and never over 0.9 % off", "read")

_DRY = Threshold(8.0, "%", _INSPECTION, "wood too dry", "measured", "8 %", "7.99 %")
_DAMP = Threshold(16.0, "%", _INSPECTION, "wood too damp", "measured", "16 %", "16.01 %", beside={"most": "20 %"})
"""Moisture content that aircraft wood is allowed, from and to."""

_BETTER = Threshold(10.0, "%", _INSPECTION, "allowed", "measured", "10 %", "9.99 %")
_BEST = Threshold(12.0, "%", _INSPECTION, "allowed", "measured", "12 %", "12.01 %")
"""Moisture content that is better still, from and to."""

_FUNGUS = Threshold(20.0, "%", _INSPECTION, "damp enough for fungus", "measured", "20 %", "20.01 %")
"""Moisture content over which fungus is to be suspected."""

_UNDER_CLOTH = 12.0
"""Most moisture content in % under epoxy and glass cloth [common practice; the data sheet outranks it]."""

_WET = Threshold(95.0, "%", _TABLE, "the published table ends", "humidity", "95 %", "95.1 %")
"""Relative humidity at which the published table ends: above, water gathers in the pores and no formula of this kind holds."""

_DRIFT = Threshold(1.0, "%", _FIT, "it will not come right here", "", "19.05 %", "18.95 %", "measured", {"humidity": "85 %"})
"""Difference between wood and air under which the wood is said to be at rest."""


def _equilibrium(celsius: float, humidity: float) -> float:
    """Return the moisture content in % of oven-dry mass that wood comes to at `celsius` °C and `humidity` % relative humidity.

    Hailwood and Horrobin, two hydrates, coefficients for °C: Wood Handbook eq. 4-5 and FPL-RN-0268, read in transcriptions.
    Those for °F are others (W = 330 + ...): the two sets do not mix.
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
    """Return the relative humidity in % at which wood comes to `content` %, up to the 16 % it passes before 100 % humidity.

    By halving the range: content only rises with humidity.
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
    """Return in words how wood of `content` % stands for bonding and for epoxy under cloth (at most `most` %)."""
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
    # Rounded inward, so that air kept within them as shown keeps the wood within the limits.
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
        f"{'wood left long in this air' if found is None else 'wood as measured'}: {judged:.4g} %; aircraft wood "
        f"{_DRY.value:g} to {_DAMP.value:g} %, better {_BETTER.value:g} to {_BEST.value:g} %, over {_FUNGUS.value:g} % suspect "
        f"fungus: {_wood_rule(judged)}",
        f"under epoxy and cloth at most {limit:g} %: {_kept(judged <= limit)}",
        f"at this temperature {least:.1f} to {highest:.1f} % humidity keeps wood at {_DRY.value:g} to {upper:g} %",
    ]
    if found is not None:
        working.append(
            f"wood less equilibrium = {found:.4g} − {content:.2f} = {found - content:+.2f} % (over 0: it still dries in this air)"
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
            "Both parts of a joint within 2 to 3 % of each other (common practice): measure both. A meter is set for the species "
            "and the temperature of the wood; glue lines of ply mislead its pins.",
        ),
    )


def _kept(rule: bool) -> str:
    return "kept" if rule else "broken"


def _wood_cautions(found: float | None, content: float, limit: float) -> list[str]:
    if found is None:
        return [
            f"Of the air only: wood left in it long enough comes to {content:.1f} %, thin ply in days, thick stock in weeks or "
            f"months (common practice). What is in the wood now only a moisture meter tells: give measured before bonding."
        ]
    said = []
    word = _judge(found, limit)
    if word == "damp enough for fungus":
        said.append(
            f"Wood over {_FUNGUS.value:g} %: suspect fungus (FAA AC 43.13-1B par. 1-29g). Probe for soft or discoloured "
            f"wood; do not bond or seal it before it is dry and found sound, and replace what is decayed."
        )
    elif word in ("too damp", "too damp for cloth"):
        most = _DAMP.value if word == "too damp" else limit
        said.append(
            f"Wood over {most:g} %: do not {'bond or sheathe' if word == 'too damp' else 'seal or sheathe'} it yet. Damp shut in "
            f"under epoxy lifts the cloth as it dries and can rot the wood: sticker it in drier air and measure again."
        )
    elif word == "too dry":
        said.append(
            f"Wood under {_DRY.value:g} %: it takes up water and swells after bonding. "
            f"Leave it in air that keeps it within {_DRY.value:g} to {min(limit, _DAMP.value):g} % and measure again."
        )
    if word == "fit" and _judge(content, limit) != "fit":
        said.append(
            f"Fit now, but this air takes it to {content:.1f} %, its surface within hours (common practice): keep it wrapped "
            f"and bond it soon after the last surfacing (FAA AC 43.13-1B par. 1-6: the least time between the two)."
        )
    elif word != "fit" and abs(found - content) < _DRIFT.value:
        said.append(
            f"The wood is within {_DRIFT.value:g} % of what this air keeps it at: it will not come right here without other air."
        )
    return said


def _air_cautions(at: float, relative: float, limit: float, least: float, highest: float) -> list[str]:
    said = []
    word = _judge(_equilibrium(at, relative), limit)
    if word == "too dry":
        said.append(
            f"Air too dry for wood to be left in: bring humidity to {least:.1f} % or more at this temperature, or keep the wood "
            f"wrapped."
        )
    elif word != "fit":
        said.append(
            f"Air too damp for wood to be left in: bring humidity to {highest:.1f} % or less at this temperature with a dryer, "
            f"or warm the room without adding water (no open flame) and work it out again."
        )
    else:
        other = {
            _judge(_equilibrium(at, min(100.0, max(0.0, relative + doubt))), limit)
            for doubt in (-HYGROMETER_DOUBT, HYGROMETER_DOUBT)
        }
        if other != {"fit"}:
            said.append(
                f"Close: a hygrometer that reads {HYGROMETER_DOUBT:g} % wrong (common practice) would make this air unfit; best "
                f"keep it well within {least:.1f} to {highest:.1f} %."
            )
    if relative > _WET.value:
        said.append(
            f"Over {_WET.value:g} % humidity the published table ends: wood can be wetter than worked out. Take it as wet."
        )
    return said


# Humidity and moisture from 1 %: it stops 0.65 typed for 65 %, and 0.12 for 12 %. The table begins at 30 °F, −1.1 °C.
CALCULATOR = Calculator(
    name="moisture", title="Moisture of wood in this air",
    inputs=(
        Field("air", "Air temperature", Measure("°C", low=-1.2, high=60, soft_low=5, soft_high=35), "Where the wood is kept.",
            required=True),
        Field("humidity", "Relative humidity", Measure("%", low=1, high=100, soft_low=15, soft_high=_WET.value),
            "In %, where the wood is kept, as it is for most of the day.", required=True),
        Field("measured", "Moisture measured", Measure("%", low=1, high=200, soft_low=5, soft_high=30),
            "Of the wood, by a moisture meter or by oven-drying, in % of its dry mass: then the verdict is of the wood."),
        Field("most", "Most under epoxy", Measure("%", low=9, high=20, soft_low=10, soft_high=15), "From the epoxy's data sheet.",
            default=f"{_UNDER_CLOTH:g} %"),
    ),
    outputs=(
        Output("equilibrium", "Wood comes to", "%"),
        Output("verdict", "Verdict"),
        Output("wood_rule", "Aircraft-wood range"),
        Output("cloth_rule", "Limit under epoxy"),
        Output("to_give_off", "To give off (−: take up)", "%"),
        Output("humidity_least", "Least humidity to keep", "%"),
        Output("humidity_most", "Most humidity to keep", "%"),
    ),
    source=(
        _FORMULA,
        _TABLE,
        _INSPECTION,
        _FIT,
        Source(f"At most {_UNDER_CLOTH:g} % under epoxy and cloth, both parts within 2 to 3 %; hygrometer doubt "
            f"{HYGROMETER_DOUBT:g} %", "common practice"),
    ),
    valid="Solid softwood and ply at rest in steady air, −1 to 60 °C and up to 95 % humidity, as the published table. Species, "
    "glue, and whether the wood comes from wetter or drier move it by 1 to 2 % (memory); FPL-GTR-229 calls the data "
    "behind it too old for science. With measured given verdict and rules speak of the wood, without it of the air.",
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
