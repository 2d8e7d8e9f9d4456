"""Cases answered by the calculator `lift`."""

from checks import text
from shopmate import calc

_FIELDS = {"H": "hand_distance", "V": "start_height", "D": "travel", "A": "twist", "CM": "grip", "load": "mass"}
_CM_PER_INCH = 2.5
"""What the two forms of the NIOSH equation count an inch as: 25 cm for 10 in, 75 cm for 30 in."""


def _typed(quantity):
    if quantity["unit"] == "in":
        return f"{quantity['value'] * _CM_PER_INCH} cm"
    return text({**quantity, "unit": quantity["unit"] if quantity["unit"] != "1" else ""})


def _outputs(inputs):
    assert inputs["FM"]["value"] == 1  # what the rate and duration of the defaults give
    fields = {_FIELDS[name]: _typed(value) for name, value in inputs.items() if name != "FM"}
    return calc.run("lift", {"mass": "10 kg", "placing": "let go", **fields}).outputs


def _limit(inputs):
    return {"RWL": _outputs(inputs)["limit"].value_in("kg")}


def _punch_press(inputs):
    got = _outputs(inputs)
    return {"RWL": got["limit"].value_in("lb"), "LI": got["index"].value_in("")}


def _load_constant(_):
    best = {"H": {"value": 25, "unit": "cm"}, "V": {"value": 75, "unit": "cm"}, "D": {"value": 25, "unit": "cm"}}
    got = _outputs({**best, "FM": {"value": 1}, "CM": {"value": 1, "unit": "1"}})["limit"]
    return {"LC": got.value_in("kg"), "LC_us": round(got.value_in("lb"))}


CASES = {"lift-01": _limit, "lift-03": _punch_press, "lift-04": _load_constant}
