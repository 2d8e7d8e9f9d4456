"""Puts the questions of a dialogue in lines, one after another, and hands back what is answered."""

from __future__ import annotations

from typing import assert_never

from shopmate.dialogue.asking import Choose, Confirm, Dialogue, Enter, Fill, Look, Name, Question, Say, Show, Tell
from shopmate.errors import ShopmateError
from shopmate.plain.form import fill
from shopmate.plain.lines import Lines
from shopmate.plain.table import say_table


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
        case Choose(title, items, leave, explain, _, other):
            if explain:
                lines.say(explain)
            return lines.choose(title, [*items, *([other] if other is not None else [])], leave=leave)
        case Name(title, offered):
            return lines.name(title, offered)
        case Enter(title, kind, unit, _, before):
            return lines.value(title, kind, unit, before)
        case Confirm():
            return lines.confirm(question)
        case Fill(form):
            fill(lines, form)
        case Look(table):
            say_table(lines, table)
        case Tell() | Say():
            say(lines, question)
        case Show(what):
            lines.show(what)
        case _:
            assert_never(question)
    return None


def say(lines: Lines, said: Tell | Say) -> None:
    """Say words as a sentence."""
    lines.say(said.words if said.words.endswith((".", "?", "!")) else f"{said.words}.")
