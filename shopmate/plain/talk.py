"""Puts the questions of a dialogue in lines, one after another, and hands back what is answered."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from queue import Empty, SimpleQueue
from typing import assert_never

from shopmate.dialogue.asking import (
    Choose,
    Confirm,
    Dialogue,
    Enter,
    Fill,
    Filling,
    Item,
    Look,
    Name,
    Question,
    Read,
    Ready,
    Recall,
    Say,
    Show,
    Tell,
    fill,
)
from shopmate.errors import ShopmateError
from shopmate.plain import form as forms
from shopmate.plain.guide import say_topic
from shopmate.plain.lines import Lines
from shopmate.plain.table import say_table

_LOOKS = 0.5
"""Seconds between looks at the time while files are read."""

_LAST_EVENTS = 20
"""Events of the log that are told at once."""


def talk(lines: Lines, dialogue: Dialogue[object]) -> None:
    """Hold a dialogue; an error that ends it is said."""
    answer: object = None
    try:
        while True:
            answer = _answer(lines, dialogue.send(answer))
    except StopIteration:
        return
    except ShopmateError as error:
        lines.say(str(error))


def _answer(lines: Lines, question: Question) -> object:
    match question:
        case Choose(title, items, leave, explain, _, filling, other):
            more, words = _filled(lines, filling)
            if explain := "; ".join(filter(None, (explain, *words))):
                lines.say(explain)
            return lines.choose(title, [*items, *more, *([other] if other is not None else [])], leave=leave)
        case Name(title, offered):
            return lines.name(title, offered)
        case Enter(title, kind, unit, _, before, keeps):
            return lines.value(title, kind, unit, before, keeps)
        case Ready():
            return lines.ready(question)
        case Confirm():
            return lines.confirm(question)
        case Fill(form):
            forms.fill(lines, form)
        case Look(table):
            say_table(lines, table)
        case Read(topic):
            say_topic(lines, topic)
        case Recall(lines=told):
            for line in told[-_LAST_EVENTS:]:
                lines.say(line, as_written=True)
        case Tell() | Say():
            say(lines, question)
        case Show(what):
            lines.show(what)
        case _:
            assert_never(question)
    return None


def _filled(lines: Lines, filling: Sequence[Filling]) -> tuple[list[Item], list[str]]:
    """Return the items and words still to be read; alarms are said and sounded meanwhile."""
    read: SimpleQueue[Item | str | Exception | None] = SimpleQueue()

    def take(part: Item | str | Exception | None) -> bool:
        read.put(part)
        return True

    threading.Thread(target=fill, args=(filling, take), daemon=True).start()
    items: list[Item] = []
    words: list[str] = []
    while True:
        try:
            part = read.get(timeout=_LOOKS)
        except Empty:
            lines.attend()
            continue
        match part:
            case None:
                return items, words
            case Exception():
                raise part
            case str():
                words.append(part)
            case Item():
                items.append(part)
            case _:
                assert_never(part)


def say(lines: Lines, said: Tell | Say) -> None:
    """Say words as a sentence."""
    lines.say(said.words if said.words.endswith((".", "?", "!")) else f"{said.words}.")
