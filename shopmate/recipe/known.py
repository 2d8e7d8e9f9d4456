"""What earlier steps of a recipe have given, and the texts of later ones that refer to it."""

from __future__ import annotations

import re

from shopmate import units
from shopmate.errors import EntryError
from shopmate.models.due import ClockKind
from shopmate.recipe.model import TURN, Template
from shopmate.recipe.reader import Node, Reader
from shopmate.records import dataclass, field


@dataclass(slots=True)
class Known:
    """What earlier steps of the file have given: the values and clocks that later texts may refer to."""

    values: dict[str, str | None] = field(default_factory=dict)
    """Reference -> unit of the quantity ("" for a bare number), None for a name, a ratio or a verdict."""
    choices: dict[str, tuple[str, ...]] = field(default_factory=dict)
    clocks: dict[str, ClockKind | None] = field(default_factory=dict)
    """Name -> its kind, None for one that has a kind unknown here."""
    steps: set[str] = field(default_factory=set)
    unsure: set[str] = field(default_factory=set)
    """Values given by a step that has a problem itself; what refers to them is not judged."""
    sums: set[str] = field(default_factory=set)
    """Names of sums; in its turns one is known from the start."""
    paces: list[tuple[Node, str]] = field(default_factory=list)
    """Clocks whose pots give a pace; they may be started later in the file, since the pots of earlier runs count."""

    def has(self, reference: str) -> bool:
        """Return whether a reference can be judged and its value is given."""
        return reference in self.values and not self.doubtful(reference)

    def doubtful(self, reference: str) -> bool:
        """Return whether a reference is to a value of a step that has a problem itself."""
        return reference.partition(".")[0] in self.unsure


@dataclass(frozen=True, slots=True)
class Texts:
    """Reads texts with references, noting those to what nothing before gives or that measure something else."""

    reader: Reader
    known: Known

    def template(self, node: Node | None, what: str) -> Template | None:
        if node is None:
            return None
        template = Template(self.reader.text(node, what))
        self.references(node, template)
        return template

    def references(self, node: Node, template: Template, unit: str | None = None) -> None:
        """Note references to what no earlier step gives, or that measure something else than `unit`."""
        known = self.known
        for reference in template.references:
            if known.doubtful(reference):
                continue
            if reference == TURN and reference not in known.values:
                self.reader.wrong(
                    node, f"'{{{TURN}}}' outside a repeated section", "use it in a section with 'repeat', or leave it out"
                )
            elif reference not in known.values:
                self.reader.wrong(
                    node, f"no earlier step gives '{{{reference}}}'", "ask for it or work it out in an earlier step"
                )
            elif unit is not None:
                has = known.values[reference]
                if has is None or units.dimension(has) != units.dimension(unit):
                    is_a = units.dimension(has) if has is not None else "a name"
                    self.reader.wrong(node, f"'{{{reference}}}' is {is_a}, not {units.dimension(unit)}", "refer to another value")
        if "{" in re.sub(r"\{[a-z][a-z0-9_.]*\}", "", template.text):
            self.reader.wrong(node, "a '{' without a name and '}' after it", "write {name} or {name.part}")

    def quantity_at(self, node: Node | None, unit: str, what: str) -> Template | None:
        if node is None:
            return None
        template = Template(self.reader.text(node, what))
        self.quantity(node, template, unit, what)
        return template

    def quantity(self, node: Node, template: Template, unit: str, what: str) -> None:
        """Note a text that is no quantity in the dimension of `unit`."""
        if "{" in template.text:
            self.references(node, template, unit)
            if template.references and template.lone_reference is None:
                self.reader.wrong(node, f"{what} is more than one reference", 'write "{name}" alone, or a number with its unit')
            return
        if not template.text:
            return  # noted as empty
        try:
            units.parse(template.text, unit)
        except EntryError as problem:
            self.reader.entry(node, problem)
            return
        if unit and not units.has_unit(template.text):
            self.reader.wrong(node, f"{what} {template.text} has no unit", f"write {template.text} {unit}")
