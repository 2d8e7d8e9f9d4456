"""The table of the words of the bench: all that is shown comes from it, fits its place, and can be put in other words."""

from __future__ import annotations

import ast
import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TypeGuard

import pytest

from shopmate import cli, phrases
from shopmate.errors import FileProblems
from shopmate.phrases import phrase
from shopmate.plain.saying import HELP

PACKAGE = Path(phrases.__file__).parent

SHOWN = ("tui", "plain", "dialogue", "session", "project", "clock.py", "times.py", "ears.py", "channels.py")
"""What shows words to whoever works at the bench. Recipes, calculators and tables bring texts of their own."""

NOT_SHOWN = (
    "project/export.py", "session/sheet.py", "session/brief.py", "session/draft.py", "session/demo.py", "session/own.py",
    "project/events", "project/run.py", "tui/themes.py", "tui/widgets/block.py",
)  # fmt: skip
"""Of these, what writes files in English, holds invented data, is kept in the log, or draws letters."""

WORD = re.compile(r"[^\W\d_]{4,}")
"""What is a word and no symbol of a unit."""

STYLE = re.compile(r"(?:bold|reverse|dim|underline|not|on|\$[\w-]+|#?\{\}|\s)+")
"""How something is drawn."""


def rows() -> list[dict[str, str]]:
    with phrases.TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def modules() -> Iterator[Path]:
    """Yield the files that show words."""
    for name in SHOWN:
        found = [PACKAGE / name] if name.endswith(".py") else sorted((PACKAGE / name).rglob("*.py"))
        yield from (path for path in found if not path.relative_to(PACKAGE).as_posix().startswith(NOT_SHOWN))


def literals(tree: ast.AST) -> Iterator[tuple[ast.expr, str]]:
    """Yield each text in the code that is no docstring, a formatted one with {} for what is filled in."""
    docs = {
        id(statement.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        for statement in node.body
        if isinstance(statement, ast.Expr)
    }
    parts = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield node, "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs | parts:
            yield node, node.value


def named(node: ast.AST, *names: str) -> TypeGuard[ast.Call]:
    """Return whether a part of the code calls something of one of these names."""
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names


def calls(tree: ast.AST, *names: str) -> Iterator[ast.Call]:
    """Yield the calls of something of one of these names."""
    yield from (node for node in ast.walk(tree) if named(node, *names))


def texts(node: ast.expr) -> list[str]:
    """Return what an expression may be where it stands there literally."""
    if isinstance(node, ast.IfExp):
        return [*texts(node.body), *texts(node.orelse)]
    return [node.value] if isinstance(node, ast.Constant) and isinstance(node.value, str) else []


def looks_like_words(text: str) -> bool:
    """Return whether a text would be read as words: two beside one another, or one with figures."""
    if STYLE.fullmatch(text) or text.lstrip().startswith(("&", ".", "#")) or re.search(r"\{[^}]*:[^}]*;", text):
        return False
    words = re.findall(r"[^\W\d_]{2,}", text.replace("{}", ""))
    return bool(words) and ("{}" in text or len(words) > 1) and bool(re.search(r"[^\W\d_]{2,} |\{\} [^\W\d_]{2,}", text))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["text"][:40])
def test_a_phrase_fits_its_place(row):
    assert phrases.length(row["text"]) <= phrases.LONGEST[row["place"]]


def test_the_table_is_in_order_and_says_nothing_twice():
    texts = [row["text"] for row in rows()]
    assert len(set(texts)) == len(texts)
    assert rows() == sorted(rows(), key=lambda row: (list(phrases.LONGEST).index(row["place"]), row["text"].casefold()))


def test_a_phrase_asked_for_is_in_the_table_and_given_what_it_leaves_blank():
    for path in PACKAGE.rglob("*.py"):
        for call in calls(ast.parse(path.read_text(encoding="utf-8")), "phrase"):
            for text in texts(call.args[0]):
                assert text in phrases.english(), f"{path.name} line {call.lineno}: put it into {phrases.TABLE.name}"
                if not isinstance(call.args[-1], ast.Starred):
                    assert len(call.args) - 1 == len(phrases.blanks(text)), f"{path.name} line {call.lineno}"


