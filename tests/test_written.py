"""Users' texts in Markdown, CSV and JSON read back unchanged and never act as markup or formulas."""

import csv
import io
import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate.characters import unfit, visible
from shopmate.written import cell, csv_cell, from_csv_cell, json_text, markdown

PUNCTUATION = re.escape("!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~")


def cells_by_the_scanner(row: str) -> list[str]:
    """Return the cells of a row as a reader by longest match takes them: a bar after any backslash is no end."""
    return [part.strip() for part in re.split(r"(?<!\\)\|", row.strip())[1:-1]]


def cells_by_pairs(row: str) -> list[str]:
    """Return the cells of a row as a reader takes them for which two backslashes are one of the text."""
    found, start, at, text = [], 0, 0, row.strip()
    while at < len(text):
        if text[at] == "\\":
            at += 1
        elif text[at] == "|":
            found.append(text[start:at].strip())
            start = at + 1
        at += 1
    return found[1:]


def plainly(inline: str) -> str:
    """Return what a line of Markdown shows; asserts that nothing in it is markup."""
    bare = re.sub(rf"\\[{PUNCTUATION}]|&#92;", "", inline)
    assert not re.search(r"[\\`*~]|\]\(|<[A-Za-z/!?]|&#|&[A-Za-z]|(?<!\w)_|_(?!\w)", re.sub(r"(?<=\w)_(?=\w)", "", bare)), inline
    return re.sub(rf"&#92;|\\([{PUNCTUATION}])", lambda match: match[1] or "\\", inline)


TEXTS = st.text(st.sampled_from("ab12_ |\\`*[]<>&#;~-+=@!.(){}\t\n\x1b\u202e") | st.characters())


@given(TEXTS)
def test_a_cell_of_a_table_shows_the_text_by_either_reading_of_two_backslashes(text):
    row = f"| {cell(text)} | after |"
    for read in (cells_by_the_scanner, cells_by_pairs):
        cells = [cell_.replace("\\|", "|") for cell_ in read(row)]  # before anything else is read
        assert len(cells) == 2
        assert plainly(cells[0]) == " ".join(visible(text).split())


@given(TEXTS)
def test_a_line_shows_the_text_and_is_neither_heading_list_quotation_rule_nor_table(text):
    line = markdown(text)
    assert plainly(line) == " ".join(visible(text).split())
    assert not re.match(r"#{1,6}(?:\s|$)|>|[-+*](?:\s|$)|[-=_]+$|\d{1,9}[.)](?:\s|$)|```|~~~|\||:|\[", line)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Kettle | 2", "Kettle \\| 2"),
        ("a \\| b", "a &#92;\\| b"),
        ("<b>*now*</b>", "\\<b>\\*now\\*\\</b>"),
        ("resin_2 and 5 g & 3 g", "resin_2 and 5 g & 3 g"),
        ("&amp; [here](x)", "\\&amp; [here\\](x)"),
        ("5 < 6, at 20 °C [read]", "5 < 6, at 20 °C [read]"),
    ],
)
def test_what_is_written_can_be_read_as_it_stands_too(text, written):
    assert cell(text) == written


@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "+cmd", "-2+3", "-5 °C", "\t=1", "=", "- undoes"])
def test_what_a_spreadsheet_would_work_out_gets_an_apostrophe(text):
    assert csv_cell(text) == f"'{text}"
    assert from_csv_cell(csv_cell(text)) == text


@pytest.mark.parametrize("text", ["-5", "+1.5", "-0,25", "-.5", "12", "2026-05-04 08:00:00+0000", "a=b", "'tis", ""])
def test_numbers_and_all_else_stay(text):
    assert csv_cell(text) == text
    assert from_csv_cell(text) == text


def test_a_carriage_return_cannot_hide_a_formula():
    assert csv_cell("\r=1") == "[U+000D]=1"


@given(TEXTS)
def test_a_cell_of_a_csv_file_never_begins_a_formula_and_is_read_back(text):
    out = io.StringIO()
    csv.writer(out).writerow([csv_cell(text)])
    (row,) = csv.reader(io.StringIO(out.getvalue(), newline="")) if text else ([""],)
    assert row[0][:1] not in ("=", "@", "\t", "\r")
    assert row[0][:1] not in ("+", "-") or re.fullmatch(r"[-+][\d.,]+", row[0])
    assert from_csv_cell(row[0]) == visible(text) or text.startswith("'")


@given(st.recursive(TEXTS | st.none() | st.integers(), st.lists) | st.dictionaries(TEXTS, TEXTS))
def test_json_holds_the_same_data_and_nothing_that_acts(data):
    written = json_text(json.dumps(data, ensure_ascii=False, indent=2))
    assert json.loads(written) == data
    assert not list(unfit(written))
