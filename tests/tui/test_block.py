import string

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tui_stage import Stage, picture

from shopmate.tui.lines import PlainSigns, plain
from shopmate.tui.widgets import block
from shopmate.tui.widgets.block import Block, columns, draw, has_glyphs, rows, wrap

DRAWN = string.ascii_uppercase + string.digits + "ÄÖÜ .,:;+-−/()%°=<>#'\"½²³×?!&≈"


@pytest.mark.parametrize("double", [False, True])
@pytest.mark.parametrize("signs", [str, plain])
def test_every_character_has_a_picture_of_its_own(signs, double):
    pictures = {tuple(map(signs, rows(character, double))): character for character in DRAWN}
    assert len(pictures) == len(DRAWN)


def test_digits_and_capitals_are_seven_dots_high_and_five_wide():
    for character in string.digits + string.ascii_uppercase:
        glyph = block._GLYPHS[character]
        assert len(glyph) == 7
        assert "#" in glyph[0] + glyph[1]
        assert "#" in glyph[6]
        assert {len(row) for row in glyph} == ({3} if character == "I" else {5})
    assert {len(glyph) for glyph in block._GLYPHS.values()} == {7}
    assert all(len(row) == len(glyph[0]) <= 5 for glyph in block._GLYPHS.values() for row in glyph)


def test_a_clock_takes_26_columns_and_4_rows():
    assert columns("14:07") == 26
    assert len(rows("14:07")) == 4
    assert {len(row) for row in rows("14:07")} == {26}


def test_digits_of_one_width_keep_a_clock_still():
    assert len({columns(f"{minute:02d}:{second:02d}") for minute in range(60) for second in range(60)}) == 1


def test_the_one_is_drawn_so():
    assert rows("1") == [" ▄█  ", "▀ █  ", "  █  ", "▀▀▀▀▀"]
    assert list(map(plain, rows("1"))) == [" o#  ", '" #  ', "  #  ", '"""""']
    assert rows("1", double=True) == [
        "    ██    ",
        "  ████    ",
        "██  ██    ",
        "    ██    ",
        "    ██    ",
        "    ██    ",
        "██████████",
        "          ",
    ]


def test_twice_as_large_it_is_twice_as_wide_and_high():
    assert len(rows("14:07", double=True)) == 2 * len(rows("14:07"))
    assert {len(row) for row in rows("14:07", double=True)} == {columns("14:07", double=True)} == {2 * columns("14:07")}
    assert wrap("WEIGH THE RESIN", 140, double=True) == ["WEIGH THE", "RESIN"]


def test_small_letters_become_capitals_and_unknown_ones_a_question_mark():
    assert [rows("mix"), rows("grün, maß")] == [rows("MIX"), rows("GRÜN, MASS")]
    assert columns("maß") == columns("MASS")
    assert rows("ж") == rows("?")


@pytest.mark.parametrize("text", ["WARNUNG ÜBER GRÖẞE", "ОПАСНО", "PRÊT", "危険"])
def test_a_word_with_a_letter_that_has_no_glyph_is_not_drawn_but_said(text):
    assert not has_glyphs(text)
    assert draw(text, width=200) == []


def test_wrap_breaks_between_words_only():
    assert wrap("WEIGH THE RESIN", 60) == ["WEIGH THE", "RESIN"]
    assert wrap("UNBREAKABLE", 20) == ["UNBREAKABLE"]
    assert wrap("", 20) == []


@given(st.lists(st.text(alphabet=DRAWN.replace(" ", ""), min_size=1, max_size=13), max_size=6), st.integers(77, 120))
def test_wrapped_lines_fit_and_hold_every_word(words, width):
    lines = wrap(" ".join(words), width)
    assert " ".join(lines).split() == words
    assert all(columns(line) <= width for line in lines)


def test_thirteen_capitals_fit_80_columns():
    assert columns("W" * 13) <= 80


def test_draw_puts_the_unit_at_the_foot_and_refuses_what_does_not_fit():
    drawn = draw("12", "mm", width=20)
    assert drawn[-1].endswith(" mm")
    assert "mm" not in "".join(drawn[:-1])
    assert draw("12", "mm", width=12) == []
    assert draw("WEIGH THE RESIN", width=60, most=1) == []


@pytest.mark.parametrize(
    ("size", "large"), [((80, 24), True), ((20, 24), False), ((80, 7), False), ((55, 8), True), ((40, 8), False)]
)
async def test_block_falls_back_to_plain_text_where_it_does_not_fit(size, large):
    app = Stage(Block("Weigh the resin"))
    async with app.run_test(size=size) as pilot:
        app.query_one(Block).styles.max_height = size[1]
        await pilot.pause()
        text = "\n".join(picture(app))
        assert ("Weigh the resin" not in text) == large
        assert ("█" in text) == large


async def test_block_in_a_terminal_of_7_bits():
    app = Stage(Block("12", "mm"))
    app.touches.append(PlainSigns())
    async with app.run_test(size=(40, 6)):
        text = "".join(picture(app))
        assert text.isascii()
        assert "#" in text
