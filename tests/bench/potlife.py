"""Print how long a pot takes to solve and a sheet to calibrate, against scipy's LSODA on the same equations.

Run: python tests/bench/potlife.py [rounds]. The programs take turns; the ratios of the medians are the figures to read.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable

from scipy.integrate import solve_ivp

from shopmate.calc import potlife, run
from shopmate.models import arrhenius, use_by
from shopmate.models import pot as model


def lsoda(resin: model.Resin, pot: model.Pot) -> float:
    """Return the minutes to gel by LSODA at 1e-6, in conversion as the calculator does it."""
    lost = model.cooling(pot.bulk)

    def slope(conversion: float, state: list[float]) -> list[float]:
        rate = resin.scale * arrhenius.rate(state[1], model.REFERENCE, resin.activation) * model.shape(conversion)
        return [1 / rate, model.HEAT / model.HEAT_CAPACITY - lost * (state[1] - pot.room) / rate]

    solved = solve_ivp(slope, (0, model.GEL), (0.0, pot.start), method="LSODA", rtol=1e-6, atol=1e-6)
    return float(solved.y[0, -1]) / 60


def main(rounds: int) -> None:
    """Print the medians and their ratios."""
    sheet, second = use_by.Sheet(20, 100, 25), use_by.Sheet(8.5, 100, 40)
    resin = use_by.calibrated(sheet, arrhenius.ACTIVATION)
    cup, tray = sheet.pot(), model.Pot(model.tray_bulk(potlife._THINNEST.value), 12.0, 12.0)
    texts = {"sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C", "mass": "500 g", "temperature": "15 °C"}
    tasks: dict[str, Callable[[], object]] = {
        "LSODA at 1e-6": lambda: lsoda(resin, cup),
        "a pot": lambda: model.gel_minutes(resin, cup),
        "the stiffest tray": lambda: model.gel_minutes(resin, tray),
        "a calibration": lambda: use_by.calibrated(sheet, arrhenius.ACTIVATION),
        "a fit to two lines": lambda: use_by.fitted(sheet, second),
        "the calculator": lambda: run("potlife", texts),
        "with a largest pot": lambda: run("potlife", texts | {"needed": "35 min"}),
    }
    times: dict[str, list[float]] = {name: [] for name in tasks}
    for _ in range(rounds):
        for name, task in tasks.items():
            began = time.perf_counter()
            task()
            times[name].append(time.perf_counter() - began)
    base = statistics.median(times["LSODA at 1e-6"])
    for name, taken in times.items():
        middle = statistics.median(taken)
        print(f"{name:<18} {middle * 1000:7.2f} ms  {middle / base:6.2f} × LSODA")
    apart = abs(math.log(model.gel_minutes(resin, cup) / lsoda(resin, cup)))
    print(f"both say the same to {apart:.0e}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 25)
