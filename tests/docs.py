"""The generated parts of README.md: `python tests/docs.py --write` rewrites them, `tests/test_docs.py` compares them."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from shopmate import calc, recipe
from shopmate.cli import parser as words

ROOT = Path(__file__).parent.parent


def commands() -> dict[str, argparse.ArgumentParser]:
    """Return the parser of each command by name, without the whole command."""
    (found,) = [action for action in words.parser()._actions if isinstance(action, argparse._SubParsersAction)]
    return dict(found.choices)


def command_reference() -> str:
    """Return every command with its words, as its own help says it."""
    top = words.parser()
    parts = [
        f"{top.epilog}",
        "**`shopmate [--plain]`**: Open the bench on the last project; the first time, a choice of new project or the demo.",
        "\n".join(
            f"- `{_word(action)}`: {action.help}"
            for action in top._actions
            if not isinstance(action, argparse._SubParsersAction) and action.dest != "help"
        ),
    ]
    for parser in commands().values():
        parts.append(f"**`{_usage(parser)}`**: {parser.description}")
        if parser.epilog:
            parts.append(f"Example: `{parser.epilog.removeprefix('Example: ')}`")
        actions = [action for action in parser._actions if action.dest != "help"]
        if actions:
            parts.append("\n".join(f"- `{_word(action)}`: {action.help}" for action in actions))
    return "\n\n".join(parts)


def _word(action: argparse.Action) -> str:
    return " / ".join(action.option_strings) or str(action.metavar or action.dest)


def _usage(parser: argparse.ArgumentParser) -> str:
    words = " ".join(parser.format_usage().split()).removeprefix("usage: ")
    return words.replace(" [-h]", "")


def calculators() -> str:
    """Return the table of the calculators with their sources."""
    rows = ["| name | what it works out | sources, and how each was come by |", "|---|---|---|"]
    for name in calc.names():
        calculator = calc.find(name)
        sources = "<br>".join(_cell(str(source)) for source in calculator.source)
        rows.append(f"| `{name}` | {_cell(calculator.title)} | {sources} |")
    return "\n".join(rows)


def recipes() -> str:
    """Return the table of the shipped recipes."""
    rows = ["| name | what it is | what it covers |", "|---|---|---|"]
    for path in sorted((ROOT / "recipes").glob("*.yaml")):
        shipped = recipe.load(path)
        rows.append(f"| `{shipped.name}` | {_cell(shipped.title)} | {_cell(shipped.about)} |")
    return "\n".join(rows)


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("<", "&lt;")


PARTS = {"commands": command_reference, "calculators": calculators, "recipes": recipes}
"""What stands between the comments `generated: NAME` and `end of NAME`."""


def renewed(text: str) -> str:
    """Return the text of README.md with its generated parts as they are now."""
    for name, make in PARTS.items():
        begin, end = f"<!-- generated: {name} -->\n", f"<!-- end of {name} -->\n"
        before, _, rest = text.partition(begin)
        _, _, after = rest.partition(end)
        if not before or not after:
            raise SystemExit(f"README.md has no '{begin.strip()}' with '{end.strip()}' after it")
        text = f"{before}{begin}{make()}\n{end}{after}"
    return text


def main() -> int:
    """Rewrite README.md with --write; without it, say whether that would change it."""
    path = ROOT / "README.md"
    now = path.read_text(encoding="utf-8")
    wanted = renewed(now)
    if "--write" in sys.argv[1:]:
        path.write_text(wanted, encoding="utf-8")
        return 0
    print("README.md is as it should be" if now == wanted else "README.md is stale: python tests/docs.py --write")
    return int(now != wanted)


if __name__ == "__main__":
    sys.exit(main())
