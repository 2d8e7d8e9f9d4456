"""Checks against the outside: cases with source and mark in the YAML files here, answered by one module a calculator.

A module of this folder holds `CASES = {case id: function}`; the function takes the inputs of the case and returns
{expected name: value} in the units that the expected names state, worked out as a user would: from texts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import yaml

Adapter = Callable[[Mapping[str, object]], Mapping[str, object]]

FILES = ("epoxy", "fasteners", "assembly", "structures", "building")

_ARITHMETIC = 1e-9
"""What 'exact' allows a number: the last digits of floating-point arithmetic."""


@dataclass(frozen=True)
class Case:
    """One check: what is given, what the source says comes out, and how closely it says so."""

    id: str
    file: str
    quantity: str
    inputs: Mapping[str, object]
    expected: Mapping[str, object]
    tolerance: Mapping[str, object]
    source: str
    mark: str
    calculator: str = ""
    """The calculator whose own fields and outputs it names, where it names those."""

    def misses(self, got: Mapping[str, object]) -> list[str]:
        """Return one line for each expected name that `got` does not answer within the tolerance."""
        if set(got) != set(self.expected):
            return [f"answers {sorted(got)}, expected {sorted(self.expected)}"]
        return [
            f"{name}: got {got[name]!r}, expected {_bare(wanted)!r} ({dict(self.tolerance)})"
            for name, wanted in self.expected.items()
            if not _close(got[name], _bare(wanted), *limits(self.tolerance))
        ]


def limits(tolerance: Mapping[str, object]) -> tuple[float, float]:
    """Return the relative and the absolute tolerance for numbers; texts and booleans are always exact.

    The forms in the files: {rel}, {abs}, both, of which the larger counts, {abs_in}, {abs_mm}, {abs_ratio, verdict: exact}
    (absolute, in the unit of the expected name), {type: relative or absolute or exact, value}, {exact: true} and {label: exact}.
    """
    kinds = {**tolerance, str(tolerance.get("type")): tolerance.get("value")}
    rel = [float(str(value)) for name, value in kinds.items() if name in ("rel", "relative")]
    absolute = [
        float(str(value)) for name, value in kinds.items() if name in ("abs", "abs_in", "abs_mm", "abs_ratio", "absolute")
    ]
    if rel or absolute:
        return sum(rel), sum(absolute)
    if "exact" in kinds or kinds.get("label") == "exact":
        return _ARITHMETIC, 0.0
    raise ValueError(f"no tolerance of a known form: {dict(tolerance)}")


def _bare(expected: object) -> object:
    """Return the value of {"value", "unit"}, and anything else as it is."""
    return expected["value"] if isinstance(expected, dict) else expected


def _close(got: object, wanted: object, rel: float, absolute: float) -> bool:
    if isinstance(wanted, list):
        return (
            isinstance(got, list | tuple)
            and len(got) == len(wanted)
            and all(_close(one, other, rel, absolute) for one, other in zip(got, wanted, strict=True))
        )
    if isinstance(wanted, bool | str) or isinstance(got, bool | str):
        return type(got) is type(wanted) and got == wanted
    return isinstance(got, int | float) and math.isclose(got, float(str(wanted)), rel_tol=rel, abs_tol=absolute)


@cache
def cases() -> dict[str, Case]:
    """Return every case by its id, in the order of the files."""
    found: dict[str, Case] = {}
    for file in FILES:
        for item in yaml.safe_load((Path(__file__).parent / f"{file}.yaml").read_text(encoding="utf-8")):
            assert item["id"] not in found, f"{file}.yaml: {item['id']} is there twice"
            found[item["id"]] = Case(
                id=item["id"],
                file=file,
                quantity=item["quantity"],
                inputs=item["inputs"],
                expected=item["expected"],
                tolerance=item["tolerance"],
                source=item["source"],
                mark=item["got"],
                calculator=item.get("calculator", ""),
            )
    return found


@cache
def adapters() -> dict[str, Adapter]:
    """Return every adapter by the id of its case, gathered from the modules of this folder."""
    found: dict[str, Adapter] = {}
    for module in iter_modules(__path__):
        own: Mapping[str, Adapter] = import_module(f"{__name__}.{module.name}").CASES
        twice = found.keys() & own.keys()
        assert not twice, f"tests/checks/{module.name}.py answers again: {sorted(twice)}"
        found |= own
    return found


def text(given: object) -> str:
    """Return {"value", "unit"} as a user would type it."""
    assert isinstance(given, dict), given
    unit = {"fraction": "", "count": "", "degC": "°C"}.get(given["unit"], given["unit"])
    number = given["value"] * 100 if given["unit"] == "fraction" else given["value"]
    return f"{number} {unit}".strip()
