"""A user of the bench in lines: types the lines of a list, or answers each question and notes what was done."""

from __future__ import annotations

import re
from dataclasses import replace

from terminal.builder import headlines, questions, sections

from shopmate.plain import Lines, LineSounder, Plain
from shopmate.recipe import Recipe
from shopmate.settings import Settings

NEW_PROJECT = ("1", "", "1")
"""What is typed for a new project, by the name offered, in metric units."""

MOST_LINES = 500
"""More than a whole recipe takes: beyond that the same is asked again and again."""

PROMPT = "\n> "
"""How every question ends."""

_ROW = re.compile(r"^  (\d) (.+?)(?:: (.*))?$", re.MULTILINE)
"""Number, label and value of one of several steps taken together."""

_SIGNAL = re.compile(r"^(DANGER|WARNING|CAUTION|NOTICE):", re.MULTILINE)


class Talk:
    """A conversation in this process: `typed` gives the lines, each a text or something to do before the next one.

    It may also be a function of what was said since the last line, which returns the next one, None at the end. There is
    a terminal with a `bell` or not; `run_command` stands for the channel of that name, and is waited for.
    """

    def __init__(self, now, typed=(), path=None, *, bell=False, command=(), run_command=None, **lines):
        own = {name: lines.pop(name) for name in ("steady", "awake", "trouble") if name in lines}
        self.said, self._part = "", ""
        self.parts = []
        """What was said before each line that was typed."""
        self._typed = typed if callable(typed) else self._next(typed)
        lines["settings"] = replace(lines.get("settings", Settings()), alarm_command=command)
        self.lines = Lines(self._read, self._write, now, **lines)
        sounder = LineSounder(self.lines, has_bell=bell, run_command=run_command, beside=lambda work: work())
        self.plain = Plain(self.lines, path, sounder=sounder, **own)

    def run(self):
        """Talk until the end and return all that was said."""
        self.plain.run()
        return self.said

    @property
    def session(self):
        return self.plain.session

    def _write(self, text):
        self.said += text
        self._part += text

    def _read(self, meanwhile):
        self._meanwhile = meanwhile
        part, self._part = self._part, ""
        self.parts.append(part)
        return self._typed(part)

    def _next(self, typed):
        items = iter(typed)

        def line(_):
            for item in items:
                if isinstance(item, str):
                    return item
                item()
                self._meanwhile()
            return None

        return line


def talk(now, *typed, path=None, **more):
    """Return all that is said to the lines typed."""
    return Talk(now, typed, path, **more).run()


class Answering:
    """Answers what the bench says, by headline, from what is heard alone; `did` is the record of it."""

    def __init__(self, answers, recipe: Recipe, *first: str) -> None:
        """Type the lines `first`, and after them the `answers` to what the `recipe` asks."""
        self.did: list[tuple[str, str, str]] = []
        self.typed: list[str] = []
        self._answers = answers
        self._first = list(first)
        self._questions = questions(recipe)
        names = {*headlines(recipe), *sections(recipe), "Section complete"}
        known = "|".join(map(re.escape, sorted(names, key=len, reverse=True)))
        self._asks = re.compile(rf"section \d[^:]*: ({known})(?!\w)|^(Recipe complete): ", re.MULTILINE)
        self._asked = ""
        self._answered: set[str] = set()
        """Which of several questions were answered otherwise than is offered."""

    def __call__(self, said: str) -> str | None:
        """Return the line that answers what was said since the last one, None once the recipe is finished."""
        assert len(self.typed) < MOST_LINES, f"no end of it: {said}"
        if self._first:
            line = self._first.pop(0)
        elif "[Enter] use all" in said or "[Enter] all done" in said:
            line = self._take(_ROW.findall(said))
        else:
            line = self._answer(re.sub(r" *\n +", " ", said))
        self.typed += [line] if line is not None else []
        return line

    def _take(self, rows: list[tuple[str, str, str]]) -> str:
        """Choose the first of several questions that is answered otherwise than is offered; where none is left, take all."""
        left = [row for row in rows if row[1] not in self._answered]
        for number, label, value in left:
            if label in self._questions and self._answers.differs(label, value):
                self._answered.add(label)
                return number
        self.did += [("done", label, value if label in self._questions else "") for _, label, value in left]
        return ""

    def _answer(self, said: str) -> str | None:
        if "yes, it's right" in said:
            return ""
        if "Read this before the step:" in said:
            self.did += [("seen", "", signal) for signal in _SIGNAL.findall(said)]
            return "*"
        self._asked = asked = next(("".join(found) for found in reversed(self._asks.findall(said))), self._asked)
        if "[Enter] override it" in said:
            return ""
        if "Why override" in said:
            return self._choose(said, self._answers.reasons[asked])
        if asked in self._answers.picks:
            return self._choose(said, self._answers.picks[asked])
        if asked in self._answers.types:
            kept = self._answers.types[asked][1]
            self.did.append(("done", asked, kept))
            return "" if f"[Enter] uses {kept}," in said else kept.removesuffix(" mm").removesuffix(" g").removesuffix(" %")
        if asked in self._answers.takes:
            self.did.append(("done", asked, self._answers.takes[asked]))
            return ""
        if asked in self._answers.reasons and "NO GO" in said:
            return "0"
        if "other work" in said:
            return None
        kind = {"Section complete": "section", "Recipe complete": "finished"}.get(asked, "done")
        self.did.append((kind, asked if kind != "finished" else "", ""))
        return ""

    def _choose(self, said: str, label: str) -> str:
        self.did.append(("done", self._asked, label))
        return number(said, label)


def number(said: str, label: str) -> str:
    """Return the number that was said before an answer."""
    found = re.search(rf"^(\d+) {re.escape(label)}", said, re.MULTILINE)
    assert found, f"no '{label}' in {said}"
    return found[1]