@pytest.mark.parametrize("path", list(modules()), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_what_is_shown_comes_from_the_table(path):
    tree, table = ast.parse(path.read_text(encoding="utf-8")), phrases.english()
    faults = [word for call in calls(tree, "RuntimeError") for word in call.args]
    compared = [part for node in ast.walk(tree) if isinstance(node, ast.Compare) for part in ast.walk(node)]
    loose = [
        f"line {node.lineno}: {text!r}"
        for node, text in literals(tree)
        if text not in table and node not in [*faults, *compared] and looks_like_words(text)
    ]
    assert not loose, "ask for a phrase of the table"


def test_what_is_drawn_or_said_is_no_text_of_the_code():
    for path in modules():
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call) and getattr(call.func, "attr", "") in ("styled", "say", "tell"):
                said = [text for node in call.args[:1] for text in texts(node)]
                assert not any(WORD.search(text.replace("shopmate", "")) for text in said), (
                    f"{path.name} line {call.lineno}: {said}"
                )


def test_the_word_beside_a_key_comes_from_the_table():
    for path in modules():
        for call in calls(ast.parse(path.read_text(encoding="utf-8")), "Offer"):
            for word in texts(call.args[1]):
                assert not word or phrases.english().get(word) == "key", f"{path.name} line {call.lineno}: {word}"


def test_what_is_to_be_chosen_comes_from_the_table():
    for path in modules():
        for call in calls(ast.parse(path.read_text(encoding="utf-8")), "Item", "ChooseScreen", "NameScreen", "ValueScreen"):
            for shown in call.args[1:3] if named(call, "Item") else call.args[:1]:
                assert not any(WORD.search(text) for text in texts(shown)), f"{path.name} line {shown.lineno}"


def test_nothing_in_the_table_is_without_use():
    used = {text for path in PACKAGE.rglob("*.py") for _, text in literals(ast.parse(path.read_text(encoding="utf-8")))}
    assert not set(phrases.english()) - used


# Words of one's own


def test_own_words_are_used_and_rows_without_them_stay(own_words):
    own_words("place,text,own\nkey,clocks,Uhren\nkey,back,\nstate,MISSED,VERPASST\n")
    phrases.use_own()
    assert [phrase("clocks"), phrase("back"), phrase("MISSED")] == ["Uhren", "back", "VERPASST"]


def test_figures_stand_where_the_own_words_want_them(own_words):
    own_words('place,text,own\nline,{minutes} min ago,"vor {minutes} min"\n')
    phrases.use_own()
    assert phrase("{minutes} min ago", 3) == "vor 3 min"


