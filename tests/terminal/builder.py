"""A builder who reads the screen, presses keypad keys alone, and writes down what was done as it was done."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shopmate.recipe import Ask, Recipe, load
from terminal.screen import ENTER, Terminal, environment

SIGNALS = ("⚠ WARNING", "⚠ CAUTION", "⚠ DANGER", "NOTICE", "WARNING", "CAUTION", "DANGER")
"""How a caution's signal word can stand on the screen, small or in block letters."""

ENDS = ("Section complete", "Recipe complete")

_TOGETHER = re.compile(r" Enter  (?:use all|all done|next page)\b")
"""The key line where several steps are taken together."""

_ROW = re.compile(r"^ (\d) ([ ✓]) (\S.*?)(?:  +(\S.*))?$")
"""Digit, sign, label and value of one of several steps."""

_READ = "Read this before the step"

KEYPAD = frozenset("0123456789./*-+" + ENTER)

Deed = tuple[str, str, str]
"""Kind of the event, the headline it belongs to, and what was typed, chosen or given as the reason."""


@dataclass(frozen=True)
class Row:
    """One of several steps that Enter takes together, as it stands on the screen."""

    number: str
    label: str
    value: str
    done: bool


@dataclass(frozen=True)
class Here:
    """What the screen shows to be done."""

    place: str
    """The row that says where in the recipe this is."""
    asked: str
    """The headline, or the section of several steps taken together."""
    rows: tuple[Row, ...] = ()
    caution: str = ""
    """The last row of a caution's text, which tells two at one step apart."""


@dataclass(frozen=True)
class Answers:
    """What a builder answers, by the headline that asks."""

    picks: Mapping[str, str]
    """The answer chosen by its digit."""
    types: Mapping[str, tuple[str, str]]
    """The keys pressed before Enter, and the text with its unit that the log has to keep."""
    takes: Mapping[str, str] = field(default_factory=dict)
    """The value offered that is taken by Enter, also where the others of several are answered already."""
    odd: frozenset[str] = frozenset()
    """Where the value looks odd to the program and is given once more."""
    reasons: Mapping[str, str] = field(default_factory=dict)
    """The reason for which a closed hold point is passed."""

    def differs(self, headline: str, offered: str) -> bool:
        """Return whether a question is answered otherwise than is offered."""
        typed = self.types.get(headline, ("", offered))[1]
        return self.picks.get(headline, typed) != offered


