"""The words of the command line: each command with what may be given to it."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeAlias

from shopmate import __version__, paths
from shopmate.errors import UsageError

if TYPE_CHECKING:
    from _typeshed import SupportsWrite

_Commands: TypeAlias = "argparse._SubParsersAction[_Parser]"

_PLAIN = "the whole bench in lines, for a screen reader, a dumb terminal or a pipe; without a terminal it is so by itself"


def parser(only: str = "") -> argparse.ArgumentParser:
    """Return the parser of the whole command, from which the help and the command reference are drawn.

    Where `only` names a command, the others are left out: its words are read in a third of the time.
    """
    top = _Parser(
        prog="shopmate",
        description="A bench companion for composite panel work: recipes as checklists with clocks and calculators built in.",
        epilog="Exit codes: 0 done, 1 the input has problems, 2 wrong usage, 3 internal error, 4 calc found "
        "no figure for what was asked, 130 interrupted, "
        f"128 + n stopped by signal n. {paths.HOME_VARIABLE} keeps all files in one folder.",
    )
    top.add_argument("--version", action="version", version=f"shopmate {__version__}", help="print the version and exit")
    top.add_argument("--plain", action="store_true", help=_PLAIN)
    commands = top.add_subparsers(
        dest="command", title="commands", metavar="COMMAND", description="Without a command the bench opens."
    )

    for name, add in _COMMANDS.items():
        if only == name or only not in _COMMANDS:
            add(commands)
    return top


def _demo(commands: _Commands) -> None:
    demo = commands.add_parser("demo", help="open the demo project", description="Open the demo project, in a folder of its own.")
    demo.add_argument("--fresh", action="store_true", help="start the demo over (the old one is kept as a file)")
    demo.add_argument("--plain", action="store_true", default=argparse.SUPPRESS, help=_PLAIN)


def _guide(commands: _Commands) -> None:
    guide = commands.add_parser(
        "guide",
        help="list the topics of the guide, or read one",
        description="Without a topic, list the topics; with one, print it.",
        epilog="Example: shopmate guide keys",
    )
    guide.add_argument("topic", nargs="?", metavar="TOPIC", help="what to read about")


def _calc(commands: _Commands) -> None:
    calculate = commands.add_parser(
        "calc",
        help="list the calculators, show one, or run one",
        description="Without a name, list the calculators; with a name, show its fields; with fields, print the result.",
        epilog='Example: shopmate calc fillet length="4.8 m" radius="12 mm"',
    )
    calculate.add_argument("name", nargs="?", metavar="NAME", help="the calculator")
    calculate.add_argument("fields", nargs="*", metavar="field=value", help='such as length="1 1/2 in"')
    calculate.add_argument("--json", action="store_true", help="print the result as one JSON object, unrounded")
    calculate.add_argument("--picture", action="store_true", help="draw the result to scale below it, with a description")
    calculate.add_argument(
        "--system",
        choices=("metric", "inch"),
        help="units of limits, results and numbers typed without a unit (default: each field's own)",
    )


def _table(commands: _Commands) -> None:
    table = commands.add_parser(
        "table",
        help="list the published tables, or print one",
        description="Without a name, list the tables; with a name, print that table with its sources, to fit the terminal.",
        epilog="Example: shopmate table wood_screws",
    )
    table.add_argument("name", nargs="?", metavar="NAME", help="the table")
    table.add_argument("--csv", action="store_true", help="print it as CSV, with the source of each row")


def _sheet(commands: _Commands) -> None:
    sheet = commands.add_parser(
        "sheet",
        help="print a recipe with its figures worked out",
        description="Print a recipe with its figures worked out, as Markdown. Blanks use the recipe's defaults.",
        epilog='Example: shopmate sheet fillet length="4.8 m"',
    )
    sheet.add_argument("recipe", metavar="RECIPE", help="name of a recipe, or the path of a .yaml file")
    sheet.add_argument("inputs", nargs="*", metavar="input=value", help="an answer to one of the recipe's questions")
    sheet.add_argument("--working", action="store_true", help="print the full text, the working and the sources")
    sheet.add_argument("--system", choices=("metric", "inch"), default="metric", help="units of the figures (default: metric)")


def _check(commands: _Commands) -> None:
    check = commands.add_parser(
        "check",
        help="list the problems of recipe and shelf files",
        description="List every problem as file:line:column: what; fix. "
        "Of a shelf, also note which recipe steps will lack a figure; notes are not problems.",
    )
    check.add_argument("files", nargs="+", metavar="FILE", type=Path, help="a recipe or shelf file (YAML)")


def _schema(commands: _Commands) -> None:
    schema = commands.add_parser(
        "schema",
        help="print the JSON Schema of recipes or of operations",
        description="Print the JSON Schema of recipe files (draft 2020-12), so that an editor can complete and check them as "
        "you type. Names, units and calculators are checked only by 'shopmate check'.",
        epilog="Example: shopmate schema recipe --path",
    )
    schema.add_argument("of", nargs="?", choices=("recipe", "operation"), default="recipe", help="which schema (default: recipe)")
    schema.add_argument("--path", action="store_true", help="print where its file is, for your editor's settings")


def _new_recipe(commands: _Commands) -> None:
    new = commands.add_parser(
        "new-recipe",
        help="start a recipe of your own",
        description="Write a short example recipe with comments, or a finished run as a recipe, to "
        "your recipes folder (see 'shopmate where'). Nothing is overwritten.",
        epilog="Example: shopmate new-recipe my-batten",
    )
    new.add_argument("name", metavar="NAME", help="its name: lower-case letters, digits and -, starting with a letter")
    new.add_argument(
        "--from-run",
        metavar="PROJECT[:RUN]",
        help="a finished run by its number in the log (default: the last one finished); its answers become the offered "
        "answers, and what was measured is asked for again",
    )


def _log(commands: _Commands) -> None:
    log = commands.add_parser("log", help="export the log of a project", description="Print everything recorded in a project.")
    log.add_argument("project", metavar="PROJECT", help="name of a project, or the path of its file")
    log.add_argument(
        "--format",
        choices=("md", "lines", "csv", "json"),
        default="md",
        help="format (default: md); 'lines' suits a screen reader",
    )


def _clocks(commands: _Commands) -> None:
    clocks = commands.add_parser("clocks", help="print the running clocks", description="Print the clocks that are running.")
    clocks.add_argument("project", nargs="?", metavar="PROJECT", help="name or file of a project (default: the last one)")


def _keys(commands: _Commands) -> None:
    commands.add_parser(
        "keys",
        help="measure this keyboard and set the key timing to suit",
        description="Measure how fast this keyboard repeats a held key, set the key timing to suit, and show which keys arrive.",
    )


def _copy(commands: _Commands) -> None:
    copy = commands.add_parser(
        "copy",
        help="copy a project to a file",
        description="Copy a project to a new file, even while it is open. Put the copy in the projects folder "
        "(see 'shopmate where') of any computer to open it there.",
        epilog="Example: shopmate copy bird-hide /media/stick",
    )
    copy.add_argument("project", metavar="PROJECT", help="name of a project, or the path of its file")
    copy.add_argument("file", metavar="FILE", type=Path, help="the new file, or a folder for it")


def _mend(commands: _Commands) -> None:
    mend = commands.add_parser(
        "mend",
        help="mend a damaged project",
        description="Write what can be saved of a damaged project to a new file in its place; the damaged file is kept. "
        "Lost entries are listed by number. Close the project first.",
        epilog="Example: shopmate mend bird-hide",
    )
    mend.add_argument("project", metavar="PROJECT", help="name of a project, or the path of its file")


def _where(commands: _Commands) -> None:
    commands.add_parser("where", help="print the folders", description="Print where projects, shelf and recipes are kept.")


def _words(commands: _Commands) -> None:
    commands.add_parser(
        "words",
        help="print the words on the screen, to translate them",
        description="Print the words on the screen as CSV. Fill in the column 'own' and save it where 'shopmate where' says: "
        "it is used from the next start. Blank rows stay in English.",
    )


_COMMANDS: Mapping[str, Callable[[_Commands], None]] = {
    "demo": _demo,
    "guide": _guide,
    "calc": _calc,
    "table": _table,
    "sheet": _sheet,
    "check": _check,
    "schema": _schema,
    "new-recipe": _new_recipe,
    "log": _log,
    "clocks": _clocks,
    "keys": _keys,
    "copy": _copy,
    "mend": _mend,
    "where": _where,
    "words": _words,
}
"""Each command with what adds it and its words, in the order of the help."""


class _Parser(argparse.ArgumentParser):
    """A parser whose complaint is one line with what to do."""

    def __init__(self, **words: Any) -> None:
        super().__init__(formatter_class=_as_wide, **words)

    def _print_message(self, message: str, file: SupportsWrite[str] | None = None) -> None:
        """Print help or version; what is wrong with the output is not passed over."""
        if message and file is not None:
            file.write(message)

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{message}; see '{self.prog} --help'")


def _as_wide(prog: str) -> argparse.HelpFormatter:
    """Return what lays help out in the width of the terminal."""
    return argparse.HelpFormatter(prog, width=columns() - 2)


def columns() -> int:
    """Return the columns of the terminal, 40 or more, without the packers that the library's own search for them loads.

    Where nothing says how many there are, as through a pipe, there are 80.
    """
    try:
        found = int(os.environ.get("COLUMNS") or os.get_terminal_size().columns)
    except (OSError, ValueError):
        found = 80
    return max(found, 40)


def pairs(words: Sequence[str], command: str) -> dict[str, str]:
    """Return texts by name from words such as length="1 m"; UsageError for what is no such word, or one given twice."""
    found: dict[str, str] = {}
    for word in words:
        name, sign, value = word.partition("=")
        if not sign:
            raise UsageError(f"'{word}' is not of the form name=value; see '{command}'")
        if name in found:
            raise UsageError(f"'{name}' is given twice; give it once")
        found[name] = value
    return found
