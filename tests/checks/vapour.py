"""Cases answered by the calculator `vapour` and its table of limits, which also holds the dusts and isocyanates of the bench."""

from checks import text
from shopmate import calc, tables
from shopmate.calc.vapour import mass_concentration


def _limit(substance, body, kind, unit, *, note=""):
    """Return the one limit of the table that answers the description."""
    rows = [
        row
        for row in tables.load("exposure_limits").rows
        if (row["substance"], row["body"], row["kind"], row["unit"]) == (substance, body, kind, unit) and note in row["note"]
    ]
    assert len(rows) == 1, rows
    return float(rows[0]["value"])


def _room(given):
    # The case names its own density and molar mass of ethanol; the table has the same.
    row = tables.load("solvents").row("solvent", "ethanol")
    assert float(row["density_g_ml"]) == given["density"]["value"]
    assert float(row["molar_mass_g"]) == given["molar_mass"]["value"]
    result = calc.run("vapour", {"solvent": "ethanol", "volume": text(given["volume"]), "room": text(given["room"])})
    return {"concentration": result.outputs["concentration"].value_in("ppm")}


def _ethanol(given):
    result = calc.run("vapour", {"solvent": given["substance"]["value"].split()[0], "volume": "1 mL", "room": "50 m³"})
    shown = result.outputs["limit"].value_in("ppm")
    assert shown == min(_limit("ethanol", body, "TWA", "ppm") for body in ("NIOSH", "OSHA"))
    return {
        "NIOSH_REL_TWA": _limit("ethanol", "NIOSH", "TWA", "ppm"),
        "OSHA_PEL_TWA": _limit("ethanol", "OSHA", "TWA", "ppm"),
        "IDLH": result.outputs["idlh"].value_in("ppm"),
        "LEL": _limit("ethanol", "NIOSH", "LEL", "%"),
        "flash_point": _limit("ethanol", "NIOSH", "flash point", "degF"),
    }


def _mass(given):
    return {"concentration": mass_concentration(given["concentration"]["value"], given["molar_mass"]["value"])}


def _silica(given):
    # 80 / % SiO2: the table holds it at 100 %.
    return {"limit": _limit("amorphous silica", "OSHA", "TWA", "mg/m3") * 100 / given["percent_SiO2"]["value"]}


CASES = {
    "foam-12": _mass,
    "safe-01": lambda given: {
        "NIOSH_REL_TWA": _limit("MDI", "NIOSH", "TWA", "ppm"),
        "NIOSH_ceiling_10min": _limit("MDI", "NIOSH", "ceiling", "ppm", note="10 minutes"),
        "OSHA_ceiling": _limit("MDI", "OSHA", "ceiling", "ppm"),
        "IDLH": _limit("MDI", "NIOSH", "IDLH", "mg/m3"),
    },
    "safe-02": lambda given: {
        "NIOSH_REL_TWA": _limit("amorphous silica", "NIOSH", "TWA", "mg/m3"),
        "OSHA_count": _limit("amorphous silica", "OSHA", "TWA", "mppcf"),
        "IDLH": _limit("amorphous silica", "NIOSH", "IDLH", "mg/m3"),
    },
    "safe-03": _silica,
    "safe-05": lambda given: {
        "NIOSH_REL_TWA": _limit("wood dust", "NIOSH", "TWA", "mg/m3"),
        "OSHA_total": _limit("wood dust", "OSHA", "TWA", "mg/m3", note="total"),
        "OSHA_respirable": _limit("wood dust", "OSHA", "TWA", "mg/m3", note="respirable"),
        "ACGIH_western_red_cedar": _limit("western red cedar dust", "ACGIH", "TWA", "mg/m3"),
    },
    "safe-06": _ethanol,
    "safe-08": _mass,
    "safe-10": _room,
}
