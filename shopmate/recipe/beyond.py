"""Read what a recipe knows beyond its steps: what it uses, the states of a part before and after it, what it is accepted by."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from shopmate import units
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.recipe import form
from shopmate.recipe.acts import whole
from shopmate.recipe.known import Texts
from shopmate.recipe.model import Section, Step, Template, Use, When, WhenClock, WhenValue
from shopmate.recipe.reader import Node
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Beyond:
    """Reads these parts of a recipe once its steps are read, since they refer to what any of these gives."""

    texts: Texts
    whens: Callable[[Node], tuple[When, ...]]
    """Reads conditions."""
    step: Callable[[Node], Step]
    """Reads a step."""

    def uses(self, node: Node | None) -> tuple[Use, ...]:
        """Return what a recipe consumes."""
        uses: list[Use] = []
        for item in self.texts.reader.items(node, "uses"):
            use = self.use(item)
            if use is None:
                continue
            if twice := {name for other in uses for name in other.weighed}.intersection(use.weighed):
                self.texts.reader.wrong(item, f"'{{{min(twice)}}}' measures another entry too", "name it once")
            uses.append(use)
        return tuple(uses)

    def use(self, node: Node) -> Use | None:
        """Return one material with its amount; None where one of them is missing, which is noted."""
        entries = self.texts.reader.mapping(node, form.CONSUMED)
        material = self.texts.template(entries.get("material"), "material")
        amount = self.amount(entries["amount"]) if "amount" in entries else None
        times, waste = self.times(entries), self.waste(entries.get("waste"))
        whens = self.whens(entries["when"]) if "when" in entries else ()
        if any(isinstance(when, WhenClock) for when in whens):
            self.texts.reader.wrong(
                entries["when"],
                "what is used depends on a clock",
                "make it depend on a choice: the list is shown before any clock runs",
            )
            return None
        if material is None or amount is None:
            return None
        weighed = self.weighed(entries["weighed"], self.unit(amount)) if "weighed" in entries else ()
        return Use(material, amount, times, waste, tuple(when for when in whens if isinstance(when, WhenValue)), weighed)

    def amount(self, node: Node) -> Template:
        """Return an amount, noting one that is neither a quantity with its unit nor a reference to one."""
        read, template = self.texts.reader, Template(self.texts.reader.text(node, "amount"))
        name = template.lone_reference
        if name is not None:
            self.texts.references(node, template)
            if self.texts.known.has(name) and self.texts.known.values[name] is None:
                read.wrong(node, f"'{{{name}}}' is a name, not an amount", "refer to a quantity")
        elif template.references:
            read.wrong(node, "amount is more than one reference", 'write "{name}" alone, or a number with its unit')
        elif template.text:
            try:
                units.parse(template.text, units.unit_behind(template.text))
            except (EntryError, KeyError):
                read.wrong(
                    node,
                    f"amount is '{template.text}'",
                    "write a number with its unit, such as 2 m or 300 g, or a number of pieces",
                )
        return template

    def unit(self, amount: Template) -> str | None:
        """Return the unit of an amount, '' of a count; None where it is no amount, which is noted."""
        name = amount.lone_reference
        if name is not None:
            return self.texts.known.values.get(name)
        try:
            return units.parse(amount.text, units.unit_behind(amount.text)).unit
        except (EntryError, KeyError):
            return None

    def weighed(self, node: Node, unit: str | None) -> tuple[str, ...]:
        """Return the names of the sums of what is weighed, noting one that is no sum or measures something else."""
        read, known = self.texts.reader, self.texts.known
        texts = read.texts(node, "weighed") if node.items is not None else (read.text(node, "weighed"),)
        names: list[str] = []
        for template in map(Template, texts):
            name = template.lone_reference
            if name in known.sums:
                self.texts.references(node, template, unit)
                names.append(name)
            elif template.text:
                read.wrong(node, f"'{template.text}' is not the name of a sum", "write the name of an 'adds_to' as {name}")
        return tuple(names)

    def times(self, entries: Mapping[str, Node]) -> Template | None:
        """Return how many times an amount is used: a whole number, or a reference to a count."""
        if "times" not in entries:
            return None
        node = entries["times"]
        template = Template(self.texts.reader.text(node, "times"))
        if template.references:
            self.texts.quantity(node, template, "", "times")
        elif template.text and not whole(template.text):
            self.texts.reader.wrong(node, f"times is '{template.text}'", "write a whole number, or a reference to a count")
        return template

    def waste(self, node: Node | None) -> Fraction:
        """Return what is lost of an amount, in %."""
        if node is None:
            return Fraction(0)
        text = self.texts.reader.text(node, "waste")
        try:
            percent = Fraction(units.parse(text, "%").to("%").value)
        except EntryError as problem:
            self.texts.reader.entry(node, problem)
            return Fraction(0)
        if not units.has_unit(text) or percent < 0:
            self.texts.reader.wrong(node, f"waste is '{text}'", "write it in %, such as 8 %")
        return percent

    def states(self, node: Node | None) -> tuple[str, ...]:
        """Return the states that a part should have before."""
        return self.texts.reader.texts(node, "after")

    def makes(self, node: Node | None) -> str:
        """Return the state that a part is left in."""
        return self.texts.reader.text(node, "makes")

    def acceptance(self, node: Node | None) -> tuple[Section, ...]:
        """Return the last section, in which each thing is looked at that the work is accepted by; none where none is named."""
        items = self.texts.reader.items(node, "accept")
        steps = tuple(step for item in items if (step := self.check(item)) is not None)
        return (Section(phrase("Acceptance"), "do-confirm", steps),) if steps else ()

    def check(self, node: Node) -> Step | None:
        """Return the step in which one thing is looked at; None where nothing is named, which is noted."""
        entries = self.texts.reader.mapping(node, form.ACCEPTANCE)
        if "check" not in entries or node.entries is None:
            return None
        key = node.entries["check"][0]
        step = {"do": (key, entries["check"]), "can_wait": (key, key._replace(text="no"))}
        if "by" in entries:
            step["detail"] = (key, entries["by"]._replace(text=None, items=(entries["by"],)))
        return self.step(node._replace(entries=step))
