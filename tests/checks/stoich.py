"""Cases answered by the calculator `stoich`."""

from shopmate import calc


def _outputs(**texts):
    return calc.run("stoich", texts).outputs


def _phr(given):
    got = _outputs(eew=f"{given['eew_g_eq']} g/eq", ahew=f"{given['ahew_g_eq']} g/eq")
    return {"phr": got["phr"].value_in("")}


def _phr_of_amine(given):
    hydrogens = str(given["active_hydrogens"])
    got = _outputs(eew=f"{given['eew_g_eq']} g/eq", molar_mass=f"{given['molar_mass']} g/mol", active_hydrogens=hydrogens)
    return {"phr": got["phr"].value_in("")}


def _blend(given):
    parts = [f"{parts} {f'of {eew}' if eew else 'inert'}" for parts, eew in zip(given["parts"], given["eew"], strict=True)]
    return {"eew_g_eq": _outputs(blend=", ".join(parts))["eew"].value_in("g/eq")}


def _implied(given):
    got = _outputs(eew=f"{given['eew_g_eq']} g/eq", ratio=f"100:{given['hardener_phr']} by weight")
    return {"ahew_g_eq": got["implied_ahew"].value_in("g/eq")}


CASES = {
    "stoich-deta-200": _phr,
    "stoich-phr-209": _phr,
    "stoich-teta-190": _phr,
    "stoich-teta-13": _phr_of_amine,
    "stoich-eew-blend": _blend,
    "stoich-implied-ahew": _implied,
}
