"""Cases answered by the calculator `moisture`."""

from shopmate import calc


def _equilibrium(given):
    fields = {"air": f"{given['T_C']} °C", "humidity": f"{given['RH_percent']} %"}
    return {"emc_percent": calc.run("moisture", fields).outputs["equilibrium"].value_in("%")}


def _gate(given):
    fields = {"air": "20 °C", "humidity": "50 %", "measured": f"{given['mc_percent']} %"}
    return {"status": calc.run("moisture", fields).outputs["wood_rule"]}


CASES = {
    **dict.fromkeys(
        ["emc-15-70", "emc-20-50", "emc-21-30", "emc-21-80", "emc-21-90", "emc-30-40", "emc-60-55"],
        _equilibrium,
    ),
    **dict.fromkeys(["gate-mc-2", "gate-mc-3", "gate-mc-5"], _gate),
}
