"""The words of the bench: each is a row of one table with the place it stands in, and may be put into another language.

`phrases.csv` holds them all. The code names a phrase by its English words, as GNU gettext does, so that it reads as it
looks; tests hold code and table together, and each row to the length of its place. A user's own table, `words.csv` in
the folder of shopmate's files, gives other words for any of them. Recipes, calculators and tables bring words of their own.
"""

from __future__ import annotations

import csv
import io
import string
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from shopmate import paths
from shopmate.errors import FileProblems, Problem
from shopmate.written import from_csv_cell

LONGEST: Mapping[str, int] = {"day": 5, "key": 18, "state": 14, "headline": 26, "line": 60, "text": 200}
"""Characters that a phrase may have by its place, without what is filled in.

day: a weekday or month in short; a longer one would push the time after it out of a small screen. key: beside its key in
the key line. state: how a clock or a step stands. headline: in block letters, or over a list. line: one row, cut where it
ends. text: wraps.
"""

TABLE = Path(__file__).with_suffix(".csv")
"""The table in English: place, text."""

_own: dict[str, str] = {}
"""The user's words by the English ones."""


def phrase(text: str, *figures: object) -> str:
    """Return a phrase of the table in the user's words, with the figures for its {names} in the order of the English text."""
    words = _own.get(text, text)
    return words.format_map(dict(zip(blanks(text), figures, strict=True))) if figures else words


@cache
def english() -> Mapping[str, str]:
    """Return the place of each phrase of the table, by the phrase."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        return {row["text"]: row["place"] for row in csv.DictReader(file)}


def use_own() -> None:
    """Take the words of the user's own table, where there is one; raises FileProblems with all that is wrong in it.

    Rows without own words keep the English ones. After a failure so do all.
    """
    from shopmate.text_file import gathered, read_text, refuse_unfit  # which a log is shown without

    _own.clear()
    path = paths.words()
    try:
        text = read_text(path, _FIX)
        refuse_unfit(text, str(path))
        found = list(_rows(text))
    except FileNotFoundError:
        return
    except csv.Error as error:
        raise FileProblems([Problem(str(path), 1, 1, f"it cannot be read ({error})", _FIX)]) from None
    problems = [Problem(str(path), line, 1, what, _FIX) for line, _, _, what in found if what]
    if problems:
        raise FileProblems(gathered(problems))
    _own.update({text: own for _, text, own, _ in found if own})


def _rows(text: str) -> Iterator[tuple[int, str, str, str]]:
    """Yield each row of a table of own words: its line, the English text, the own words, and what is wrong, '' if nothing is."""
    head = text.partition("\n")[0]
    # What a spreadsheet divides with goes by its language.
    rows = csv.DictReader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=head.count))
    if missing := {"text", "own"} - set(rows.fieldnames or ()):
        names = " and no column ".join(f"'{name}'" for name in sorted(missing))
        yield 1, "", "", f"it has no column {names}; the first row has to be: place,text,own"
        return
    seen: dict[str, int] = {}
    for row in rows:
        # Letters and marks in one sign each, as a length counts them.
        asked_for, own = (from_csv_cell(row[name] or "") for name in ("text", "own"))
        own = unicodedata.normalize("NFC", own.strip())
        what = ""
        if None in row:
            what = f"'{asked_for or own}' has more columns than the first row: quote what has the sign in it that divides columns"
        elif own and asked_for in seen:
            what = f"'{asked_for}' stands in line {seen[asked_for]} too"
        elif own:
            what = _wrong(asked_for, own)
            seen[asked_for] = rows.line_num
        yield rows.line_num, asked_for, own, what


@cache
def blanks(text: str) -> tuple[str, ...]:
    """Return the names that a phrase leaves to be filled in, in their order; ValueError where its braces do not match."""
    return tuple(dict.fromkeys(name for _, name, _, _ in string.Formatter().parse(text) if name is not None))


def length(text: str) -> int:
    """Return the characters of a phrase without what is filled in."""
    return sum(len(fixed) for fixed, _, _, _ in string.Formatter().parse(text))


_FIX = "mend it or remove the file: 'shopmate words' prints the table to fill in"


def _fields(text: str) -> set[str]:
    """Return what a phrase leaves to be filled in, as it is written: a figure of text has no format of a number."""
    parts = string.Formatter().parse(text)
    return {
        f"{{{name}{f'!{conversion}' if conversion else ''}{f':{how}' if how else ''}}}"
        for _, name, how, conversion in parts
        if name is not None
    }


def _wrong(text: str, own: str) -> str:
    """Return what is wrong with the own words of a row, '' where they will do."""
    place = english().get(text)
    if place is None:
        return f"there is no phrase '{text}'"
    if not own.isprintable():
        return f"'{' '.join(own.split())}' has a line break or a sign that is not shown"
    try:
        if _fields(own) != _fields(text):
            return f"'{own}' has to keep {', '.join(sorted(_fields(text))) or 'no braces'}"
        if (count := length(own)) > LONGEST[place]:
            return f"'{own}' has {count} characters; its place ({place}) shows {LONGEST[place]}"
    except ValueError as error:
        return f"'{own}' has braces that do not match ({error})"
    return ""
