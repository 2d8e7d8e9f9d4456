"""The command line: results on stdout, words about them on stderr, exit codes 0, 1, 2, 3 and 130."""

from __future__ import annotations

import argparse
import codecs
import gc
import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from shopmate import __version__, paths
from shopmate.errors import FileProblems, Problem, ShopmateError, UsageError

if TYPE_CHECKING:
    from shopmate.result import Result

_PICTURE_COLUMNS, _PICTURE_ROWS = (40, 120), 16
"""Least and most columns, and least rows, in which a picture is drawn."""

DONE, PROBLEMS, USAGE, FAULT, INTERRUPTED = 0, 1, 2, 3, 130


def main(words: Sequence[str] | None = None) -> int:
    """Run the command `words` (by default those of the process) and return its exit code."""
    _spell_out()
    # Nothing that a start makes is garbage yet, and looking for it took a tenth of the time; a bench turns it on again.
    gc.disable()
    try:
        try:
            arguments = parser().parse_args(words)
            return int(arguments.act(arguments) or DONE)
        finally:
            if sys.stdout is not None:  # as when it was closed before we began
                sys.stdout.flush()  # what is wrong with the output is known here and not when the interpreter ends
    except UsageError as error:
        print(f"shopmate: {error}", file=sys.stderr)
        return USAGE
    except ShopmateError as error:
        print(f"shopmate: {error}" if not isinstance(error, FileProblems) else str(error), file=sys.stderr)
        return PROBLEMS
    except KeyboardInterrupt:
        print("shopmate: interrupted; what was recorded is safe", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()  # its reader left, having seen enough
        return DONE
    except OSError as error:
        _drop_output()
        print(f"shopmate: {error}; free the disk, or check the rights of the file and its folder", file=sys.stderr)
        return PROBLEMS
    except Exception:
        return _fault()
    finally:
        gc.enable()


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command, from which the help and the command reference are drawn."""
    top = _Parser(
        prog="shopmate",
        description="A bench companion for composite panel work: recipes as checklists with clocks and calculators built in.",
        epilog="Exit codes: 0 done, 1 the input has problems, 2 wrong usage, 3 a fault of ours, 130 interrupted. "
        f"{paths.HOME_VARIABLE} moves all state to one folder.",
    )
    top.add_argument("--version", action="version", version=f"shopmate {__version__}", help="print the version and leave")
    plain = "the whole bench in lines, for a screen reader, a dumb terminal or a pipe; without a terminal it is so by itself"
    top.add_argument("--plain", action="store_true", help=plain)
    top.set_defaults(act=_bench)
    commands = top.add_subparsers(title="commands", metavar="COMMAND", description="Without a command the bench opens.")

    demo = commands.add_parser("demo", help="open the demo project", description="Open the demo project, in a folder of its own.")
    demo.add_argument("--fresh", action="store_true", help="begin the demo anew (the former one is kept as a file)")
    demo.add_argument("--plain", action="store_true", default=argparse.SUPPRESS, help=plain)
    demo.set_defaults(act=_demo)

    calculate = commands.add_parser(
        "calc",
        help="list the calculators, show one, or work one out",
        description="Without a name list the calculators; with a name its fields; with fields the result.",
        epilog='Example: shopmate calc fillet length="4.8 m" radius="12 mm"',
    )
    calculate.add_argument("name", nargs="?", metavar="NAME", help="the calculator")
    calculate.add_argument("fields", nargs="*", metavar="field=value", help='such as length="1 1/2 in"')
    calculate.add_argument("--json", action="store_true", help="print the result as one JSON object, unrounded")
    calculate.add_argument("--picture", action="store_true", help="draw the result to scale under it, and say it in words")
    calculate.set_defaults(act=_calc)

    table = commands.add_parser(
        "table",
        help="list the published tables, or print one",
        description="Without a name list the tables; with a name print it with its sources, in columns that fit the terminal.",
        epilog="Example: shopmate table wood_screws",
    )
    table.add_argument("name", nargs="?", metavar="NAME", help="the table")
    table.add_argument("--csv", action="store_true", help="print it as CSV, the source of each row written out")
    table.set_defaults(act=_table)

    sheet = commands.add_parser(
        "sheet",
        help="print a recipe with its figures worked out",
        description="Print a recipe with all its figures worked out, as Markdown. What is not given is the recipe's default.",
        epilog='Example: shopmate sheet fillet length="4.8 m"',
    )
    sheet.add_argument("recipe", metavar="RECIPE", help="name of a recipe, or the path of a .yaml file")
    sheet.add_argument("inputs", nargs="*", metavar="input=value", help="an answer to one of the recipe's questions")
    sheet.add_argument("--system", choices=("metric", "inch"), default="metric", help="units of the figures (default: metric)")
    sheet.set_defaults(act=_sheet)

    check = commands.add_parser(
        "check",
        help="list the problems of recipe and shelf files",
        description="List every problem as file:line:column: what; fix. "
        "Of a shelf, also note which recipe steps will miss a figure; a note is no problem.",
    )
    check.add_argument("files", nargs="+", metavar="FILE", type=Path, help="a recipe or shelf file (YAML)")
    check.set_defaults(act=_check)

    log = commands.add_parser("log", help="export the log of a project", description="Print everything recorded in a project.")
    log.add_argument("project", metavar="PROJECT", help="name of a project, or the path of its file")
    log.add_argument(
        "--format",
        choices=("md", "lines", "csv", "json"),
        default="md",
        help="form of the export (default: md); lines read aloud well",
    )
    log.set_defaults(act=_log)

    clocks = commands.add_parser(
        "clocks", help="print the clocks and how they stand", description="Print the clocks that are running."
    )
    clocks.add_argument("project", nargs="?", metavar="PROJECT", help="name or file of a project (default: the last one)")
    clocks.set_defaults(act=_clocks)

    keys = commands.add_parser(
        "keys",
        help="measure this keyboard and set the guards to it",
        description="Measure how this keyboard repeats a key held down, set the guards to it, and show which keys arrive.",
    )
    keys.set_defaults(act=_keys)

    where = commands.add_parser(
        "where", help="print the folders", description="Print where projects, shelf and recipes are kept."
    )
    where.set_defaults(act=_where)

    words = commands.add_parser(
        "words",
        help="print the words of the bench, to put them into another language",
        description="Print the words of the bench as CSV. With the column 'own' filled in, and kept under the name that "
        "'shopmate where' gives, it is used from the next start on; what is left empty stays as it is.",
    )
    words.set_defaults(act=_words)
    return top


class _Parser(argparse.ArgumentParser):
    """A parser whose complaint is one line with what to do."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{message}; see '{self.prog} --help'")


