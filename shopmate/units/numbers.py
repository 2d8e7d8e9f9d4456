"""Numbers as typed and as shown: exact, with only one meaning, otherwise refused with what to type instead."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction

from shopmate.characters import name
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.units.known import joined

SIGNS = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
          "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
          "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8)}  # fmt: skip
_SIGN = f"[{''.join(SIGNS)}]"
DASHES = "‐‑–-"
"""Hyphens, typed or pasted; before a number each is a minus, like the true minus sign."""
NUMBER_TEXT = re.compile(rf"[0-9.,/ +{''.join(SIGNS)}−{DASHES}]*")
_DECIMAL = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")
_FRACTION = re.compile(rf"(?:([0-9]+)( ?\+ ?|[{DASHES}]| |(?={_SIGN})))?(?:([0-9]+)/([0-9]+)|({_SIGN}))")
_RULE = (2, 4, 8, 16, 32, 64)
"""The parts an inch is divided into on a rule or in the name of a drill."""
_LONGEST = 100
"""Maximum length of a number; nobody types a longer one, and it limits the arithmetic on absurd input."""
_LONGEST_REPEATED = 30
"""How many characters of a refused text the error repeats."""
_MOST_DECIMALS = 24
"""Maximum decimals of an exact number; one that needs more is shown as a fraction, so that it can be typed again."""
_MORE_PLACES = 2
"""Extra decimals for a number that would be rounded to 0; a still smaller one is 0 at any bench."""

_NOTHING = 1e-6
"""A figure below this is shown as 0 in a line of working."""
_ANY_NUMBER = "type a number such as 12, 1.5, 3/4 or 1-1/2"


def spelled_fraction(sign: str) -> str:
    """Return a fraction character in digits, '1/2' for ½; '' for any other character."""
    fraction = SIGNS.get(sign)
    return f"{fraction.numerator}/{fraction.denominator}" if fraction is not None else ""


def parse_number(text: str) -> Fraction:
    """Return the exact number meant by `text`: 12, 1.5, 1,5, .5, 3/4, 1-1/2, 1 1/2, 1+1/2, 1½.

    Raises EntryError, with what to type instead, for a text that has two meanings (1,250 or 1.1/2) or none.
    """
    hint = phrase(_ANY_NUMBER)
    return number_meant(tidy(text, hint), "", hint)


def show_number(number: Fraction | float, places: int | None = None) -> str:
    """Return a number as text, rounded to `places` (halves away from 0), or exact (a decimal, else a fraction) without it.

    A number that would be rounded to 0 but isn't 0 gets up to two more decimals. A float counts as the shortest decimal that
    stands for it. No text has an exponent; infinity is 'inf'.
    """
    if isinstance(number, float) and not math.isfinite(number):
        return str(number)
    if places is None and isinstance(number, float):
        text = format(Decimal(repr(float(number))), "f").removesuffix(".0")
        return "0" if text == "-0" else text
    exact = as_fraction(number)
    places = _telling(exact, places) if places is not None else _decimals(exact)
    return _as_decimal(exact, places) if places is not None else _as_mixed(exact)


def _telling(exact: Fraction, places: int) -> int:
    """Return `places`, or up to _MORE_PLACES more if a number other than 0 would show as 0."""
    more = (places + more for more in range(_MORE_PLACES + 1))
    return next((count for count in more if abs(exact) >= Fraction(1, 2 * 10**count)), places)


def _as_decimal(exact: Fraction, places: int) -> str:
    scaled = math.floor(abs(exact) * 10**places + Fraction(1, 2))
    whole, part = divmod(scaled, 10**places)
    return f"{'-' if exact < 0 and scaled else ''}{whole}{f'.{part:0{places}d}' if places else ''}"


def _as_mixed(exact: Fraction) -> str:
    whole, rest = divmod(abs(exact), 1)
    return f"{'-' if exact < 0 else ''}{f'{whole} ' if whole else ''}{rest}"


def significant(number: Fraction | float, digits: int = 4) -> str:
    """Return a number for a line of working: `digits` significant digits, the whole part in full, no exponent.

    Anything below a millionth, in any unit, is the noise of arithmetic and shows as 0.
    """
    if abs(float(number)) < _NOTHING:
        return "0"
    text = f"{float(number):.{digits}g}"
    if "e" not in text:
        return text
    return show_number(number, 0) if abs(float(number)) >= 1 else show_number(float(text))


def tidy(text: str, hint: str) -> str:
    """Return a typed text with single spaces; EntryError, with `hint`, for one that can't be a number."""
    plain = " ".join(text.replace("⁄", "/").split())
    if not plain:
        raise EntryError(phrase("nothing entered"), hint)
    if len(plain) > _LONGEST:
        raise EntryError(phrase("{text} is too long: {count} characters", quoted(plain), len(plain)), hint)
    if any(character.isdecimal() and not character.isascii() for character in plain):
        raise EntryError(phrase("{text} has digits other than 0 to 9", quoted(plain)), hint)
    return plain


def quoted(plain: str) -> str:
    """Return a text for an error to repeat: shortened, in quotes, and without characters that would control a terminal."""
    return f"'{safe(plain)}'"


def safe(plain: str) -> str:
    """Return a text shortened, and without characters that would control a terminal."""
    shown = "".join(character if character.isprintable() else f"[{name(character)}]" for character in plain)
    return f"{shown[:_LONGEST_REPEATED]}…" if len(shown) > _LONGEST_REPEATED else shown


