"""Answers of the screw calculator, and of the tables it reads, to the outside cases it can work out."""

from collections.abc import Callable, Mapping

from shopmate import calc, tables
from shopmate.calc.screw import countersink_depth, design_withdrawal
from shopmate.units import Quantity

_LBF_IN_MM = 4.4482216152605 / 25.4
"""One pound-force per inch in N/mm, by definition of both."""

_BASES = {
    "Wood Handbook two-thirds of shank": "Wood Handbook two-thirds",
    "NDS rolled-thread D_r": "NDS rolled thread",
    "two-thirds of shank": "Wood Handbook two-thirds",
}


def _screw(**texts):
    given = {"head": "flat 82", "length": "2 in", "holding": "0.45", **texts}
    return calc.run("screw", {name: text for name, text in given.items() if text}).outputs


def _inches(value):
    return value.value_in("in")


def _gauge(inputs):
    return f"#{inputs['gauge']}"


def _shank(inputs):
    return {"diameter_in": _inches(_screw(size=_gauge(inputs))["major"])}


def _max_major(inputs):
    return {"diameter_in": _inches(_screw(size=_gauge(inputs))["major_max"])}


def _body(inputs):
    row = tables.load("wood_screws").row("gauge", str(inputs["gauge"]))
    return {"min_in": float(row["body_min_in"]), "max_in": float(row["body_max_in"])}


def _root(inputs):
    return {"diameter_in": _inches(_screw(size=_gauge(inputs), basis=_BASES[inputs["basis"]])["root"])}


def _metric_core(inputs):
    got = _screw(size=f"{inputs['d_mm']:g} mm", head="pan", length="40 mm", basis="DIN 7998 core")
    return {"core_mm": got["root"].value_in("mm")}


def _tapping(inputs):
    table = tables.load("metric_screws")
    return {"gauge": [int(table.row("size", size)["gauge"]) for size in inputs["st"]]}


def _flat_head(inputs):
    got = _screw(size=_gauge(inputs))
    return {"head_dia_max_in": _inches(got["head_diameter"]), "head_height_in": _inches(got["head_height"])}


def _flat_mean(inputs):
    row = tables.load("wood_screws").row("gauge", str(inputs["gauge"]))
    return {"head_dia_in": (float(row["flat_max_in"]) + float(row["flat_min_in"])) / 2}


def _pan_head(inputs):
    row = tables.load("pan_heads").row("gauge", str(inputs["gauge"]))
    return {
        "head_dia_max_in": float(row["diameter_in"]),
        "height_slotted_in": float(row["slotted_height_in"]),
        "height_recessed_in": float(row["recessed_height_in"]),
    }


def _bolted(size):
    return _screw(size=size, head="flat 90", length="30 mm", holding="nut or insert")


def _metric_head(inputs):
    got = _bolted(inputs["size"])
    return {"dk_theoretical_mm": got["countersink"].value_in("mm"), "k_mm": got["head_height"].value_in("mm")}


def _socket_head(inputs):
    rows = tables.load("metric_heads").rows
    row = next(row for row in rows if row["standard"] == inputs["standard"] and row["size"] == inputs["size"])
    return {"dk_theoretical_mm": float(row["sharp_mm"]), "k_mm": float(row["height_mm"])}


def _head_height(inputs):
    return {"k_mm": _bolted(f"M{inputs['d_mm']:g}")["head_height"].value_in("mm")}


def _countersink_depth_inch(inputs):
    got = _screw(size="#6")
    assert abs(_inches(got["countersink"]) - inputs["countersink_dia_in"]) < 1e-9
    assert abs(_inches(got["clearance"]) - inputs["hole_dia_in"]) < 1e-9
    return {"depth_in": _inches(got["countersink_depth"])}


def _countersink_depth_metric(inputs):
    return {"depth_mm": _bolted("M4")["countersink_depth"].value_in("mm")}


def _countersink_depth_rivet(inputs):
    return {"depth_in": countersink_depth(inputs["countersink_dia_in"], inputs["hole_dia_in"], inputs["angle_deg"])}


def _countersink(inputs):
    got = _inches(_screw(size=_gauge(inputs))["countersink"])
    return {"countersink_dia_in": got, "label": f"{round(got * 32)}/32"}


def _sheet(inputs):
    got = _screw(size=_gauge(inputs), top="aluminium", top_thickness=f"{inputs['sheet_in']} in")
    return {"head_over_sheet": got["head_ratio"].value_in(""), "verdict": got["verdict"].replace(" ", "_")}