class Builder:
    """Goes through a recipe at a terminal; `did` is the record of what was done, kept apart from the program's."""

    def __init__(self, terminal: Terminal, recipe: Path, answers: Answers, did: list[Deed] | None = None) -> None:
        self.terminal = terminal
        self.answers = answers
        self.did: list[Deed] = [] if did is None else did
        self.pressed: set[str] = set()
        """Every key pressed."""
        self._turned: list[Row] = []
        """The rows of the pages that were turned since several steps were taken last."""
        # The longest first, since the last line of one can be another.
        self._headlines = [*SIGNALS, *ENDS, *sorted(headlines(load(recipe)), key=len, reverse=True)]
        self._sections = sections(load(recipe))
        self._questions = questions(load(recipe))

    @property
    def here(self) -> Here | None:
        """What the screen shows to be done; None while it cannot be read."""
        screen = self.terminal.rows
        if "·" not in screen[0]:
            return None
        if _TOGETHER.search(self.terminal.picture):
            section = next((name for name in self._sections if f" · {name} · " in screen[0]), None)
            return Here(screen[0], section, tuple(rows(screen))) if section is not None else None
        asked = self.terminal.headline(self._headlines)
        if asked is None:
            return None
        if asked not in SIGNALS:
            return Here(screen[0], asked)
        above = [row for row in self.terminal.picture.partition(_READ)[0].splitlines()[:-1] if row]
        return Here(screen[0], asked, caution=above[-1]) if _READ in self.terminal.picture else None

    @property
    def typed_before(self) -> bool:
        """Whether the value asked for was typed before the program was cut off, and is on the screen again."""
        return "already typed, kept" in self.terminal.picture

    def press(self, key: str) -> None:
        """Press one key."""
        self.pressed.add(key)
        self.terminal.send(key)

    def choose(self, label: str) -> None:
        """Press the digits that the screen shows beside an answer."""
        self.type(self.terminal.until(lambda: self.terminal.digit_of(label), f"the answer '{label}'"))

    def type(self, text: str) -> None:
        """Press keys one by one, each once the one before shows; a digit that came twice at once would count as bounce."""
        for key in text:
            before = self.terminal.picture
            self.press(key)
            self.terminal.until(lambda before=before: self.terminal.picture != before, f"the key '{key}' to show")

    def begin(self, title: str, part: str) -> None:
        """Make a project and a part and put a recipe on the bench."""
        self.choose("New project")
        self.terminal.until_shown("Enter uses: Project 1")
        self.press(ENTER)
        self.choose("Metric")
        self.did.append(("project", "", "Project 1"))
        self.begin_another(title, part)

    def begin_another(self, title: str, part: str) -> None:
        """Start a recipe on a new part, from the list of work."""
        self.choose("Start a recipe on a part")
        self.choose(f"New: {part.capitalize()}")
        self.choose(title)
        self.terminal.until_shown("plan it")
        self.press(ENTER)
        self.terminal.until(lambda: "plan it" not in self.terminal.picture, "the bench")
        self.arrive()
        self.did += [("part", "", f"{part.capitalize()} 1"), ("run", "", f"{part.capitalize()} 1")]

    def hear(self) -> None:
        """Answer that the beeps at the start were heard."""
        self.press("/")
        self.terminal.until_shown("other work")
        self.press(".")
        for label in ("Settings", "Sound test", "Yes"):
            self.choose(label)
        self.terminal.until(lambda: self.terminal.digit_of("Sound test"), "the settings again")
        self.press("/")
        self.terminal.until(lambda: "SOUND NOT TESTED" not in self.terminal.picture, "no more notice of the sound")
        self.did.append(("sound", "", ""))

    def arrive(self, *before: Here) -> Here:
        """Wait until the screen shows another place than before, and return it."""
        return self.terminal.until(lambda: here if (here := self.here) not in before else None, f"what comes after {before}")

    def settled(self) -> Here:
        """Return what the screen shows once it stays: rows are laid out anew when there is room for more of them."""
        here, before = self.arrive(), None
        while here != before:
            self.terminal.look()
            here, before = self.arrive(), here
        return here

    def go_on(self) -> None:
        """Come back to a run under way: see what was done last, and go on, which does nothing else."""
        self.terminal.until_shown("YOU WERE HERE", " continue")
        self.press(ENTER)
        self.terminal.until(lambda: "YOU WERE HERE" not in self.terminal.picture, "the step to go on with")

    def step(self) -> str:
        """Do what the screen asks for, once, wait for what follows, and return the headline of what was done."""
        passed = self.act()
        if passed[-1].asked == ENDS[1]:
            self.terminal.until_shown("other work")
        else:
            self.arrive(*passed)
        return passed[-1].asked

    def act(self) -> tuple[Here, ...]:
        """Do what the screen asks for, once, and return what it showed, without waiting for what the last key does."""
        here = self.settled()
        if not here.rows:
            self.answer(here.asked)
        elif otherwise := [row for row in here.rows if not row.done and self.answers.differs(row.label, row.value)]:
            row = otherwise[0]
            self.press(row.number)
            question = self.terminal.until(lambda: self._asks(row.label), f"the question '{row.label}'")
            self.answer(row.label)
            return here, question
        else:
            self.take(here)
        return (here,)

    def take(self, here: Here) -> None:
        """Turn the page, or on the last one take all the steps together."""
        is_last = "Enter  next page" not in self.terminal.picture
        self.press(ENTER)
        self._turned += here.rows
        if is_last:
            taken = [row for row in self._turned if not row.done]
            self.did += [("done", row.label, row.value if row.label in self._questions else "") for row in taken]
            self._turned = []

    def _asks(self, headline: str) -> Here | None:
        """Return what the screen shows once it asks for this alone."""
        return here if (here := self.here) is not None and here.asked == headline and not here.rows else None

    def answer(self, asked: str) -> None:
        """Answer or confirm what is asked for alone."""
        if asked in SIGNALS:
            self.terminal.until_shown("Press * when read")
            self.press("*")
            self.did.append(("seen", "", asked.removeprefix("⚠ ")))
        elif asked in self.answers.picks:
            label = self.answers.picks[asked]
            self.choose(label)
            self.did.append(("done", asked, label))
        elif asked in self.answers.types:
            self.enter(asked)
        elif asked in self.answers.takes:
            self.press(ENTER)
            self.did.append(("done", asked, self.answers.takes[asked]))
        elif asked in self.answers.reasons and "NO GO" in self.terminal.picture:
            self.pass_with_reason(asked)
        else:
            self.terminal.until_shown(" Enter ")
            self.press(ENTER)
            kind = {ENDS[0]: "section", ENDS[1]: "finished"}.get(asked, "done")
            self.did.append((kind, asked if kind != "finished" else "", ""))

    def enter(self, asked: str) -> None:
        """Type the value and press Enter, twice where it looks odd."""
        typed, kept = self.answers.types[asked]
        self.type("" if self.typed_before else typed)
        self.press(ENTER)
        if asked in self.answers.odd:
            self.terminal.until_shown("Enter again if so")
            self.press(ENTER)
        self.did.append(("done", asked, kept))

    def pass_with_reason(self, asked: str) -> None:
        """Pass a closed hold point: 0 asks for the reason, its digit gives it."""
        reason = self.answers.reasons[asked]
        self.press("0")
        self.choose(reason)
        self.terminal.until_shown("override it")
        self.press(ENTER)
        self.did.append(("done", asked, reason))

    def until(self, headline: str) -> None:
        """Do what is asked for until a headline is reached."""
        while self.arrive().asked != headline:
            self.step()


