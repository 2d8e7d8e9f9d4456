"""Texts that are not ours as Markdown, CSV and JSON write them: read there, they are the same text and nothing else."""

from __future__ import annotations

import re

from shopmate import characters

_MARKUP = re.compile(r"[\\`*~]|\](?=\()|<(?=[A-Za-z/!?])|&(?=#|[A-Za-z])|(?<![^\W_])_|_(?![^\W_])|#(?=#*$)")
"""What means something within a line of Markdown, and only where it does, so that the line reads well as it stands too.

A bracket is part of a link where it is followed by an address, since nothing is defined for the other kinds; an
underscore counts where a word begins or ends; a hash at the end could end a heading (GFM 4.2 and 6, memory).
"""

_AT_THE_START = re.compile(r"[>|:\[]|#{1,6}(?=\s|$)|[+-](?=\s|$)|[=-](?=[=-]*$)|[0-9]{1,9}(?=[.)](?:\s|$))")
"""What means something where a line of Markdown begins: a quotation, table, heading, list, rule (GFM 4 and 5, memory)."""

_FORMULA = re.compile(r"[=@+\-\t\r]")
"""What a spreadsheet takes for the beginning of a formula (common practice)."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")


def markdown(text: str) -> str:
    """Return a text on one line for Markdown, also where a line begins with it."""
    line = _MARKUP.sub(_escaped, " ".join(characters.visible(text).split()))
    if (match := _AT_THE_START.match(line)) is None:
        return line
    number = match[0] if match[0].isdigit() else ""  # a number is no list once the point after it is escaped
    return f"{number}\\{line[len(number) :]}"


def cell(text: str) -> str:
    """Return a text for a cell of a Markdown table.

    A bar ends the cell unless a backslash stands before it, which is taken away before anything else is read (GFM 4.10,
    memory). Of a bar after two backslashes readers differ (the grammars of two, read), so that a backslash of the text
    is written as its number.
    """
    inner = _MARKUP.sub(_escaped, " ".join(characters.visible(text).split()))
    return inner.replace("|", "\\|")


def csv_cell(text: str) -> str:
    """Return a text for a cell of a CSV file: with an apostrophe before what a spreadsheet would work out as a formula.

    Numbers stay as they are.
    """
    shown = characters.visible(text)
    return f"'{shown}" if _FORMULA.match(shown) and not _NUMBER.fullmatch(shown) else shown


def from_csv_cell(cell: str) -> str:
    """Return the text of a cell that `csv_cell` wrote."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell[1:2]) else cell


def json_text(text: str) -> str:
    """Return JSON with the characters that no text may hold escaped: the same data, and nothing that acts on a screen."""
    return characters.replaced(text, _by_number)


def _escaped(match: re.Match[str]) -> str:
    return "&#92;" if match[0] == "\\" else f"\\{match[0]}"


def _by_number(character: str) -> str:
    units = character.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))
