"""Cases answered by the calculator `cure`."""

from shopmate import calc, units
from shopmate.models.arrhenius import GAS_CONSTANT


def _outputs(**texts):
    return calc.run("cure", texts).outputs


def _age(given):
    history = " ".join(f"{hours}h@{celsius}C" for hours, celsius in given["history_h_C"])
    outputs = _outputs(
        sheet_time="24 h",
        sheet_temperature=f"{given['Tref_C']} °C",
        history=history,
        activation=f"{given['E_J_mol'] / 1000} kJ/mol",
    )
    return {"equivalent_h": outputs["equivalent_age"].value_in("h")}


def _concrete(given):
    activation = units.show_number(given["E_over_R_K"] * GAS_CONSTANT / 1000)
    outputs = _outputs(
        sheet_time="24 h",
        sheet_temperature=f"{given['Tref_C']} °C",
        temperature=f"{given['T_C']} °C",
        activation=f"{activation} kJ/mol",
    )
    return {"age_factor": outputs["rate"].value_in("")}


def _rate(given):
    outputs = _outputs(
        sheet_time="24 h",
        sheet_temperature=f"{given['T1_C']} °C",
        temperature=f"{given['T2_C']} °C",
        activation=f"{given['E_J_mol'] / 1000} kJ/mol",
    )
    return {"rate_ratio": outputs["rate"].value_in("")}


def _fit(given):
    outputs = _outputs(
        sheet_time=f"{given['rate_ratio']} h",
        sheet_temperature=f"{given['T1_C']} °C",
        temperature=f"{given['T1_C']} °C",
        other_time="1 h",
        other_temperature=f"{given['T2_C']} °C",
    )
    return {"E_J_mol": outputs["activation"].value_in("kJ/mol") * 1000}


CASES = {
    "eqage-1": _age,
    "eqage-2": _age,
    "eqage-4": _age,
    "eqage-concrete": _concrete,
    "arrh-50": _rate,
    "arrh-60": _rate,
    "arrh-double": _fit,
}