def number_meant(plain: str, unit_text: str, hint: str) -> Fraction:
    """Return the number meant by a tidy text; EntryError if there is none or more than one.

    The fix of the error gives the number with its unit, or is `hint`.
    """
    sign, unsigned = ("", plain) if plain[:1] not in f"+−{DASHES}" else (plain[0], plain[1:].strip())
    negative = sign not in ("", "+")
    if _two_readings(unsigned) is None and _DECIMAL.fullmatch(unsigned):
        number = Fraction(unsigned.replace(",", "."))
    else:
        match = _FRACTION.fullmatch(unsigned)
        if match is None or (negative and "+" in unsigned):
            raise _no_number(plain, unsigned, unit_text, hint)
        number = _fraction(match, plain, unit_text, hint)
    return -number if negative else number


def _fraction(match: re.Match[str], plain: str, unit_text: str, hint: str) -> Fraction:
    """Return the number in a match of _FRACTION; EntryError if it divides by zero or is no proper fraction."""
    whole, part = Fraction(match[1] or 0), SIGNS.get(match[5] or "")
    if part is None:
        if int(match[4]) == 0:
            raise EntryError(phrase("{text} divides by zero", quoted(plain)), hint)
        part = Fraction(int(match[3]), int(match[4]))
    if match[1] and part >= 1:
        raise EntryError(
            phrase("the fraction in {text} is not less than 1", quoted(plain)),
            phrase("type {value} if that's what you want", joined(show_number(whole + part), unit_text)),
        )
    return whole + part


def on_a_rule(text: str) -> bool:
    """Return whether a text is a fraction as on an inch rule, such as 5/8, 1 1/2 or ¾, with no unit beside it."""
    match = _FRACTION.fullmatch(" ".join(text.replace("⁄", "/").split()).lstrip(f"+−{DASHES}").strip())
    if match is None:
        return False
    return (SIGNS[match[5]].denominator if match[5] else int(match[4])) in _RULE


def _two_readings(unsigned: str) -> tuple[str, str] | None:
    """Return a text such as 1,250 read as a whole number and as a decimal; 0,250 has only one meaning."""
    match = re.fullmatch(r"([1-9][0-9]{0,2}),([0-9]{3})", unsigned)
    return (f"{match[1]}{match[2]}", f"{match[1]}.{match[2]}".rstrip("0").rstrip(".")) if match else None


def _point_or_space(unsigned: str) -> tuple[str, str] | None:
    """Return a text such as 1.1/2 read as a mixed number, with the point for a space, and as it stands."""
    match = re.fullmatch(r"([0-9]+)[.,]([0-9]+)/([0-9]*[1-9][0-9]*)", unsigned)
    if match is None or int(match[2]) >= int(match[3]):
        return None
    return f"{match[1]}-{match[2]}/{match[3]}", show_number(Fraction(f"{match[1]}.{match[2]}") / int(match[3]))


def _added_or_taken_off(unsigned: str) -> tuple[str, str] | None:
    """Return a text such as 1 - 1/2 read as a mixed number and as a difference."""
    match = re.fullmatch(rf"([0-9]+) ?[+−{DASHES}] ?(?:([0-9]+)/([0-9]*[1-9][0-9]*)|({_SIGN}))", unsigned)
    if match is None:
        return None
    part = SIGNS[match[4]] if match[4] else Fraction(int(match[2]), int(match[3]))
    return (f"{match[1]}-{part}", show_number(int(match[1]) - part)) if part < 1 else None


def _no_number(plain: str, unsigned: str, unit_text: str, hint: str) -> EntryError:
    """Return why a text is not a number, and what to type, as close as possible to what was meant."""
    typed, minus = quoted(plain), "" if plain == unsigned or plain.startswith("+") else "-"
    if readings := _two_readings(unsigned) or _point_or_space(unsigned) or _added_or_taken_off(unsigned):
        named = [joined(f"{minus}{reading}", unit_text) for reading in readings]
        what = phrase("{text} could be {first} or {second}", typed, *named)
        return EntryError(what, phrase("type {value} or {other}", *named))
    match = re.fullmatch(r"([0-9]{1,3}([ ,.])[0-9]{3}(?:\2[0-9]{3})*)(?:(?!\2)[.,]([0-9]+))?", unsigned)
    if match:
        whole = re.sub("[ ,.]", "", match[1])
        number = f"{minus}{whole}.{match[3]}" if match[3] else f"{minus}{whole}"
        return EntryError(phrase("{text} has thousands separators", typed), phrase("type {value}", joined(number, unit_text)))
    if unsigned.count("/") > 1:
        return EntryError(phrase("{text} has more than one fraction bar", typed), hint)
    if unsigned[-1:] in tuple(f".,/+−{DASHES}"):
        return EntryError(
            phrase("{text} stops after '{sign}'", typed, unsigned[-1]),
            phrase("type the rest, or leave out the '{sign}'", unsigned[-1]),
        )
    return EntryError(phrase("{text} is not a number", typed), hint)


def as_fraction(number: Fraction | float) -> Fraction:
    """Return a number as a Fraction; a float as the shortest decimal that stands for it, which is what people see."""
    return Fraction(repr(float(number))) if isinstance(number, float) else Fraction(number)


def _decimals(number: Fraction) -> int | None:
    """Return how many decimals show `number` exactly; None if no number of decimals does, or too many are needed."""
    rest, places = number.denominator, 0
    for prime in (2, 5):
        power = 0
        while rest % prime == 0:
            rest //= prime
            power += 1
        places = max(places, power)
    return places if rest == 1 and places <= _MOST_DECIMALS else None
