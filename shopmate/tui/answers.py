"""The screens that put the questions of a dialogue, and what comes of each."""

from __future__ import annotations

from typing import assert_never

from textual.app import App

from shopmate.dialogue.asking import (
    Choose,
    Confirm,
    Enter,
    Fill,
    Item,
    Look,
    Name,
    Question,
    Read,
    Ready,
    Recall,
    Say,
    Show,
    Shown,
    Tell,
)
from shopmate.phrases import phrase
from shopmate.tui.screens.calculators import CalculatorsScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.clocks import ClocksScreen
from shopmate.tui.screens.confirm import ConfirmScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.screens.guide import GuideScreen
from shopmate.tui.screens.keys import KeysScreen
from shopmate.tui.screens.log import LogScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.ready import ReadyScreen
from shopmate.tui.screens.table import TableScreen
from shopmate.tui.screens.value import ValueScreen


async def answer(app: App[None], question: Question) -> object:
    """Return what is answered to a question on its screen; None to what is only shown."""
    match question:
        case Choose(near=near, other=other) if near or other is not None:
            return await app.push_screen_wait(CalculatorsScreen(question))
        case Choose(title, items, leave, explain, beside, filling):
            return await app.push_screen_wait(ChooseScreen(title, items, leave=leave, explain=explain or beside, filling=filling))
        case Name(title, offered, place):
            return await app.push_screen_wait(NameScreen(title, offered, place))
        case Enter():
            return await app.push_screen_wait(ValueScreen(question))
        case Ready():
            return await app.push_screen_wait(ReadyScreen(question))
        case Confirm():
            return await app.push_screen_wait(ConfirmScreen(question))
        case Fill(form):
            await app.push_screen_wait(FormScreen(form))
        case Look(table):
            await app.push_screen_wait(TableScreen(table))
        case Read(topic):
            await app.push_screen_wait(GuideScreen(topic))
        case Recall(title, lines):
            await app.push_screen_wait(LogScreen(title, lines))
        case Tell(words):
            if not (isinstance(app.screen, ChooseScreen) and app.screen.heading == words):
                await app.push_screen_wait(ChooseScreen(words, [Item("on", phrase("Continue"))], leave=""))
        case Show(what):
            await _show(app, what)
        case Say():
            pass  # in passing, on the screen that is up
        case _:
            assert_never(question)
    return None


async def _show(app: App[None], what: Shown) -> None:
    if what == "clocks":
        await app.push_screen_wait(ClocksScreen())
    elif what == "keys":
        await app.push_screen_wait(KeysScreen())
