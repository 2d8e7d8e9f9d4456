"""Puts the questions of a dialogue on screens, one after another, and hands back what is answered."""

from __future__ import annotations

from collections.abc import Callable
from typing import assert_never

from textual.app import App

from shopmate.dialogue.asking import Choose, Confirm, Dialogue, Enter, Fill, Item, Look, Name, Question, Say, T, Tell
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.confirm import ConfirmScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.table import TableScreen
from shopmate.tui.screens.value import ValueScreen

TOLD = "told"
"""Name of the screen on which words stand until they are read."""


async def talk(app: App[None], dialogue: Dialogue[T], say: Callable[[str], None]) -> T | None:
    """Hold a dialogue and return what came of it; None where it ended in an error, which is told.

    `say` says words in passing on the screen that is up. It has to be called in a worker, as all that waits for a screen.
    """
    answer: object = None
    try:
        while True:
            answer = await _answer(app, dialogue.send(answer), say)
    except StopIteration as done:
        result: T = done.value
        return result
    except ShopmateError as error:
        await tell(app, str(error))
        return None


async def tell(app: App[None], words: str) -> None:
    """Show words that need all the room there is, once, until they are read."""
    if app.screen.name != TOLD:
        await app.push_screen_wait(ChooseScreen(words, [Item("on", phrase("Go on"))], leave="", name=TOLD))


async def _answer(app: App[None], question: Question, say: Callable[[str], None]) -> object:
    match question:
        case Choose(title, items, leave, explain, beside):
            return await app.push_screen_wait(ChooseScreen(title, items, leave=leave, explain=explain or beside))
        case Name(title, offered, place):
            return await app.push_screen_wait(NameScreen(title, offered, place))
        case Enter(title, kind, unit, place, before):
            return await app.push_screen_wait(ValueScreen(title, kind, unit, place, before))
        case Confirm():
            return await app.push_screen_wait(ConfirmScreen(question))
        case Fill(form):
            await app.push_screen_wait(FormScreen(form))
        case Look(table):
            await app.push_screen_wait(TableScreen(table))
        case Tell(words):
            await tell(app, words)
        case Say(words, drawn):
            if not drawn:
                say(words)
        case _:
            assert_never(question)
    return None
