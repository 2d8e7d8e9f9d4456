"""What is looked up at the bench: calculators, of which a result can be kept, and published tables."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import calc
from shopmate import tables as published
from shopmate.dialogue.asking import Choose, Dialogue, Fill, Item, Look, attempt, choose
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.form import Form
from shopmate.phrases import phrase


def which_calculator(other: Item | None = None) -> Choose:
    """Return the question which calculator, answered by its name, or by the key of what `other` stands for."""
    return Choose(phrase("Calculators"), [Item(name, calc.find(name).title) for name in calc.names()], other=other)


def calculators(desk: Desk, other: Item | None = None) -> Dialogue[str | None]:
    """Ask for a calculator and have its form filled in; return the key of what `other` stands for where that was chosen."""
    name = yield which_calculator(other)
    if not isinstance(name, str):
        return None
    if other is not None and name == other.key:
        return name
    yield from calculator(desk, name)
    return None


def calculator(desk: Desk, name: str) -> Dialogue[None]:
    """Have the form of a calculator filled in, with what was entered last time; its result can be kept in the log."""
    session = desk.session

    def remember(texts: Mapping[str, str]) -> None:
        session.remember(name, texts, desk.now())

    def keep() -> str:
        session.keep(name, form.texts, desk.now())
        return phrase("KEPT in the log")

    form = Form(calc.find(name), session.offered(name, desk.now()), session.project.system, remember)
    yield Fill(form)
    remember(form.texts)  # what a full disk refused before is tried once more
    if form.kept:
        yield from attempt(keep)


def tables() -> Dialogue[None]:
    """Show published tables, one after another, until there are enough."""
    items = [Item(name, name.replace("_", " "), published.load(name).title) for name in published.names()]
    while (name := (yield from choose(phrase("Tables"), items))) is not None:
        yield Look(published.load(name))
