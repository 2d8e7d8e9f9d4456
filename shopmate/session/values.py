"""The texts of a recipe with the values of a run filled in: figures, limits, and the inputs of a calculator."""

from __future__ import annotations

from shopmate import calc, units
from shopmate.calculator import Count, Measure, Value
from shopmate.project.run import Held, Run
from shopmate.recipe import FIGURES, Ask, ChoiceAnswer, CountAnswer, Material, MeasureAnswer, Step, Template, WorkOut
from shopmate.records import dataclass, field
from shopmate.result import LEAD, Figure, Presentation, Result
from shopmate.units import Quantity, Shown, System

GAP = "—"
"""Shown where a text refers to a value that was never asked for, because its step did not apply."""

Results = dict[tuple[str, tuple[tuple[str, Value], ...]], Result]
"""Results already worked out, by calculator and its inputs."""


@dataclass(frozen=True, slots=True)
class Values:
    """The values of a run for the texts of its recipe, shown in `system`."""

    run: Run
    system: System
    results: Results = field(default_factory=dict)

    # Shown

    def display(self, quantity: Quantity, places: int | None = None) -> Shown:
        """Return a quantity in the project's system."""
        return units.display(quantity, self.system, places)

    def shown(self, name: str) -> str | None:
        """Return a value as texts show it, in the project's system."""
        held = self.run.value(name)
        if held is None:
            return None
        if held.quantity is not None:
            return str(self.display(held.quantity, held.decimals))
        return held.label or held.text

    def quantity_said(self, text: str, unit: str) -> str:
        """Return the text of a quantity (in `unit` if it has none) as the project shows it."""
        return str(self.display(units.parse(text, unit)))

    def said(self, text: str) -> str:
        """Return a text of the recipe with its figures in the project's system."""
        return units.in_system(text, self.system)

    def choices(self, answer: ChoiceAnswer) -> dict[str, str]:
        """Return the words of the answers to choose from by their keys, with their figures in the project's system."""
        return {key: self.said(words) for key, words in answer.choices.items()}

    def fill(self, template: Template, gap: str = GAP) -> str:
        """Return a text with its figures and values as shown, and `gap` where there is no value."""
        return Template(self.said(template.text)).fill(self.shown, gap)

    def figures(self, step: Step) -> tuple[Figure, ...]:
        """Return the figures a step shows in large digits."""
        found = []
        for label, template in step.figures.items():
            name = template.lone_reference
            if name is not None and (held := self.run.value(name)) is not None and held.quantity is not None:
                found.append(Figure(label, self.display(held.quantity, held.decimals)))
            elif text := self.fill(template, ""):
                found.append(Figure(label, Shown(text)))
        return tuple(found)

    # Meant

    def exact(self, name: str) -> str | None:
        """Return a value as text that parses back to exactly that value."""
        held = self.run.value(name)
        return held.text if held is not None else None

    def quantity(self, template: Template | None, unit: str) -> Quantity | None:
        """Return the quantity a template stands for: that of a value, or the text itself (in `unit` if it has none)."""
        if template is None:
            return None
        name = template.lone_reference
        if name is not None:
            held = self.run.value(name)
            return held.quantity if held is not None else None
        return units.parse(template.text, unit)

    def default(self, act: Ask) -> str | None:
        """Return the answer that a recipe offers; None if it offers none, or one that depends on an unknown figure."""
        name = Template(act.default).lone_reference if act.default is not None else None
        return act.default if name is None else self.exact(name)

    def is_worked_out(self, template: Template) -> bool:
        """Return whether a template is a calculator's output."""
        held = self.run.value(template.lone_reference or "")
        return held is not None and held.decimals is not None

    def kind(self, answer: MeasureAnswer | CountAnswer) -> Measure | Count:
        """Return what may be typed as an answer."""
        match answer:
            case CountAnswer(low, high):
                return Count(low, high)
            case MeasureAnswer():
                return self._measure(answer)

    def _measure(self, answer: MeasureAnswer) -> Measure:
        """Return the limits of an answer, worked out from the values so far."""
        unit = answer.unit

        def limit(template: Template | None) -> float | None:
            quantity = self.quantity(template, unit)
            return quantity.value_in(unit) if quantity is not None else None

        soft_low, soft_high = (limit(bound) for bound in answer.usual or (None, None))
        if answer.near is not None and (near := limit(answer.near.value)) is not None:
            room = abs(near) * answer.near.percent / 100
            soft_low, soft_high = (float(f"{bound:.4g}") for bound in (near - room, near + room))
        return Measure(unit, low=limit(answer.low), high=limit(answer.high), soft_low=soft_low, soft_high=soft_high)

    # Worked out

    def given(self, act: WorkOut) -> dict[str, Value]:
        """Return the inputs of a calculator: values as they are, texts with values filled in; inputs not known are left out."""
        found: dict[str, Value] = {}
        for name, template in act.given.items():
            reference = template.lone_reference
            if reference is None:
                if all(self.run.value(used) is not None for used in template.references):
                    found[name] = template.fill(self.exact, "")
            elif (held := self.run.value(reference)) is not None:
                found[name] = held.value
        return found

    def result(self, act: WorkOut) -> Result:
        """Return the result of a step's calculator; raises InputError."""
        given = self.given(act)
        key = (act.calculator, tuple(given.items()))
        if key not in self.results:
            self.results[key] = calc.run(act.calculator, given, self.system)
        return self.results[key]

    def presented(self, act: WorkOut, result: Result) -> Presentation:
        """Return the result of a step's calculator for reading."""
        return Presentation(result, calc.find(act.calculator).outputs, self.system, act.show)


def large(act: WorkOut, read: Presentation) -> tuple[Figure, ...]:
    """Return the figures of a result that the step shows large: those it names, otherwise the first."""
    return tuple(figure for figure in read.head if figure.name in act.show) if act.show else read.head[:LEAD]


def unit_of(answer: MeasureAnswer | CountAnswer) -> str:
    """Return the unit of an answer typed without one."""
    match answer:
        case CountAnswer():
            return ""
        case MeasureAnswer(unit):
            return unit


def material_values(into: str, material: Material) -> dict[str, Held]:
    """Return what is known once a material is chosen: its name and each figure on its data sheet."""
    values = {into: Held(material.name, material.title)}
    for name, text in material.figures.items():
        unit = FIGURES[material.kind][name]
        values[f"{into}.{name}"] = Held(text if unit is None or unit == "ratio" else units.parse(text, unit))
    return values
