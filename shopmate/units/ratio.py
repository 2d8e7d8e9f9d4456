"""Mix ratios, read with their basis (weight or volume), which is never guessed."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.units.numbers import parse_number, quoted, show_number, tidy

RATIO_BASES = ("by volume", "by weight")
"""The two bases of a ratio, as written after its parts."""
RATIO_EXAMPLES = ("'2:1 by volume'", "'100:45 by weight'")
"""Examples of ratios; the words are typed, so they are the same in every language."""

_VOLUME = ("volume", "vol", "vol.", "v/v", "vol/vol", "pbv", "parts by volume")
_WEIGHT = ("weight", "wt", "wt.", "mass", "w/w", "wt/wt", "pbw", "parts by weight")
"""How data sheets write the two bases."""
_RATIO = re.compile(
    rf"([^:]+?)(?::| to )([^:a-z]+?) ?(?:(?:by )?({'|'.join(map(re.escape, _VOLUME + _WEIGHT))}))?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Ratio:
    """A mix ratio a:b (first part resin or A, second hardener or B) and whether it is by weight or by volume."""

    a: Fraction
    b: Fraction
    basis: Literal["weight", "volume"]

    def __str__(self) -> str:
        return f"{show_number(self.a)}:{show_number(self.b)} by {self.basis}"


def parse_ratio(text: str) -> Ratio:
    """Return the ratio meant by a text such as '2:1 by volume' or '100:45 by weight'.

    Raises EntryError unless it has two parts above zero and says by weight (or mass) or by volume.
    """
    plain = tidy(text, _any_ratio())
    match = _RATIO.fullmatch(plain)
    if match is None:
        raise EntryError(phrase("{text} is not a ratio", quoted(plain)), _any_ratio())
    if match[3] is None:
        raise EntryError(phrase("{text} does not say by weight or by volume", quoted(plain)), _any_ratio())
    a, b = parse_number(match[1]), parse_number(match[2])
    if a <= 0 or b <= 0:
        raise EntryError(phrase("one part of {text} is zero or less", quoted(plain)), _any_ratio())
    return Ratio(a, b, "volume" if match[3].lower() in _VOLUME else "weight")


def _any_ratio() -> str:
    return phrase("type it like {volume} or {weight}", *RATIO_EXAMPLES)