def _now() -> datetime:
    return datetime.now(UTC)


def _bench(arguments: argparse.Namespace) -> int:
    _need_streams()
    return _open(None, plain=arguments.plain)


def _keys(arguments: argparse.Namespace) -> int:
    if not (sys.stdin and sys.stdout and sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("keys measures a keyboard and needs a terminal; run it in the window that you work in")
    from shopmate.tui import run_keys

    return run_keys()


def _demo(arguments: argparse.Namespace) -> int:
    _need_streams()
    from shopmate.session.demo import demo_project

    return _open(demo_project(_now(), fresh=arguments.fresh), plain=arguments.plain)


def _need_streams() -> None:
    if sys.stdin is None or sys.stdout is None:
        raise UsageError("the bench needs an input and an output; 'shopmate sheet RECIPE' needs no input")


def _open(path: Path | None, *, plain: bool) -> int:
    """Open the bench: on the whole screen, or in lines where that is asked for or all there is."""
    if plain or os.environ.get("TERM") == "dumb" or not (sys.stdin.isatty() and sys.stdout.isatty()):
        from shopmate.plain import run as run_plain

        gc.enable()
        return run_plain(path, _now)
    from shopmate.tui import run

    return run(path)


def _calc(arguments: argparse.Namespace) -> None:
    from shopmate import calc

    if arguments.json and arguments.picture:
        raise UsageError("--json prints one object and no picture; leave one of the two out")
    if arguments.name is None:
        width = max(map(len, calc.names()), default=0)
        for name in calc.names():
            print(f"{name:<{width}}  {calc.find(name).title}")
        return
    if not arguments.fields and not arguments.json and not arguments.picture:
        _show_calculator(arguments.name)
        return
    result = calc.run(arguments.name, _pairs(arguments.fields, f"shopmate calc {arguments.name}"))
    if arguments.json:
        import json

        print(json.dumps(result.as_json(), ensure_ascii=False, indent=2))
        return
    _say_result(result)
    if arguments.picture:
        _draw(result)


def _say_result(result: Result) -> None:
    """Print a result: its warnings to stderr, in their place where both go to one screen."""
    from shopmate import calc
    from shopmate.result import present, shown

    for field in calc.find(result.calculator).inputs:
        if field.name in result.inputs:
            print(f"  {field.title}: {shown(result.inputs[field.name], None)}")
    read = present(result, calc.find(result.calculator).outputs, None)
    for figure in read.head:
        print(f"{figure.name} = {figure.shown}  ({figure.label})")
    sys.stdout.flush()
    for line in read.warnings:
        print(f"caution: {line}", file=sys.stderr, flush=True)
    for figure in read.others:
        print(f"{figure.name} = {figure.shown}  ({figure.label})")
    for title, lines in (("working", read.working), ("sources", read.sources)):
        print(f"{title}:")
        for line in lines:
            print(f"  {line}")


def _draw(result: Result) -> None:
    """Print the picture of a result and its words, or say that there is none."""
    from shopmate import calc, picture

    make = calc.find(result.calculator).picture
    seen = make(result.inputs, result.outputs) if make is not None else None
    if seen is None:
        print(f"shopmate: there is no picture of this result of {result.calculator}", file=sys.stderr)
        return
    size = shutil.get_terminal_size()
    columns, rows = max(_PICTURE_COLUMNS[0], min(size.columns, _PICTURE_COLUMNS[1])), max(_PICTURE_ROWS, size.lines - 2)
    print("picture:")
    for line in picture.draw(seen, columns, rows, ascii_only=not _prints(picture.SIGNS), words=False):
        print(line)
    print("\n".join(textwrap.wrap(seen.words, columns)))


def _table(arguments: argparse.Namespace) -> None:
    from shopmate import tables

    if arguments.name is None:
        if arguments.csv:
            raise UsageError("--csv prints one table; name it: shopmate table NAME --csv")
        longest = max(map(len, tables.names()))
        for name in tables.names():
            print(f"{name:<{longest}}  {tables.load(name).title}")
        return
    table = tables.load(arguments.name)
    if arguments.csv:
        import csv

        writer = csv.DictWriter(sys.stdout, table.columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows({**row, "source": table.source_of(row)} for row in table.rows)
        return
    print(f"# {table.title}")
    # To a file or another program the table goes whole.
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else None
    for block in table.blocks(width, markdown=True):
        print()
        for line in (*block.head, *(line for row in block.rows for line in row)):
            print(line)
    print("\nSources:\n")
    for key, source in table.sources.items():
        print(f"- {key}: {source}")


def _show_calculator(name: str) -> None:
    from shopmate import calc

    calculator = calc.find(name)
    print(f"{calculator.name}: {calculator.title}\n\nfields:")
    for field in calculator.inputs:
        need = f"default {field.default}" if field.default is not None else "may be left out" if field.optional else "needed"
        print(f"  {field.name}: {field.title} ({field.kind.describe()}; {need})")
        if field.help:
            print(f"      {field.help}")
    print("\noutputs:")
    for output in calculator.outputs:
        print(f"  {output.name}: {output.title}{f' ({output.unit})' if output.unit else ''}")
    print(f"\nvalid: {calculator.valid}\n\nsources:")
    for source in calculator.source:
        print(f"  {source}")


def _sheet(arguments: argparse.Namespace) -> None:
    from shopmate import session
    from shopmate.session.sheet import sheet

    recipe = session.find_recipe(arguments.recipe)
    texts = _pairs(arguments.inputs, f"shopmate sheet {arguments.recipe}")
    print(sheet(recipe, texts, session.shelf(), _now(), arguments.system))


def _check(arguments: argparse.Namespace) -> int:
    from shopmate import recipe, session

    count = 0
    for path in arguments.files:
        try:
            text = recipe.read_file(path)
            if recipe.is_shelf(text, str(path)):
                known = [file.recipe for file in session.recipe_files() if file.recipe is not None]
                for material in recipe.read_shelf(text, str(path)).values():
                    for step in recipe.misses(material, known):
                        print(f"note: {path}: {material.name} has no figure for {step}", file=sys.stderr)
            else:
                _note(recipe.read(text, str(path), path.stem).notes)
        except FileProblems as error:
            count += len(error.problems)
            print(error)
            _note(error.notes)
    words = "no problems" if count == 0 else f"{count} problem{'s' if count > 1 else ''}"
    print(f"shopmate: {words} in {len(arguments.files)} file{'s' if len(arguments.files) > 1 else ''}", file=sys.stderr)
    return PROBLEMS if count else DONE


def _note(notes: Iterable[Problem]) -> None:
    for note in notes:
        print(f"note: {note}", file=sys.stderr)


def _log(arguments: argparse.Namespace) -> None:
    from shopmate import session
    from shopmate.session.export import export

    path = _project_file(arguments.project)
    events = session.events_of(path)
    name = next((str(event.data["name"]) for event in events if event.kind == "project"), path.stem)
    print(export(events, name, arguments.format))


def _clocks(arguments: argparse.Namespace) -> None:
    from shopmate import clock, session

    path = _project_file(arguments.project) if arguments.project else session.last_project()
    if path is None:
        raise UsageError("there is no project yet; open one with 'shopmate', or name a file")
    now = _now()
    running = session.running_clocks(path)
    for item in running:
        print(f"{clock.line(item, now)}. {item.action}.")
    if not running:
        print(f"shopmate: no clock is running in {path.stem}", file=sys.stderr)


def _where(arguments: argparse.Namespace) -> None:
    for title, place in (
        ("home", paths.home()),
        ("projects", paths.projects()),
        ("demo", paths.demo()),
        ("shelf", paths.shelf()),
        ("settings", paths.settings()),
        ("own words", paths.words()),
        ("own recipes", paths.user_recipes()),
        ("shipped recipes", paths.shipped_recipes()),
        ("fault reports", paths.reports()),
    ):
        print(f"{title:<16} {place}")


def _words(arguments: argparse.Namespace) -> None:
    import csv

    from shopmate import phrases

    table = csv.writer(sys.stdout, lineterminator="\n")
    table.writerow(("place", "text", "own"))
    table.writerows((place, text, "") for text, place in phrases.english().items())


def _project_file(text: str) -> Path:
    from shopmate import session

    given = Path(text)
    if given.is_file():
        return given
    path = session.project_path(text)
    if path.is_file():
        return path
    names = ", ".join(item.stem for item in session.projects()) or "none yet"
    raise UsageError(f"there is no project '{text}'; projects: {names}")


def _pairs(words: Sequence[str], command: str) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for word in words:
        name, sign, value = word.partition("=")
        if not sign:
            raise UsageError(f"'{word}' is not of the form name=value; see '{command}'")
        if name in pairs:
            raise UsageError(f"'{name}' is given twice; give it once")
        pairs[name] = value
    return pairs


_SPELLED = {
    "°": "deg", "±": "+/-", "×": "x", "÷": "/", "·": "*", "−": "-", "–": "-", "—": "-", "’": "'", "′": "'", "′′": '"',
    "≤": "<=", "≥": ">=", "≈": "~", "√": "sqrt ", "─": "-",
    "π": "pi", "θ": "theta", "ρ": "rho", "ψ": "psi", "σ": "sigma", "α": "alpha", "μ": "u", "Σ": "sum of ", "Δ": "delta ",
    "○": "o", "◔": "c", "●": "#", "◉": "@", "✖": "x", "◌": ".", "✓": "v",
}  # fmt: skip
"""Signs in our texts that some encodings lack, as they are written without them."""


def _spell_out() -> None:
    """Let output that holds signs such as ² be printed on a terminal set to an encoding without them."""
    codecs.register_error("spell-out", _spelled)
    for stream in (sys.stdout, sys.stderr):
        encoding = (getattr(stream, "encoding", "") or "").lower()
        if encoding not in ("utf-8", "utf8") and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="spell-out")


def _prints(signs: str) -> bool:
    """Return whether stdout can print all of `signs`."""
    try:
        signs.encode(getattr(sys.stdout, "encoding", "") or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _spelled(error: UnicodeError) -> tuple[str, int]:
    import unicodedata

    assert isinstance(error, UnicodeEncodeError)
    text = error.object[error.start : error.end]
    plain = ""
    for sign in text:
        # The compatibility form makes 2 of ² and 1⁄2 of ½, which must not run into the digits before them.
        form = unicodedata.normalize("NFKC", sign)
        if form != sign and unicodedata.decomposition(sign).startswith("<super>"):
            plain += f"^{form}"
        else:
            plain += " " + form.replace("⁄", "/") if "⁄" in form else _SPELLED.get(form, form)
    return plain.encode("ascii", "replace").decode("ascii"), error.end


def _drop_output() -> None:
    """Point stdout at nothing so that the interpreter's last flush is silent."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _fault() -> int:
    """Write a report of what went wrong with us and say where it is."""
    import traceback

    text = f"shopmate {__version__}, Python {sys.version.split()[0]}, {sys.platform}\n\n{traceback.format_exc()}"
    try:
        folder = paths.reports()
        folder.mkdir(parents=True, exist_ok=True)
        report = folder / f"fault-{_now():%Y%m%d-%H%M%S}.txt"
        report.write_text(text, encoding="utf-8")
        place = f"a report is in {report}"
    except OSError:
        place = f"no report could be written:\n{text}"
    print(f"shopmate: a fault of ours, not yours; what was recorded is safe; {place}", file=sys.stderr)
    return FAULT
