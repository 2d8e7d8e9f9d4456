"""What a run used: what was poured by its readings, and what it was planned for where nothing was read."""

from __future__ import annotations

from collections.abc import Iterator

from shopmate.phrases import phrase
from shopmate.project.events.work import Used
from shopmate.project.run import Run, last_of_turns
from shopmate.records import replace
from shopmate.session.needs import applying, planned, shown, sum_of, together
from shopmate.session.values import Values
from shopmate.units import Quantity, total


def used(values: Values, *, is_whole: bool = True) -> list[Used]:
    """Return what a run used of each material; of one that was not followed to its end only what was weighed."""
    return together(_used(values, is_whole))


def _used(values: Values, is_whole: bool) -> Iterator[Used]:
    """Yield for each of the recipe's uses what was used."""
    poured, lost = weighed(values.run), spilled(values.run)
    for use in applying(values):
        found = planned(use, values)
        amount = sum_of(*map(poured.get, use.weighed))
        if amount is not None:
            yield replace(found, amount=amount, weighed=amount, spilled=sum_of(*map(lost.get, use.weighed)))
        elif is_whole:
            yield found


def weighed(run: Run) -> dict[str, Quantity]:
    """Return what was weighed in all turns of repeated sections, including pots that were spilled, by the names of the sums."""
    found: dict[str, list[Quantity]] = {name: last_of_turns(added) for name, added in run.added.items()}
    for name, amount in spilled(run).items():
        found.setdefault(name, []).append(amount)
    return {name: total(amounts) for name, amounts in found.items() if amounts}


def spilled(run: Run) -> dict[str, Quantity]:
    """Return what was spilled, by the name of the sum that leaves it out."""
    names = dict.fromkeys(pot.of for pot in run.spilled.values())
    return {name: total([pot.amount for pot in run.spilled.values() if pot.of == name]) for name in names}


def shown_used(used: Used, values: Values) -> str:
    """Return a material with its amount in words, and whether that was weighed or planned."""
    words = shown(used, values)
    if used.amount is None:
        return words
    if used.weighed is None:
        return phrase("{material} planned", words)
    if used.weighed == used.amount:
        words = phrase("{material} weighed", words)
    else:
        words = phrase("{material}, {amount} of it weighed", words, values.display(used.weighed))
    return with_spilled(words, used.spilled, values)


def with_spilled(words: str, amount: Quantity | None, values: Values) -> str:
    """Return what was weighed, in words, with what was spilled of it."""
    return phrase("{mixed}, {amount} of it spilled", words, values.display(amount)) if amount is not None else words
