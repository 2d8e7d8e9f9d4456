"""Cases answered by the calculator `potlife`, and by the parts of its model that its face does not show."""

import math
from unittest.mock import patch

from checks import text
from shopmate import calc
from shopmate.models import arrhenius, use_by
from shopmate.models import pot as model

_MODEL = {
    "E_J_mol": arrhenius.ACTIVATION,
    "B": model.SEED,
    "M": 1,
    "N": 2,
    "q_J_g": model.HEAT,
    "cp_J_gK": model.HEAT_CAPACITY,
    "density_g_cm3": model.DENSITY,
    "alpha_end": model.GEL,
    "h_W_m2K": model.FILM,
    "k_W_mK": model.CONDUCTIVITY,
    "c_internal": model.INSIDE,
    "base_area_factor": model.BASE,
    "Tref_C": model.REFERENCE,
}


def _same_model(given, *apart):
    """Hold the constants of the case to those of the calculator: with others, its figures are not the calculator's."""
    for name in given.keys() & _MODEL.keys() - set(apart):
        assert given[name] == _MODEL[name], name


def _scale(given):
    _same_model(given)
    sheet = use_by.Sheet(given["pot_life_min"], given["mass_g"], given["T_C"])
    return {"S_per_s": use_by.calibrated(sheet, given["E_J_mol"]).scale}


def _predicted(given, **sheet):
    _same_model(given)
    # The pots of these cases are asked for through the sheet's line that the scale of the case was calibrated to.
    line = use_by.Sheet(*(float(sheet[name].split()[0]) for name in ("sheet_time", "sheet_mass", "sheet_temperature")))
    assert math.isclose(use_by.calibrated(line, given["E_J_mol"]).scale, given["S_per_s"], rel_tol=1e-5)
    mix, room = (given.get(name, given.get("T_C")) for name in ("T_mix_C", "T_room_C"))
    texts = sheet | {"mass": f"{given['mass_g']} g", "temperature": f"{mix} °C", "room": f"{room} °C"}
    if given["container"].startswith("tray"):
        texts |= {"container": "tray", "depth": given["container"].removeprefix("tray ").removesuffix(" deep")}
    share = given.get("epoxy_mass_fraction", 1.0)
    texts["filler_loading"] = f"{100 * (1 / share - 1):.9f} %"
    return {"t_gel_min": calc.run("potlife", texts).outputs["may_last"].value_in("min")}


def _twenty(given):
    return _predicted(given, sheet_time="20 min", sheet_mass="100 g", sheet_temperature="25 °C")


def _sixty(given):
    return _predicted(given, sheet_time="60 min", sheet_mass="150 g", sheet_temperature="25 °C")


def _adiabatic(given):
    _same_model(given)
    pot = model.Pot(math.inf, given["T_C"], given["T_C"])
    return {"t_gel_s": model.course(model.Resin(given["S_per_s"]), pot)[-1][1]}


def _isothermal(given):
    _same_model(given)
    pot = model.Pot(math.inf, given["T_C"], given["T_C"], reacting=0.0)
    return {"t_gel_s": model.course(model.Resin(given["S_per_s"]), pot)[-1][1]}


def _semenov(given):
    _same_model(given, "alpha_end")
    start, energy, rate = given["T0_K"] - 273.15, given["E_J_mol"], given["rate_at_T0_per_s"]
    assert start == model.REFERENCE
    pot = model.Pot(math.inf, start, start)
    course = model.course(model.Resin(rate, energy), pot, end=given["alpha_end"], shape=lambda conversion: 1.0)
    leading = given["cp_J_gK"] * 8.314462618 * given["T0_K"] ** 2 / (given["q_J_g"] * rate * energy)
    return {"t_s": course[-1][1], "ratio_to_leading": course[-1][1] / leading}


def _rise(heat, capacity):
    """Return the rise in K to full cure of a pot that loses no heat: the bulk's warming goes with its conversion."""
    with patch.object(model, "HEAT", heat), patch.object(model, "HEAT_CAPACITY", capacity):
        conversion, _, celsius = model.course(model.Resin(0.0005), model.Pot(math.inf, 25.0, 25.0), end=0.9)[-1]
    return (celsius - 25.0) / conversion


def _safe(given):
    assert text(given["heat_of_cure"]) == "400 J/g"
    assert text(given["heat_capacity"]) == "2.0 J/(g K)"
    return {"temperature_rise": _rise(given["heat_of_cure"]["value"], given["heat_capacity"]["value"])}


def _cup(given):
    _same_model(given)
    height, bulk = model.cup_height(given["mass_g"]), model.cup_bulk(given["mass_g"])
    return {
        "diameter_mm": height,
        "area_cm2": model.cup_area(given["mass_g"]) / 100,
        "V_over_A_mm": bulk,
        "U_W_m2K": model.transmittance(bulk),
    }


def _gel(given):
    return {"alpha_gel": model.gel_conversion(given["r_minority_over_majority"], given["f"])}


CASES = {
    "adiabatic-rise": lambda given: {"rise_K": _rise(given["q_J_g"], given["cp_J_gK"])},
    "cup-geometry": _cup,
    "gel-conv-2": _gel,
    "gel-conv-3": _gel,
    "heat-per-gram": lambda given: {"q_J_g": model.heat(given["dH_kJ_eq"] * 1000, given["eew_g_eq"], given["hardener_phr"])},
    "pot-adiabatic": _adiabatic,
    "pot-cal-20": _scale,
    "pot-cal-60": _scale,
    "pot-isothermal": _isothermal,
    "pot-pred20-1": _twenty,
    "pot-pred20-3": _twenty,
    "pot-pred20-4": _twenty,
    "pot-pred20-6": _twenty,
    "pot-pred20-7": _twenty,
    "pot-pred60-1": _sixty,
    "pot-pred60-3": _sixty,
    "pot-pred60-4": _sixty,
    "safe-12": _safe,
    "semenov-exact": _semenov,
}
