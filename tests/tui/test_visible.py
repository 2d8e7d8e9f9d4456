"""The lines of the screen on their way to the terminal: what would act there, or hide, is made visible in the room there is."""

import pytest
from rich.segment import ControlType, Segment
from textual.color import Color

from shopmate.characters import is_fit
from shopmate.tui.lines import Visible

BLACK = Color(0, 0, 0)


def shown(*texts):
    return Visible().apply([Segment(text) for text in texts], BLACK)


@pytest.mark.parametrize(
    ("texts", "line"),
    [
        (("a\x1b[2Jb", " " * 20), "a[U+001B][2Jb" + " " * 12),
        (("2\u202e1:2", " " * 20), "2[U+202E]1:2" + " " * 12),
        (("Pan\u200bel",), "Pan[U"),
        (("名\x9b31m名", "    "), "名[U+009B]3"),
    ],
)
def test_a_line_names_it_and_stays_as_wide_as_it_was_laid_out(texts, line):
    segments = shown(*texts)
    assert "".join(segment.text for segment in segments) == line
    assert Segment.get_line_length(segments) == sum(Segment(text).cell_length for text in texts)
    assert is_fit(line)


def test_what_holds_nothing_of_the_kind_is_passed_on_as_it_is():
    segments = [Segment("Größe ½″ · 👩\u200d🔧"), Segment("\x1b[H", None, [(ControlType.HOME,)])]
    assert Visible().apply(segments, BLACK) is segments
