"""What a run of a calculator comes to, and the one order in which every face of the program presents it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from shopmate import units
from shopmate.calculator import Output, Value, plain
from shopmate.records import dataclass, field
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
    has_figure: bool = True
    """False where what was asked for has no figure; not kept."""

    def as_json(self, declared: Sequence[Output] = ()) -> dict[str, object]:
        """Return the object of `--json`: values with units, working, cautions, sources.

        An output without a value has the unit it is `declared` with.
        """
        units = {output.name: output.unit for output in declared}
        return {
            "calculator": self.calculator,
            "inputs": {name: plain(value) for name, value in self.inputs.items()},
            "outputs": {name: plain(value, units.get(name)) for name, value in self.outputs.items()},
            "working": list(self.working),
            "cautions": [*self.doubts, *self.cautions],
            "sources": list(self.sources),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Result:
        """Return the result that was kept as JSON, its doubts among the cautions, a ratio as text; what was not kept is empty."""
        inputs, outputs = (
            {
                name: Quantity(value, unit)
                if isinstance(value := item["value"], float) and (unit := item["unit"]) is not None
                else value
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
    """A result as it is read, in this order: verdict, figures for the bench, doubts, cautions, other figures, working, sources.

    A face only lays out these parts.
    """

    result: Result
    declared: Sequence[Output]
    """The outputs of its calculator by importance; what is not among them comes last, under its own name."""
    system: System | None
    """The system whose units its figures are shown in; None for the units they have."""
    lead: Sequence[str] = ()
    """Names of the figures for the bench, in their order; without them they are the first LEAD of the calculator."""

    @property
    def verdict(self) -> tuple[Figure, ...]:
        """How it is judged, where it is."""
        return self._figures([VERDICT])

    @property
    def figures(self) -> tuple[Figure, ...]:
        """What the bench goes by."""
        return self._figures(self._lead)

    @property
    def doubts(self) -> tuple[str, ...]:
        """What is odd about the figures it was given: they make all that follows doubtful."""
        return self.result.doubts

    @property
    def cautions(self) -> tuple[str, ...]:
        """What it warns of, in the calculator's order: what changes the work first."""
        return tuple(self.said(line) for line in self.result.cautions)

    @property
    def others(self) -> tuple[Figure, ...]:
        """The further figures."""
        lead = self._lead
        return self._figures([name for name in self._known if name not in lead])

    @property
    def working(self) -> tuple[str, ...]:
        """The formulas with the numbers put in."""
        return tuple(units.working_in(line, self.system or "metric") for line in self.result.working)

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the formulas and constants come from."""
        return self.result.sources

    def said(self, text: str) -> str:
        """Return a text of the calculator as it is read: its figures in the units of the system."""
        return units.in_system(text, self.system or "metric")

    @property
    def head(self) -> tuple[Figure, ...]:
        """The verdict and the figures for the bench: what comes before the warnings."""
        return (*self.verdict, *self.figures)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The doubts, then the cautions."""
        return (*self.doubts, *self.cautions)

    @property
    def _known(self) -> list[str]:
        """The names of the outputs that have a value, but for the verdict."""
        outputs = self.result.outputs
        names = dict.fromkeys([*(output.name for output in self.declared), *outputs])
        return [name for name in names if name != VERDICT and outputs.get(name) is not None]

    @property
    def _lead(self) -> list[str]:
        return [name for name in self.lead if name != VERDICT] if self.lead else self._known[:LEAD]

    def _figures(self, names: Sequence[str]) -> tuple[Figure, ...]:
        declared, found = {output.name: output for output in self.declared}, []
        for name in names:
            if (value := self.result.outputs.get(name)) is not None:
                output = declared.get(name)
                if output is None:
                    found.append(Figure(name, shown(value, self.system), name, value))
                else:
                    read = shown(value, self.system, output.places, gauged=output.gauged)
                    found.append(Figure(self.said(output.title), read, name, value))
        return tuple(found)


def shown(value: Value, system: System | None, places: int | None = None, *, gauged: bool = False) -> Shown:
    """Return a value as it is read in `system`, or in its own unit where that is None; rounded to `places` of its own unit."""
    if system is not None and isinstance(value, Quantity):
        return units.display(value, system, places, gauged=gauged)
    return units.shown(value, places)