def _breakout(inputs):
    got = _screw(size="#6", top="aluminium", top_thickness=f"{inputs['sheet_in']} in")
    return {"back_dia_in": _inches(got["back_opening"])}


def _sheet_least(inputs):
    rows = tables.load("countersink_sheets").rows
    row = next(
        row for row in rows if row["fastener"] == inputs["kind"] and float(row["diameter_in"]) == inputs["fastener_dia_in"]
    )
    return {"min_sheet_in": float(row["sheet_min_in"])}


def _clearance_metric(inputs):
    names = {"close_mm": "close", "medium_mm": "normal", "coarse_mm": "loose"}
    got = {
        name: _screw(size=inputs["size"], head="pan", length="30 mm", holding="nut or insert", fit=fit)["clearance"]
        for name, fit in names.items()
    }
    return {name: value.value_in("mm") for name, value in got.items()}


def _clearance_inch(inputs):
    fits = ("close", "normal", "loose")
    return {f"{fit}_in": _inches(_screw(size=inputs["size"], fit=fit)["clearance"]) for fit in fits}


def _shank_hole(inputs):
    got = _screw(size=_gauge(inputs))
    return {"hole_in": _inches(got["clearance"]), "label": got["clearance_drill"].removesuffix(" in")}


def _lead(inputs):
    return {"hole_in": _inches(_screw(size=_gauge(inputs), holding=str(inputs["G"]))["pilot"])}


def _lead_needed(inputs):
    return {"lead_hole_required": _screw(size=_gauge(inputs), holding=str(inputs["G"]))["pilot_needed"] == "yes"}


def _lead_lateral(inputs):
    got = _screw(size=_gauge(inputs), holding=str(inputs["G"]), joint="lateral")
    return {"shank_hole_in": _inches(got["shank_hole"]), "thread_hole_in": _inches(got["pilot"])}


def _lead_softwood(inputs):
    got = _screw(size=_gauge(inputs))
    return {"hole_in": _inches(got["pilot"]), "nearest_64th": got["pilot_drill"].removesuffix(" in")}


def _lead_two_thirds(inputs):
    return {"hole_in": _inches(_screw(size=_gauge(inputs), basis=_BASES[inputs["root_basis"]])["pilot"])}


def _per_mm(size, gravity):
    got = _screw(size=size, holding=str(gravity))
    return got["withdrawal_design"].value_in("N") / got["thread_in_holding"].value_in("mm")


def _design(inputs):
    return {"W_lb_per_in": _per_mm(_gauge(inputs), inputs["G"]) / _LBF_IN_MM}


def _design_no_gauge(inputs):
    def pounds(inches):
        return design_withdrawal(inputs["G"], inputs["D_in"] * 25.4, inches * 25.4) / (_LBF_IN_MM * 25.4)

    return {"W_lb_per_in": pounds(1), "W_for_1p5in_lb": pounds(1.5)}


def _design_metric(inputs):
    size = next(size for size in ("#8", "#10", "#12") if abs(_screw(size=size)["major"].value_in("mm") - inputs["D_mm"]) < 1e-3)
    return {"W_N_per_mm": _per_mm(size, inputs["G"])}


def _end_grain(inputs):
    got = _screw(size=_gauge(inputs), holding=str(inputs["G"]), grain=inputs["grain"])["withdrawal_design"].value_in("N")
    return {"allowed": got > 0, "C_eg": got / _screw(size=_gauge(inputs), holding=str(inputs["G"]))["withdrawal_design"].value}


def _thread_length(inputs):
    return {"thread_in": _inches(_screw(size=_gauge(inputs), length=f"{inputs['length_in']} in")["thread_length"])}


def _penetration(inputs):
    got = _screw(size=_gauge(inputs), joint="lateral")
    return {"p_min_in": _inches(got["penetration_least"]), "p_full_in": _inches(got["penetration_full"])}


def _ultimate(inputs):
    long, gravity = f"{inputs['L_in']} in", str(inputs["G"])
    got = _screw(size="#8", holding=gravity, thread=long)
    assert abs(_inches(got["thread_in_holding"]) - inputs["L_in"]) < 1e-9
    return {"p_lb": got["withdrawal_ultimate"].value_in("lbf")}


def _ultimate_over_design(inputs):
    got = _screw(size="#8")
    assert isinstance(got["withdrawal_design"], Quantity)
    return {"ratio": got["withdrawal_ultimate"].value / got["withdrawal_design"].value}


