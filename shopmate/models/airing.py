"""Vapour in a ventilated room: the fresh air a source needs, the level it leads to, and how long the room takes to clear.

A mixing factor K from 1 (perfect) to 10 allows for air that leaves the room without mixing: only Q / K of a flow Q dilutes the
vapour.
"""

from __future__ import annotations

import math

from shopmate.models.arrhenius import ZERO_CELSIUS

MOLAR_VOLUME = 24.45
"""Litres taken by one mole of vapour at 25 °C and 1 atm, the figure used to convert exposure limits; R T / p is 24.465
[computed]."""

STATED_AT = 25.0
"""Temperature in °C of the molar volume, at which limits and vapour pressures are stated [common practice]. No Threshold needed:
below it vapour pressures are left as they are, which is safe."""

PER_MILLION = 1e6
"""ppm of pure vapour, by definition. No Threshold needed: there is no more vapour than that."""


def vapour_made(grams: float, molar_mass: float, celsius: float) -> float:
    """Return m³/h of vapour from g/h evaporated at g/mol: mass / M × molar volume (24.45 L at 25 °C, 24.04 at 20) [computed]."""
    litres = MOLAR_VOLUME * (celsius + ZERO_CELSIUS) / (STATED_AT + ZERO_CELSIUS)
    return grams / molar_mass * litres / 1000


def diluted_by(vapour: float, ppm: float) -> float:
    """Return the effective flow in m³/h that keeps m³/h of vapour at `ppm`: Q' = G 10⁶ / C.

    University of Toledo, industrial ventilation formulae [read]; the same as 403·10⁶ SG ER / (M C) in pints and ft³ a minute.
    """
    return vapour * PER_MILLION / ppm


def steady_level(vapour: float, flow: float, mixing: float) -> float:
    """Return the ppm that a steady source leads to in the end: 10⁶ G K / Q, no more than pure vapour [computed]."""
    return min(PER_MILLION, PER_MILLION * vapour * mixing / flow) if flow else PER_MILLION


def level_after(vapour: float, flow: float, mixing: float, room: float, hours: float) -> float:
    """Return ppm some hours after a steady source starts in clean air: G / (n V) (1 − e^(−n t)), n = Q / (K V).

    An engineering reference site [read], the mixing factor added; G t / V without a flow, never more than
    pure vapour.
    """
    changes = flow / (mixing * room)
    held = -math.expm1(-changes * hours) / changes if changes else hours
    return min(PER_MILLION, PER_MILLION * vapour / room * held)


def hours_to_clear(start: float, target: float, flow: float, mixing: float, room: float) -> float | None:
    """Return hours from one ppm to another once nothing evaporates: (V K / Q) ln(C0 / C); 0 if reached, None without a flow.

    First-order decay: an industrial hygienist's note [read], the mixing factor added.
    """
    if start <= target:
        return 0.0
    return room * mixing / flow * math.log(start / target) if flow else None


def flow_to_clear(start: float, target: float, hours: float, mixing: float, room: float) -> float:
    """Return the flow in m³/h that brings one ppm down to another in that many hours, 0 if it is there already."""
    return room * mixing / hours * math.log(start / target) if start > target else 0.0
