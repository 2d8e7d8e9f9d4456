"""Answers of the mix calculator to the outside cases it can work out."""

from collections.abc import Callable, Mapping

from shopmate import calc


def _number(outputs: Mapping[str, object], name: str) -> float:
    return float(outputs[name].value)


def _volume_to_weight(inputs):
    outputs = calc.run(
        "mix",
        {
            "ratio": f"{inputs['vol_resin']}:{inputs['vol_hardener']} by volume",
            "total": "100 g",
            "resin_density": f"{inputs['density_resin_g_ml']} g/mL",
            "hardener_density": f"{inputs['density_hardener_g_ml']} g/mL",
        },
    ).outputs
    return {"hardener_phr": _number(outputs, "phr"), "mix_density_ideal_g_ml": _number(outputs, "density")}


def _scale_readings(inputs):
    outputs = calc.run(
        "mix",
        {
            "ratio": f"100:{inputs['hardener_phr']} by weight",
            "total": f"{inputs['batch_g']} g",
            "tare": f"{inputs['tare_g']} g",
        },
    ).outputs
    return {
        "resin_g": _number(outputs, "resin"),
        "hardener_g": _number(outputs, "hardener"),
        "reading_after_resin_g": _number(outputs, "scale_resin"),
        "reading_after_hardener_g": _number(outputs, "scale_hardener"),
    }


def _poured(inputs):
    outputs = calc.run(
        "mix",
        {
            "ratio": f"100:{inputs['hardener_phr']} by weight",
            "resin": f"{inputs['resin_g']} g",
            "hardener_poured": f"{inputs['hardener_g']} g",
            "tolerance": "5 %",
        },
    ).outputs
    return {
        "ratio_error_percent": _number(outputs, "poured_error"),
        "within_5_percent": outputs["poured_verdict"] == "within",
    }


def _scale_step(inputs):
    outputs = calc.run(
        "mix",
        {
            "ratio": f"100:{inputs['hardener_phr']} by weight",
            "total": f"{inputs['batch_g']} g",
            "scale_step": f"{inputs['scale_step_g']} g",
        },
    ).outputs
    return {
        "hardener_g": _number(outputs, "hardener"),
        "worst_hardener_error_percent_approx": _number(outputs, "hardener_error"),
    }


CASES: dict[str, Callable[[Mapping], dict]] = {
    "mix-vol2wt-1": _volume_to_weight,
    "mix-vol2wt-2": _volume_to_weight,
    "mix-vol2wt-4": _volume_to_weight,
    "mix-vol2wt-5": _volume_to_weight,
    "mix-scale-2": _scale_readings,
    "mix-scale-3": _scale_readings,
    "mix-ratio-error-1": _poured,
    "mix-ratio-error-2": _poured,
    "mix-scale-resolution": _scale_step,
}