_HANDBOOK_NAMES = {
    "Douglas-fir, Coast": "Douglas-fir coast",
    "Spruce, Sitka": "Sitka spruce",
    "Maple, sugar": "sugar maple",
    "Yellow-poplar": "yellow-poplar",
}
_NDS_NAMES = {
    "Douglas Fir-Larch": "Douglas fir-larch",
    "Spruce-Pine-Fir": "spruce-pine-fir",
    "Sitka Spruce": "Sitka spruce",
}


def _gravity_at_12(inputs):
    return {"G": float(tables.load("woods").row("wood", _HANDBOOK_NAMES[inputs["species"]])["g_12"])}


def _gravity_dry(inputs):
    return {"G": float(tables.load("woods").row("wood", _NDS_NAMES[inputs["species"]])["g_oven_dry"])}


def _edge(inputs):
    return {"edge_in": _inches(_screw(size="#6", top="aluminium", top_thickness="1/8 in")["edge_distance"])}


CASES: dict[str, Callable[[Mapping], dict]] = {
    "shank-dia-no2": _shank,
    "shank-dia-no6": _shank,
    "shank-dia-no8": _shank,
    "shank-dia-no12": _shank,
    "max-major-no6": _max_major,
    "rolled-body-no8": _body,
    "root-dia-fpl-no8": _root,
    "root-dia-nds-no6": _root,
    "root-dia-nds-no8": _root,
    "root-dia-nds-no12": _root,
    "root-dia-metric-4": _metric_core,
    "tapping-gauge-map": _tapping,
    "flat-head-no4": _flat_head,
    "flat-head-no6": _flat_head,
    "flat-head-no10": _flat_head,
    "flat-head-no14": _flat_head,
    "flat-head-mean-no8": _flat_mean,
    "pan-head-no6": _pan_head,
    "pan-head-no8": _pan_head,
    "csk-head-m3-iso7046": _metric_head,
    "csk-head-m4-iso7046": _metric_head,
    "csk-head-m6-iso7046": _metric_head,
    "csk-head-m4-iso10642": _socket_head,
    "csk-height-identity-90": _head_height,
    "csk-depth-no6-9_32": _countersink_depth_inch,
    "csk-depth-m4": _countersink_depth_metric,
    "csk-depth-rivet-eighth-100": _countersink_depth_rivet,
    "csk-dia-no6-fraction": _countersink,
    "thin-sheet-no2-1_16": _sheet,
    "thin-sheet-no6-1_16": _sheet,
    "thin-sheet-no6-1_8": _sheet,
    "thin-sheet-no10-1_8": _sheet,
    "thin-sheet-no12-1_8": _sheet,
    "thin-sheet-breakout-dia-no6": _breakout,
    "min-gage-100deg-1_8": _sheet_least,
    "clearance-m3": _clearance_metric,
    "clearance-m5": _clearance_metric,
    "clearance-m6": _clearance_metric,
    "clearance-6-machine": _clearance_inch,
    "clearance-10-machine": _clearance_inch,
    "wood-shank-hole-rule-no8": _shank_hole,
    "lead-withdrawal-no8-sp": _lead,
    "lead-withdrawal-no10-whiteoak": _lead,
    "lead-none-spf": _lead_needed,
    "lead-lateral-no8-dfl": _lead_lateral,
    "lead-soft-no8-7090": _lead_softwood,
    "lead-soft-no8-fplroot": _lead_two_thirds,
    "withdrawal-nds-no10-050": _design,
    "withdrawal-nds-no14-050": _design,
    "withdrawal-nds-no14-042": _design,
    "withdrawal-nds-220-042": _design_no_gauge,
    "withdrawal-nds-metric": _design_metric,
    "withdrawal-endgrain-nds": _end_grain,
    "thread-length-rule": _thread_length,
    "min-penetration-no8": _penetration,
    "withdrawal-fpl-no8": _ultimate,
    "withdrawal-fpl-over-nds": _ultimate_over_design,
    "sg-fpl-douglas-fir-coast": _gravity_at_12,
    "sg-fpl-spruce-sitka": _gravity_at_12,
    "sg-fpl-maple-sugar": _gravity_at_12,
    "sg-fpl-yellow-poplar": _gravity_at_12,
    "sg-nds-douglas-fir-larch": _gravity_dry,
    "sg-nds-spruce-pine-fir": _gravity_dry,
    "sg-nds-sitka-spruce": _gravity_dry,
    "edge-metal-csk-no6": _edge,
}
