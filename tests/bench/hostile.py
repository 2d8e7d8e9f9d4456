"""Put bad inputs in at every door and count what must not come of them; prints a line a door, exit code 1 if any count is not 0.

Run: python tests/bench/hostile.py [N] [--seed S]. The inputs follow from the seed alone. Counted are tracebacks, exits with
code 3, what takes too long, and characters let out that act on a terminal or hide there.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import random
import re
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shopmate import calc, cli, paths, phrases, recipe, settings, tables
from shopmate.characters import unfit
from shopmate.errors import ShopmateError
from shopmate.plain import Lines, LineSounder, Plain
from shopmate.session import Session

ROOT = Path(__file__).parents[2]

LONGEST = 5.0
"""Seconds of the processor that one input may take; the usual takes a few milliseconds."""

FAULTS = ("traceback", "exit 3", "too long", "let out")
"""What is counted."""

ATOMS = (
    "\x00", "\x07", "\x1b[31m", "\x1b]0;X\x07", "\x7f", "\x9b31m", "\u202e", "\u2066", "\u200b", "\u200d", "\ufeff", "\u2028",
    "\ud800", "\udc9b", "\U000e0041", "\ufffe", "👩‍🔧", "é", "ß", "٣", "１", "½", "⅞", "°", "µ", "²",
    "0", "1", "9", "1/2", "1/0", "5/8", "1,5", "1.5", "1,250", "1.250", "1e9", "1e999", "-", "−", "+", ".", ",", "/", ":", ";",
    "nan", "inf", "9" * 50, "9" * 5000, "0." + "0" * 200 + "1", " ", "\t", "\n", "\r", "\r\n", "mm", "in", "°C", "g", "%", "Mm",
    "by volume", "by weight", "2:1", "100:0", "=", "'", '"', "\\", "{", "}", "{length}", "{a.b}", "{0}", "{!r}", "%s", "[", "]",
    "[red]", "- ", "? ", "&a", "*a", "!!python/object:os.system", "<<: ", "|", ">", "#", "---", "...", "@", "`", "~", "null",
    "yes", "\\e", "\\u202e", "\\x9b", "..", "=1+1", "<b>", "|", "--json", "--", "-h", "*", "help", "again", "more", "back",
    "true", "[[[[", "{{{{", "a" * 3000, "\\" * 40, '"' * 40, "((((", "é" * 500,
)  # fmt: skip
"""Pieces of which bad inputs are made."""

Door = Callable[[random.Random], str]
"""Puts one input in and returns what was let out."""


class Clock:
    """A time that goes on a little at every look."""

    def __init__(self) -> None:
        self.at = datetime(2026, 5, 4, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


def text(chance: random.Random, most: int = 6) -> str:
    """Return a text of a few pieces."""
    return "".join(chance.choice(ATOMS) for _ in range(chance.randint(0, most)))


def spoiled(good: str, chance: random.Random) -> str:
    """Return a good text with a few places spoiled."""
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        at = chance.randint(0, len(good))
        end = min(len(good), at + chance.choice((0, 0, 1, 5, 40)))
        piece = chance.choice((text(chance, 3), "", good[at:end] * 2, chance.choice(ATOMS)))
        good = good[:at] + piece + good[end:]
    return good


def written(path: Path, content: str, chance: random.Random) -> Path:
    """Write a file, now and then with bytes that are no text."""
    raw = content.encode("utf-8", "surrogatepass")
    if chance.random() < 0.05:
        at = chance.randint(0, len(raw))
        raw = raw[:at] + chance.randbytes(chance.randint(1, 4)) + raw[at:]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(raw)
    return path


def typed_as(line: str) -> str:
    """Return a line as a terminal sends it: no lone half of a character, no end of a line within it."""
    return line.encode("utf-8", "replace").decode().replace("\n", " ")


@contextmanager
def captured(into: list[str]) -> Iterator[None]:
    """Put what is let out meanwhile on stdout and stderr, which are files in this folder, `into` a list; stdin is at its end."""
    streams = sys.stdin, sys.stdout, sys.stderr
    files = Path("stdout"), Path("stderr")
    with Path(os.devnull).open(encoding="utf-8") as nothing, files[0].open("wb") as out, files[1].open("wb") as err:
        sys.stdin = nothing
        sys.stdout, sys.stderr = covers = [io.TextIOWrapper(raw, "utf-8", "backslashreplace") for raw in (out, err)]
        try:
            yield
        finally:
            sys.stdin, sys.stdout, sys.stderr = streams
            for cover in covers:
                cover.detach()
    into += [file.read_bytes().decode("utf-8", "surrogateescape") for file in files]


class Exit3(Exception):
    """The program took an input for a fault of its own."""


def command(*words: str) -> str:
    """Run a command and return what it let out; raises Exit3."""
    let_out: list[str] = []
    with captured(let_out):
        try:
            code = cli.main(words, Clock())
        except SystemExit as end:  # of help and version
            code = end.code
    if code == cli.FAULT:
        raise Exit3("".join(let_out))
    return "".join(let_out)


def told(act: Callable[[], object]) -> str:
    """Do something and return the error that it raises for whoever uses the program, '' for none.

    What it says is let out by a place that makes it visible, which the commands and the lines are tried for.
    """
    try:
        act()
    except ShopmateError as error:
        str(error)
    return ""


class Doors:
    """The ways in, each tried in a folder of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        good = ROOT / "tests" / "recipes" / "good"
        self.recipes = [path.read_text(encoding="utf-8") for path in sorted(good.glob("*.yaml"))]
        self.shelf = "\n".join(recipe.typical_shelf().read_text(encoding="utf-8").splitlines()[:60]) + "\n"
        self.settings = json.dumps({"hold_ms": 700, "alarm_command": ["ring", "{words}"], "notify": True, "decimal_mark": ","})
        rows = (
            "place,text,own",
            "key,back,zurück",
            'key,"yes, it\'s right","ja, gemeint"',
            "line,Shop temperature good for {hours:g} h,{hours:g} h",
        )
        self.words = "\n".join(rows) + "\n"
        self.materials = recipe.load_shelf(recipe.typical_shelf())
        self.projects = 0

    def fields(self, chance: random.Random) -> str:
        """Fields of a calculator, by the function that all faces call."""
        calculator = calc.find(chance.choice(calc.names()))
        texts = dict(calculator.examples[0].inputs)
        for field in chance.sample(calculator.inputs, k=min(len(calculator.inputs), chance.randint(1, 3))):
            texts[field.name] = text(chance) if chance.random() < 0.6 else spoiled(texts.get(field.name, "1 mm"), chance)
        return told(lambda: calc.run(calculator.name, texts))

    def calc_words(self, chance: random.Random) -> str:
        """Fields of a calculator as words of a command."""
        name = chance.choice(calc.names())
        fields = [f"{field.name}={text(chance, 3)}" for field in calc.find(name).inputs if chance.random() < 0.5]
        return command("calc", name, *fields, *chance.choice(([], ["--json"], ["--picture"], [text(chance)])))

    def recipe(self, chance: random.Random) -> str:
        """A recipe, checked, and written out as a sheet where it is sound."""
        path = written(self.folder / "r.yaml", spoiled(chance.choice(self.recipes), chance), chance)
        return command(chance.choice(("check", "check", "sheet")), str(path))

    def shelf_text(self, chance: random.Random) -> str:
        """The user's shelf, checked and used."""
        path = written(paths.shelf(), spoiled(self.shelf, chance), chance)
        try:
            return command("check", str(path)) if chance.random() < 0.3 else told(lambda: recipe.load_shelf(path))
        finally:
            path.unlink()

    def settings_text(self, chance: random.Random) -> str:
        """The user's settings."""
        path = written(paths.settings(), spoiled(self.settings, chance) if chance.random() < 0.8 else text(chance), chance)
        try:
            return told(settings.load)
        finally:
            path.unlink()

    def words_text(self, chance: random.Random) -> str:
        """The user's own words."""
        path = written(paths.words(), spoiled(self.words, chance), chance)
        try:
            return told(phrases.use_own) + phrases.phrase("back")
        finally:
            path.unlink()
            phrases.use_own()

    def words_of_a_command(self, chance: random.Random) -> str:
        """Words of the command line; none that would write a file, or open a bench."""
        names = ("calc", "table", "sheet", "check", "log", "clocks", "where", "words", "mend", text(chance, 2).strip("-") or "x")
        good = ("fillet", "drill", "diameter=4 mm", "--format", "md", "hide", "bonding", *tables.names())
        words = [spoiled(chance.choice(good), chance) for _ in range(chance.randint(0, 3))]
        # No path that leads out of the folder.
        return command(chance.choice(names), *(re.sub(r"^[/~.]+|\.\.", "", word) for word in words))

    def lines(self, chance: random.Random) -> str:
        """Lines typed at the bench, from a new project on."""
        self.projects += 1
        now = Clock()
        name = typed_as(spoiled("Hide", chance))
        session = Session.create(paths.projects() / f"p{self.projects}.shopmate", name, now(), self.materials)
        session.begin(session.add_part("Panel", now()), recipe.read(self.recipes[0], "every-step.yaml"), now())
        path = session.log.path
        session.close()
        said: list[str] = []
        typed = iter([self.line(chance) for _ in range(LINES)])

        def read(meanwhile: Callable[[], float]) -> str | None:
            now.at += timedelta(seconds=chance.choice((1, 1, 60, 3600)))
            meanwhile()
            return next(typed, None)

        lines = Lines(read, said.append, now)
        Plain(lines, path, sounder=LineSounder(lines, has_bell=True, run_command=lambda *_: "", beside=lambda work: work())).run()
        for file in path.parent.iterdir():
            if file.is_file():
                file.unlink()
        return "".join(part for part in said if part != "\a")

    def line(self, chance: random.Random) -> str:
        """A line as it comes from a terminal: what moves on, a number, or anything."""
        kind = chance.random()
        if kind < 0.35:
            return chance.choice(("", "", "1", "2", "3", "-", "*", "+", "/", ".", "0", "12", "100", "20 °C", "55 %", "yes"))
        line = text(chance) if kind < 0.9 else spoiled("12 mm", chance)
        return typed_as(line)


