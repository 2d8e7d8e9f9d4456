"""What a run of a calculator comes to, and the one order in which every face of the program presents it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import Any

from shopmate import units
from shopmate.calculator import Output, Value, plain
from shopmate.records import dataclass
from shopmate.units import Quantity, Shown, System

VERDICT = "verdict"
"""Name of the output that judges a result in a word or two."""

LEAD = 2
"""Figures for the bench where nothing names them: the first of the calculator, as many as are read in one look."""


@dataclass(frozen=True, slots=True)
class Result:
    """What a run of a calculator shows and what the log keeps."""

    calculator: str
    inputs: Mapping[str, Value]
    """Each input as understood, in the unit it was given in."""
    outputs: Mapping[str, Value | None]
    """Each output in its declared unit, unrounded."""
    working: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    doubts: tuple[str, ...] = field(default=())
    """Inputs outside their soft limits or read without a unit, to be asked about."""

    def as_json(self) -> dict[str, object]:
        """Return the object of `--json`: values with units, working, cautions, sources."""
        return {
            "calculator": self.calculator,
            "inputs": {name: plain(value) for name, value in self.inputs.items()},
            "outputs": {name: plain(value) for name, value in self.outputs.items()},
            "working": list(self.working),
            "cautions": [*self.doubts, *self.cautions],
            "sources": list(self.sources),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Result:
        """Return the result that was kept as JSON, its doubts among the cautions, a ratio as text; what was not kept is empty."""
        inputs, outputs = (
            {
                name: value
                if (value := item["value"]) is None or (unit := item["unit"]) is None
                else Quantity(float(value), unit)
                for name, item in data.get(key, {}).items()
            }
            for key in ("inputs", "outputs")
        )
        return cls(
            calculator=data.get("calculator", ""),
            inputs=inputs,
            outputs=outputs,
            working=tuple(data.get("working", ())),
            cautions=tuple(data.get("cautions", ())),
            sources=tuple(data.get("sources", ())),
        )


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, or a word, that is read."""

    label: str
    shown: Shown
    name: str = ""
    """The output it is, '' where it is none."""
    value: Value | None = None

    def __str__(self) -> str:
        return f"{self.label}: {self.shown}"


@dataclass(frozen=True, slots=True)
class Presentation:
    """A result as it is read; its parts come in the order in which they are declared here, a face only lays them out."""

    verdict: tuple[Figure, ...]
    """How it is judged, where it is."""
    figures: tuple[Figure, ...]
    """What the bench goes by."""
    doubts: tuple[str, ...]
    """What is odd about the figures it was given: they make all that follows doubtful."""
    cautions: tuple[str, ...]
    """What it warns of, in the calculator's order: what changes the work first."""
    others: tuple[Figure, ...]
    working: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def head(self) -> tuple[Figure, ...]:
        """The verdict and the figures for the bench: what comes before the warnings."""
        return (*self.verdict, *self.figures)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The doubts, then the cautions."""
        return (*self.doubts, *self.cautions)


def present(result: Result, declared: Sequence[Output], system: System | None, lead: Sequence[str] = ()) -> Presentation:
    """Return how a result is read, its figures as `figures` returns them.

    `lead` names the figures for the bench, in their order; without it they are the first LEAD of the calculator.
    """
    known = figures(result.outputs, declared, system)
    verdict = tuple(figure for figure in known if figure.name == VERDICT)
    rest = {figure.name: figure for figure in known if figure.name != VERDICT}
    first = tuple(rest[name] for name in lead or list(rest)[:LEAD] if name in rest)
    return Presentation(
        verdict=verdict,
        figures=first,
        doubts=result.doubts,
        cautions=result.cautions,
        others=tuple(figure for figure in rest.values() if figure not in first),
        working=result.working,
        sources=result.sources,
    )


def figures(outputs: Mapping[str, Value | None], declared: Sequence[Output], system: System | None) -> list[Figure]:
    """Return the outputs that have a value: the verdict first, the others by importance, what is not declared by its name last.

    Quantities are shown in a unit of `system`, or in the one they have where it is None.
    """
    own = {output.name: output for output in declared}
    names = sorted(dict.fromkeys((*own, *outputs)), key=lambda name: name != VERDICT)
    found = []
    for name in names:
        if (value := outputs.get(name)) is not None:
            title, places = (own[name].title, own[name].places) if name in own else (name, None)
            found.append(Figure(title, shown(value, system, places), name, value))
    return found


def shown(value: Value, system: System | None, places: int | None = None) -> Shown:
    """Return a value as it is read in `system`, or in its own unit where that is None; rounded to `places` of its own unit."""
    if system is not None and isinstance(value, Quantity):
        return units.display(value, system, places)
    return units.shown(value, places)