def test_what_is_wrong_in_own_words_is_said_at_its_place_and_none_are_used(own_words):
    path = own_words(
        "place,text,own\nkey,back,retour\nkey,nothing of ours,x\nline,{minutes} min ago,vor kurzem\n"
        "key,clocks,alle Uhren die jetzt laufen\nline,just now,{eben\n"
    )
    with pytest.raises(FileProblems) as caught:
        phrases.use_own()
    assert [str(problem).removeprefix(str(path)).partition(";")[0] for problem in caught.value.problems] == [
        ":3:1: there is no phrase 'nothing of ours'",
        ":4:1: 'vor kurzem' has to keep {minutes}",
        ":5:1: 'alle Uhren die jetzt laufen' has 27 characters",
        ":6:1: '{eben' has braces that do not match (expected '}' before end of string)",
    ]
    assert phrase("back") == "back"


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_a_table_is_read_with_whatever_a_spreadsheet_divides_its_columns_by(own_words, sign):
    rows_ = ("place", "text", "own"), ("key", "clocks", "Uhren"), ("key", "yes, it's right", '"ja, gemeint; ja"')
    own_words(
        "\ufeff" + "\r\n".join(sign.join(f'"{cell}"' if cell == "yes, it's right" else cell for cell in row) for row in rows_)
    )
    phrases.use_own()
    assert [phrase("clocks"), phrase("yes, it's right")] == ["Uhren", "ja, gemeint; ja"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "Ort,Text,Eigen\nkey,clocks,Uhren\n",
            ":1:1: it has no column 'own' and no column 'text'; the first row has to be: place,text,own",
        ),
        ("", ":1:1: it has no column 'own' and no column 'text'"),
        ("place,text,own\nkey,clocks,Uhren, alle\n", ":2:1: 'clocks' has more columns than the first row: quote"),
        ("place,text,own\nkey,clocks,Uhren\nkey,clocks,Zeiten\n", ":3:1: 'clocks' stands in line 2 too"),
        ('place,text,own\nkey,clocks,"Uh\nren"\n', ":3:1: 'Uh ren' has a line break or a sign that is not shown"),
        (
            "place,text,own\nline,Shop temperature good for {hours:g} h,Gilt {hours:q} h\n",
            ":2:1: 'Gilt {hours:q} h' has to keep {hours:g}",
        ),
        ("place,text,own\nline,{hours} h,{hours:d} h\n", ":2:1: '{hours:d} h' has to keep {hours}"),
    ],
)
def test_what_cannot_be_a_table_of_words_is_said(own_words, text, said):
    path = own_words(text)
    with pytest.raises(FileProblems) as caught:
        phrases.use_own()
    assert [str(problem).removeprefix(str(path)).startswith(said) for problem in caught.value.problems] == [True]


def test_a_table_in_another_encoding_is_said_to_be_so(own_words):
    path = own_words("")
    path.write_bytes("place,text,own\nkey,back,zurück\n".encode("cp1252"))
    with pytest.raises(FileProblems, match="is not UTF-8 text; save it as UTF-8"):
        phrases.use_own()


def test_own_words_count_a_letter_with_its_mark_as_one_and_blanks_around_them_as_none(own_words):
    own_words("place,text,own\nkey,back,  zuru\u0308ck \nkey,clocks,   \n")
    phrases.use_own()
    assert [phrase("back"), phrase("clocks")] == ["zurück", "clocks"]


def test_what_is_typed_in_lines_is_called_the_same_in_every_language(own_words):
    assert {"again", "where", "clocks", "more", "back", "leave", "help"} == set(phrases.blanks(HELP[-2]))
    own_words("place,text,own\ntext,\"'{text}' does nothing here; type {help}.\",\"'{text}' geht nicht; tippe Hilfe.\"\n")
    with pytest.raises(FileProblems, match=r"has to keep \{help\}, \{text\}"):
        phrases.use_own()


def test_without_a_table_of_ones_own_the_words_are_english(home):
    phrases.use_own()
    assert phrase("back") == "back"


def test_a_phrase_that_a_spreadsheet_would_work_out_is_guarded_and_read_back(own_words):
    guarded = next(text for text in phrases.english() if text.startswith("- "))
    own_words(f'place,text,own\n{phrases.english()[guarded]},"\'{guarded}","\'- nimmt zurück"\n')
    phrases.use_own()
    assert phrase(guarded) == "- nimmt zurück"


def test_the_table_to_fill_in_is_printed_and_can_be_used_as_it_is(own_words, capsys):
    assert cli.main(["words"]) == 0
    printed = capsys.readouterr().out
    rows_ = list(csv.DictReader(io.StringIO(printed)))
    assert {row["text"].removeprefix("'"): row["place"] for row in rows_} == {
        text.removeprefix("'"): place for text, place in phrases.english().items()
    }
    assert not [row for row in rows_ if row["text"].startswith(("=", "@", "+", "-"))]
    own_words(printed)
    phrases.use_own()
    assert phrase("back") == "back"
