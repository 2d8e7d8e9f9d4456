"""Derivatives of the Kelvin functions ker and kei, used for a round load on a plate that rests on springs."""

from __future__ import annotations

import math

_EULER = 0.5772156649015329
"""Euler's constant, by definition."""

_SERIES_TO = 8.0
"""Largest argument for the series; above it both functions are below 0.003 and count as zero [computed]. No Threshold needed: it
is the end of a series."""

_TERMS = 30
"""Terms of the series: the last is below 10⁻¹⁶ of the sum at the largest argument [computed]."""


def derivatives(r: float) -> tuple[float, float]:
    """Return ker'(r) and kei'(r) for r > 0 by power series (Abramowitz and Stegun 9.9.10 to 9.9.12 [memory]); 0 above 8."""
    if r > _SERIES_TO:
        return 0.0, 0.0
    q, half = r * r / 4, r / 2
    ber = bei = ber_slope = bei_slope = ker_rest = kei_rest = 0.0
    for k in range(_TERMS):
        sign = (-1) ** k
        even, odd = math.factorial(2 * k) ** 2, math.factorial(2 * k + 1) ** 2
        ber += sign * q ** (2 * k) / even
        bei += sign * q ** (2 * k + 1) / odd
        bei_step = sign * (2 * k + 1) * q ** (2 * k) * half / odd
        bei_slope += bei_step
        kei_rest += _psi(2 * k + 2) * bei_step
        if k:
            ber_step = sign * 2 * k * q ** (2 * k - 1) * half / even
            ber_slope += ber_step
            ker_rest += _psi(2 * k + 1) * ber_step
    log = math.log(half)
    return (
        -log * ber_slope - ber / r + math.pi / 4 * bei_slope + ker_rest,
        -log * bei_slope - bei / r - math.pi / 4 * ber_slope + kei_rest,
    )


def _psi(n: int) -> float:
    """Return the digamma function of a whole number: 1 + 1/2 + ... + 1/(n − 1) − Euler's constant."""
    return math.fsum(1 / step for step in range(1, n)) - _EULER
