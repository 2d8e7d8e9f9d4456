"""The words a step may start with, and what a caution may not do: order work."""

from __future__ import annotations

import re

VERBS = frozenset(  # a text keeps a long word list readable
    """
    abrade add adjust align allow answer apply ask bend blend block bond brace bring brush burnish butter carry catch
    centre change check choose chop clamp clean clear close coat collect compare confirm connect copy count countersink cover cut
    deburr decide degrease determine dig dispose draw dress drill drive dry dust empty enter even examine extend feather feel
    fill find finish fit fix flatten flip flush fold form give go grind hang heat hold inspect install join judge keep
    knead label lap lay leave let level lift list load lock look loosen lower mark mask match measure mist mix mount
    move name note number open order pack paint part pass peel pick pierce place plan plane pop position pour prepare
    press prime probe prop protect pull pump push put raise rate reach read record release remove repeat replace rest
    rinse roll rotate round run sand save saw scrape scribe scrub scuff seal secure select separate set shake shape shim
    sketch skim slide smooth soak spread square squeegee stack stand start state stick stir stop store stretch strip support
    sweep swing switch tack take tap tape taper tell test thicken tidy tie tighten time tip top touch trace transfer
    trim trowel try turn unclamp unfold unmask unroll use vacuum ventilate verify wait walk warm wash watch wax wear
    wedge weigh wet wipe withdraw work wrap write zero
    """.split()  # noqa: SIM905
)
"""Imperative verbs a headline may start with."""

_NOUNS_TOO = frozenset(  # a text keeps a long word list readable
    """
    block bond brace brush cap change check clamp clean clear close coat cover cut dress drill dry dust empty even
    fill finish fit fix flush fold form heat hold join lap lay level lift list load lock mark mask match measure mist
    mix mount move note number open order pack paint part pass place plan plane press prime prop pump rest roll round
    run sand scrape seal secure separate set shape shim sketch slide smooth soak spread stack stand start state stick
    stop store strip support sweep tack tap tape test tie time top touch trace trim try turn vacuum warm wash
    watch wax wedge wet work wrap
    """.split()  # noqa: SIM905
)
"""Verbs that are also nouns or adjectives, so that a caution may start a sentence with them."""

_ORDERS = re.compile(r"(?:do not|don't|never|always|please|make sure|be sure)\b", re.IGNORECASE)


def starts_with_verb(headline: str) -> bool:
    """Return whether a headline starts with an imperative verb known here."""
    first = re.match(r"[A-Za-z]+", headline)
    return first is not None and first[0].lower() in VERBS


def starts_with_two_verbs(headline: str) -> bool:
    """Return whether a headline starts with two verbs joined by 'and', which may be nouns elsewhere: 'Check and clean'."""
    both = re.match(r"([A-Za-z]+) and ([A-Za-z]+)", headline)
    return both is not None and both[1].lower() in VERBS and both[2].lower() in VERBS


def joins_actions(line: str) -> bool:
    """Return whether a line holds two actions: 'then', a semicolon, or 'and' before a verb."""
    if ";" in line or re.search(r"\bthen\b", line, re.IGNORECASE):
        return True
    return any(word.lower() in VERBS - _NOUNS_TOO for word in re.findall(r"\band ([A-Za-z]+)", line))


def gives_order(text: str) -> bool:
    """Return whether a sentence of `text` tells to do something, which a caution must not."""
    for sentence in re.split(r"(?<=[.!?:])\s+", text):
        first = re.match(r"[A-Za-z]+", sentence)
        if _ORDERS.match(sentence) or (first is not None and first[0].lower() in VERBS - _NOUNS_TOO):
            return True
    return False


def alerts(text: str) -> bool:
    """Return whether a text carries the sign of a hazard to people, or an exclamation that stands for it."""
    return any(sign in text for sign in "⚠▲!")


def wraps(headline: str, width: int = 13, lines: int = 2) -> bool:
    """Return whether a headline fits `lines` lines of `width` characters, broken at spaces only."""
    rows, used = 1, 0
    for word in headline.split():
        if len(word) > width:
            return False
        if used and used + 1 + len(word) > width:
            rows, used = rows + 1, 0
        used += len(word) + (1 if used else 0)
    return rows <= lines
