"""The guide: topics as plain text of any width, by command, in a dialogue and in lines."""

import re
from pathlib import Path

import pytest
from held import Held, Place
from plain_talk import NEW_PROJECT, number, talk

from shopmate import cli, guide, paths, phrases, settings
from shopmate.cli import signs
from shopmate.dialogue import look_up
from shopmate.dialogue.asking import Read
from shopmate.guide import Row

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "shopmate" / "guide"
WIDTHS = [38, 78, 118]
TOPICS = pytest.mark.parametrize("name", guide.names())


@pytest.fixture
def shopmate(capsys, monkeypatch):
    def run(*given, columns=80):
        monkeypatch.setenv("COLUMNS", str(columns))
        code = cli.main(given)
        return code, *capsys.readouterr()

    return run


def page(name):
    return (FOLDER / f"{name}.md").read_text(encoding="utf-8")


def words(text):
    """Return the letters and figures of a text, in their order, without what marks or wraps it."""
    return re.findall(r"\w+", text)


def examples(name, language=""):
    return re.findall(rf"^```{language}\n(.*?)^```$", page(name), re.MULTILINE | re.DOTALL)


def test_each_file_is_a_topic_and_one_digit_chooses_at_the_bench():
    assert {path.stem for path in FOLDER.glob("*.md")} == set(guide.names())
    assert len(set(guide.names())) == len(guide.names())
    assert len(guide.AT_THE_BENCH) <= 9


@TOPICS
def test_a_topic_begins_with_its_title_and_one_short_line(name):
    topic = guide.load(name)
    assert page(name).startswith(f"# {topic.title}\n\n{topic.about}\n\n")
    assert len(topic.title) <= 26
    assert len(topic.about) <= 70
    assert topic.blocks


@TOPICS
@pytest.mark.parametrize("width", WIDTHS)
def test_no_line_is_wider_and_no_word_is_lost(name, width):
    topic = guide.load(name)
    lines = topic.lines(width)
    assert max(map(len, lines)) <= width
    text = re.sub(r"<!--.*?-->|^```\w*$|\]\([^)]*\)", "", page(name), flags=re.MULTILINE)
    assert words(f"{topic.title} {topic.about} {' '.join(lines)}") == words(text)


@TOPICS
def test_no_mark_of_markdown_is_left(name):
    shown = "\n".join(guide.load(name).lines(78))
    assert not re.search(r"`|\*\*|\]\(|<!--|^#", shown, re.MULTILINE)


@TOPICS
def test_nothing_is_lost_in_7_bits(name):
    text = "\n".join(guide.load(name).lines(78))
    signs.spell_out()
    plain = text.encode("ascii", "spell-out").decode("ascii")
    assert plain.count("?") == text.count("?")


def test_lines_are_no_wider_than_reads_well():
    assert 78 < max(map(len, guide.load("bench").lines(300))) <= 100


@pytest.mark.parametrize(
    ("marked", "plain"),
    [
        ("press `-` to go", "press [-] to go"),
        ("`0` to `9`", "[0] to [9]"),
        ("type `12 mm` or `3/4`", "type '12 mm' or 3/4"),
        ("**`mix`** and *that*", "mix and that"),
        ("the [keys](keys.md)", "the keys"),
        ("`*` and `+`, *then* `*`", "[*] and [+], then [*]"),
    ],
)
def test_marks_are_put_into_words(marked, plain):
    assert guide._plain(marked) == plain


def test_a_long_row_goes_on_under_its_text():
    assert Row("one two three four", "- ", "  ").lines(10) == ["- one two", "  three", "  four"]


def test_an_option_is_not_parted_at_its_dashes():
    assert Row("now run --plain").lines(10) == ["now run", "--plain"]


def test_an_example_keeps_its_indents():
    shown = guide.load("shelf").lines(78)
    assert {"  materials:", "    - material: my-epoxy", "        ratio: 100:45 by weight"} < {
        line[:33].rstrip() for line in shown
    }


# What it tells is so


def test_the_shelf_of_the_guide_is_a_shelf(shopmate, tmp_path):
    (example,) = examples("shelf", "yaml")
    path = tmp_path / "shelf.yaml"
    path.write_text(example, encoding="utf-8")
    code, _, err = shopmate("check", str(path))
    *notes, last = err.splitlines()
    assert (code, last) == (0, "shopmate: no problems in 1 file")
    assert all(" has no figure for " in note for note in notes)


def test_the_alarm_commands_of_the_guide_are_settings(home):
    home.mkdir()
    (example,) = examples("ears")
    for line, program in zip(example.splitlines(), ("aplay", "spd-say"), strict=True):
        paths.settings().write_text(line, encoding="utf-8")
        assert settings.load().alarm_command[0] == program


def test_the_places_of_own_words_are_told_with_their_room():
    told = dict(re.findall(r"`(\w+)` (\d+)", page("words")))
    assert told == {place: str(room) for place, room in phrases.LONGEST.items()}


@pytest.mark.parametrize("name", ["bench", "keys", "lines", "ears", "setup", "shelf", "log"])
def test_what_the_screen_says_is_quoted_as_it_says_it(name):
    quoted = re.findall(r"(?<!\*)\*([A-Z][^*]+)\*(?!\*)|`([A-Z]{3,}[A-Z ?]*)`", page(name))
    known = "\n".join(phrases.english())
    for menu, notice in quoted:
        said = menu or notice
        assert said == "TERM" or re.search(rf"\b{re.escape(said)}", known), said


# The command


def test_without_a_topic_each_is_listed_in_a_line(shopmate):
    code, out, err = shopmate("guide")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == list(guide.names())
    assert all(guide.load(line.split()[0]).about in line for line in out.splitlines())


@TOPICS
@pytest.mark.parametrize("columns", [40, 80])
def test_a_topic_is_printed_as_wide_as_the_terminal(shopmate, name, columns):
    code, out, err = shopmate("guide", name, columns=columns)
    assert (code, err) == (0, "")
    assert out.splitlines() == [guide.load(name).title, "", *guide.load(name).lines(columns)]


def test_an_unknown_topic_says_which_there_are(shopmate):
    code, out, err = shopmate("guide", "glue")
    assert (code, out) == (2, "")
    assert err == f"shopmate: the guide has no topic 'glue'; topics: {', '.join(guide.names())}\n"


# At the bench


def test_a_dialogue_shows_topics_until_it_is_left(home):
    desk = Place().begin()
    held = Held(look_up.read_guide(), "Keys", None, "Ears", None, None)
    assert [asked.topic.name for asked in held.asked if isinstance(asked, Read)] == ["keys", "ears"]
    assert held.titles[0] == [guide.load(name).title for name in guide.AT_THE_BENCH]
    desk.close()


def test_in_lines_a_topic_is_said_until_there_is_enough(now, home):
    at = number(talk(now, *NEW_PROJECT), "Guide")
    said = talk(now, at, "2", "", "/")
    rows = [row for block in guide.load("keys").blocks for row in block]
    spoken = " ".join(said.split())
    for row in rows[:12]:
        assert " ".join(f"{row.lead}{row.text}".split()) in spoken
    assert " ".join(rows[12].text.split()) not in spoken
    assert f"Paragraph 6 of {len(rows)}. [Enter] more, [/] stop" in said