def headlines(recipe: Recipe) -> Iterable[str]:
    """Return the headlines that a recipe can show, the questions before its first section included."""
    return dict.fromkeys(step.headline for section in recipe.sections for step in section.steps)


def sections(recipe: Recipe) -> Iterable[str]:
    """Return the names of the sections, under which several steps are taken together."""
    return dict.fromkeys(section.name for section in recipe.sections)


def questions(recipe: Recipe) -> Collection[str]:
    """Return the headlines that ask for an answer, which is recorded."""
    return {step.headline for section in recipe.sections for step in section.steps if isinstance(step.act, Ask)}


def rows(screen: Iterable[str]) -> Iterable[Row]:
    """Yield the rows of several steps that a digit chooses."""
    for number, sign, label, value in (found.groups("") for line in screen if (found := _ROW.match(line))):
        yield Row(number, label, value, sign == "✓")


def log(command: list[str], home: Path, form: str, **more: str) -> str:
    """Return what `shopmate log project-1` prints in a form; `more` changes its environment."""
    done = subprocess.run(
        [*command, "log", "project-1", "--format", form],
        env=environment(home, **more), cwd=home, check=True, capture_output=True, timeout=60, encoding="utf-8",
    )  # fmt: skip
    return done.stdout


def deeds(exported: str) -> list[Deed]:
    """Return what an exported log (json) says was done by hand, in the builder's own form."""
    events = json.loads(exported)["events"]
    return [_deed(event["kind"], event["data"]) for event in events if not event["data"].get("by_itself")]


def _deed(kind: str, data: Mapping[str, Any]) -> Deed:
    if kind in ("project", "part"):
        return kind, "", str(data["name"])
    if kind == "run":
        return kind, "", str(data["part"])
    if kind in ("seen", "undone"):
        return kind, "", str(data.get("shown", ""))
    headline = str(data.get("headline", ""))
    if "reason" in data:
        return kind, headline, str(data["reason"])
    values = data.get("values", {})
    chosen = any("label" in value for value in values.values())  # an answer chosen by its number
    judged = "typed" in data and not values and "clock" not in data  # a hold point answered by its number
    offered = bool(values) and "typed" not in data and "into" not in data  # taken as it stood on the screen
    if chosen or judged or offered:
        return kind, headline, str(data["shown"])
    return kind, headline, str(data.get("typed", ""))
