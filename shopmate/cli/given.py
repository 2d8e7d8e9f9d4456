"""What a calculator is given in words: a material of the shelf first, then its fields in the order they are asked, or named."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from shopmate.calculator import Calculator, Field
from shopmate.cli.parser import pairs
from shopmate.errors import EntryError, UsageError

if TYPE_CHECKING:
    from shopmate.recipe import Material

_NAMED = re.compile(r"[a-z_0-9]+=", re.IGNORECASE)
"""How a word begins that names its field."""


def given(calculator: Calculator, words: Sequence[str]) -> dict[str, str]:
    """Return the text of each field that words such as epoxy-2to1-slow 150g tolerance="2 %" give; UsageError for one too many."""
    bare = [word for word in words if not _NAMED.match(word)]
    named = pairs([word for word in words if _NAMED.match(word)], f"shopmate calc {calculator.name}")
    asks = [spot for spot in calculator.asks if not any(field.name in named for field in spot)]
    material: Material | None = None
    if bare and calculator.stock is not None and bare[0][:1].isalpha() and not _takes(asks[0] if asks else (), bare[0]):
        material = _material(calculator, bare[0])
        bare = bare[1:]
    if len(bare) > len(asks):
        raise UsageError(f"'{bare[len(asks)]}' is one word too many; {order(calculator)}")
    for word, spot in zip(bare, asks, strict=False):
        named[(_takes(spot, word) or spot[0]).name] = word
    return _filled(calculator, material, named) | named if material is not None else named


def _filled(calculator: Calculator, material: Material, named: Iterable[str]) -> dict[str, str]:
    """Return the texts that a material fills fields with; stderr tells those still borrowed that are not `named` anew."""
    from shopmate.recipe import still_borrowed
    from shopmate.session import shelf

    assert calculator.stock is not None
    used = [figure for field, figure in calculator.stock.figures.items() if field not in named]
    for words in still_borrowed(material, used, shelf()):
        print(f"note: {words}", file=sys.stderr)
    return calculator.stock.filled(material.figures)


def order(calculator: Calculator) -> str:
    """Return in which order fields are given without their names."""
    material = [f"a material of the shelf ({calculator.stock.kind})"] if calculator.stock is not None else []
    spots = [" or ".join(field.name for field in spot) for spot in calculator.asks]
    return f"without names it takes, in this order: {', '.join([*material, *spots])}"


def _takes(spot: Sequence[Field], text: str) -> Field | None:
    """Return the first of fields that takes a text, None where none does."""
    for field in spot:
        try:
            field.kind.read(text)
        except EntryError:
            continue
        return field
    return None


def _material(calculator: Calculator, name: str) -> Material:
    """Return the material of that name of the kind that fills in fields of the calculator; UsageError where there is none."""
    from shopmate.recipe import of_kind  # which brings yaml, as the shelf does: what is worked out without it needs none
    from shopmate.session import shelf

    assert calculator.stock is not None
    kind = calculator.stock.kind
    materials = of_kind(shelf(), kind)
    if name not in materials:
        raise UsageError(f"'{name}' is no {kind} on the shelf; there are: {', '.join(materials)}; {order(calculator)}")
    return materials[name]
