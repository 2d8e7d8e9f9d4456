"""Which characters a text may hold, and how others are shown."""

import sys
import unicodedata

import pytest

from shopmate.characters import is_fit, unfit, visible

SEEN = {*range(0x600, 0x606), 0x6DD, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD}
"""Format characters that have a shape: signs before Arabic and Kaithi numbers, the end of a verse (Unicode 15, 9.2; memory)."""

JOINERS = {0x200C, 0x200D}


def test_every_control_format_and_separating_character_of_unicode_is_unfit_but_those_that_have_a_shape():
    # unicodedata of the standard library is made from the Unicode Character Database (computed)
    wanted = {
        code
        for code in range(sys.maxunicode + 1)
        if unicodedata.category(chr(code)) in ("Cc", "Cf", "Cs", "Zl", "Zp") and chr(code) not in "\t\n"
    } - SEEN
    found = {code for code in range(sys.maxunicode + 1) if any(unfit(chr(code)))}
    assert wanted <= found
    # What is unfit beside them is no character, is reserved for format characters, or is a letter that shows nothing.
    assert {code for code in found - wanted if unicodedata.category(chr(code)) != "Cn"} == {
        0x34F, 0x115F, 0x1160, 0x17B4, 0x17B5, 0x3164, 0xFFA0,
    }  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "Größe: 5\u202fmm, „ja“ – 20\u00a0°C",
        "اللوح ٢:١",
        "می\u200cخواهم",  # Persian: the non-joiner is part of the spelling
        "क्\u200dष",  # Devanagari: half form before a joiner
        "👩\u200d🔧 🏳️\u200d🌈",  # emoji of several parts
        "zuru\u0308ck\tund\nhin",
    ],
)
def test_what_a_real_text_needs_stays(text):
    assert visible(text) == text
    assert not list(unfit(text))
    assert is_fit(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b]0;X\a", "[U+001B]]0;X[U+0007]"),
        ("\x9b31m", "[U+009B]31m"),
        ("2\u202e1:2\u202c", "2[U+202E]1:2[U+202C]"),
        ("Pan\u200bel", "Pan[U+200B]el"),
        ("Pan\u200del", "Pan[U+200D]el"),
        ("a\rb\x7f", "a[U+000D]b[U+007F]"),
        ("\udc9b", "[U+DC9B]"),
        ("\U000e0041", "[U+E0041]"),
    ],
)
def test_what_acts_or_hides_is_shown_by_its_number(text, shown):
    assert visible(text) == shown
    assert (is_fit(text), is_fit(shown)) == (False, True)
