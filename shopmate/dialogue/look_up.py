"""What is looked up at the bench: calculators, of which a result can be kept, published tables, and the guide."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shopmate import calc, guide
from shopmate import tables as published
from shopmate.dialogue.asking import Choose, Dialogue, Fill, Item, Look, Read, attempt, choose
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.form import Form
from shopmate.phrases import phrase


def which_calculator(near: Sequence[str], other: Item | None = None) -> Choose:
    """Return the question which calculator, with those that are `near` first; answered by a name, or by the key of `other`."""
    items = [Item(name, calc.find(name).title) for name in (*near, *calc.names())]
    return Choose(phrase("Calculators"), items, other=other, near=len(near))


def calculators(desk: Desk, other: Item | None = None) -> Dialogue[str | None]:
    """Ask for a calculator and have its form filled in; return the key of what `other` stands for where that was chosen."""
    name = yield which_calculator(desk.session.project.quick, other)
    if not isinstance(name, str):
        return None
    if other is not None and name == other.key:
        return name
    yield from calculator(desk, name)
    return None


def calculator(desk: Desk, name: str) -> Dialogue[None]:
    """Have the form of a calculator filled in, with what was entered last time; its result can be kept in the log."""
    session = desk.session

    def remember(texts: Mapping[str, str], *, used: bool = False) -> None:
        session.remember(name, texts, desk.now(), used=used)

    def keep() -> str:
        session.keep(name, form.entered, desk.now())
        return phrase("SAVED to the log")

    known = session.at_hand(name, desk.now())
    form = Form(calc.find(name), known.texts, session.project.system, remember, known.origins, known.materials)
    yield Fill(form)
    remember(form.texts, used=form.result is not None)  # what a full disk refused before is tried once more
    if form.kept:
        yield from attempt(keep)


def tables() -> Dialogue[None]:
    """Show published tables, one after another, until there are enough."""
    items = [Item(name, name.replace("_", " "), published.load(name).title) for name in published.names()]
    while (name := (yield from choose(phrase("Tables"), items))) is not None:
        yield Look(published.load(name))


def read_guide() -> Dialogue[None]:
    """Show topics of the guide, one after another, until there are enough."""
    topics = map(guide.load, guide.AT_THE_BENCH)
    items = [Item(topic.name, topic.title, topic.about) for topic in topics]
    while (name := (yield from choose(phrase("Guide"), items))) is not None:
        yield Read(guide.load(name))
