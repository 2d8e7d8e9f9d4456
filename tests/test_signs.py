"""Every sign of our texts in 7 bits: spelled out in what is printed, one cell for one on the screen."""

import ast
import unicodedata
from pathlib import Path

import pytest

from shopmate.cli.signs import spell_out, spelled
from shopmate.tui.lines import plain

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "shopmate"
SAID = ("calc", "cli", "dialogue", "plain", "project", "session", "tables")
"""Folders of the package whose texts are printed and shown; what others hold is read, or drawn with signs of its own."""
TABLES = [*PACKAGE.rglob("*.csv"), *ROOT.glob("recipes/**/*.yaml")]


def texts(path: Path) -> set[str]:
    """Return the strings of a Python file but for its docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    docstrings = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    strings = (node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in docstrings)
    return {node.value for node in strings if isinstance(node.value, str)}


def signs_in(*paths: Path) -> list[str]:
    """Return the signs beyond 7 bits that stand in the texts of some files."""
    found: set[str] = set()
    for path in paths:
        found.update(*(texts(path) if path.suffix == ".py" else {path.read_text(encoding="utf-8")}))
    return sorted(sign for sign in found if not sign.isascii())


def said(*folders: str) -> list[Path]:
    return [path for folder in folders for path in (PACKAGE / folder).rglob("*.py")]


def printed(text: str) -> str:
    return spelled(UnicodeEncodeError("ascii", text, 0, len(text), ""))[0]


def test_the_signs_are_found():
    assert {"°", "×", "→", "☐", "²"} <= set(signs_in(*said(*SAID), *TABLES))
    assert {"┃", "◀", "▶", "▸", "⚠"} <= set(signs_in(*said("tui")))


@pytest.mark.parametrize("sign", signs_in(*said(*SAID), *TABLES))
def test_what_is_printed_is_spelled_out(sign):
    assert "?" not in printed(sign)


def is_drawn(path: Path) -> bool:
    """Return whether the texts of a file come onto the screen: those of commands and of a sheet are printed alone."""
    return path.name != "brief.py" and path.parent.name != "cli"


def is_fraction(sign: str) -> bool:
    """Return whether a sign is a fraction, which is typed where a terminal has it and never drawn."""
    return unicodedata.decomposition(sign).startswith("<fraction>")


SHOWN = [sign for sign in signs_in(*filter(is_drawn, said(*SAID, "tui")), *TABLES) if not is_fraction(sign)]


@pytest.mark.parametrize("sign", SHOWN)
def test_what_is_shown_has_a_sign_of_one_cell(sign):
    assert plain(sign) != "?"
    assert len(plain(sign)) == 1


def test_signs_of_one_gauge_stay_apart():
    assert plain("◀18 ├──┃──┤ 35▶") == "<18 |--#--| 35>"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("10⁻⁶", "10^-6"), ("mm²", "mm^2"), ("10² × 5³", "10^2 x 5^3"), ("⌈7 / 2⌉", "ceil(7 / 2)"), ("2 kg → 3 kg", "2 kg -> 3 kg")],
)
def test_a_figure_keeps_its_meaning(text, wanted):
    spell_out()
    assert text.encode("ascii", "spell-out").decode() == wanted