LINES = 40
"""Lines typed at one bench, each an input."""

SHARES = {
    "fields": 25, "calc_words": 15, "recipe": 15, "shelf_text": 10, "settings_text": 7, "words_text": 8, "words_of_a_command": 10,
    "lines": 10,
}  # fmt: skip
"""How many of a hundred inputs go to each door; of lines, as many times LINES are typed as that gives."""


def hostile(count: int, seed: int, folder: Path) -> tuple[Counter[str], Counter[tuple[str, str]], list[str]]:
    """Put `count` inputs in; return how many by door, the faults by door and kind, and what the first of them were."""
    doors, inputs, faults, first = Doors(folder), Counter[str](), Counter[tuple[str, str]](), list[str]()
    number = 0
    while sum(inputs.values()) < count:
        number += 1
        chance = random.Random(f"{seed}:{number}")
        share = {**SHARES, "lines": SHARES["lines"] / LINES}
        (name,) = chance.choices(list(share), list(share.values()))
        kind, why = tried(getattr(doors, name), chance)
        inputs[name] += LINES if name == "lines" else 1
        if kind:
            faults[name, kind] += 1
            first += [f"{seed}:{number} {name}: {kind}: {why}"] if len(first) < 20 else []
    return inputs, faults, first


def tried(door: Door, chance: random.Random) -> tuple[str, str]:
    """Put one input in and return which of FAULTS came of it with what was seen, or ''."""
    began = time.process_time()
    try:
        let_out = door(chance)
    except Exit3 as fault:
        return "exit 3", str(fault)[-300:]
    except Exception as fault:
        return "traceback", repr(fault)[:300]
    if (seconds := time.process_time() - began) > LONGEST:
        return "too long", f"{seconds:.1f} s"
    names = sorted({name for _, name in unfit(let_out)})
    return ("let out", ", ".join(names)) if names else ("", "")


def main() -> int:
    words = argparse.ArgumentParser(description="Put bad inputs in at every door and count what must not come of them.")
    words.add_argument("count", nargs="?", type=int, default=2000, metavar="N", help="how many inputs (default: 2000)")
    words.add_argument("--seed", type=int, default=1, help="from which the inputs follow (default: 1)")
    given = words.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ[paths.HOME_VARIABLE] = str(Path(folder) / "home")
        os.chdir(folder)
        inputs, faults, first = hostile(given.count, given.seed, Path(folder))
    for name, number in sorted(inputs.items()):
        print(f"{name:20} {number:9,}  " + ", ".join(f"{kind} {faults[name, kind]}" for kind in FAULTS))
    print(f"{'all':20} {sum(inputs.values()):9,}  faults {sum(faults.values())}")
    print(*first, sep="\n", end="\n" if first else "")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
