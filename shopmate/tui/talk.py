"""An application that puts the questions of a dialogue on screens, one after another, and hands back what is answered."""

from __future__ import annotations

from typing import assert_never

from textual import work
from textual.app import App

from shopmate.dialogue.asking import Choose, Confirm, Dialogue, Enter, Fill, Item, Look, Name, Question, Say, Show, Shown, T, Tell
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.confirm import ConfirmScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.table import TableScreen
from shopmate.tui.screens.value import ValueScreen
from shopmate.tui.widgets.key_line import KeyLine


class TalkingApp(App[None]):
    """Holds dialogues, several over one another if need be."""

    async def show(self, what: Shown) -> None:
        """Show something until it is left."""
        raise NotImplementedError

    async def talk(self, dialogue: Dialogue[T]) -> T | None:
        """Hold a dialogue and return what came of it; None where it ended in an error, which is told.

        It has to be called in a worker, as all that waits for a screen.
        """
        answer: object = None
        try:
            while True:
                answer = await self._answer(dialogue.send(answer))
        except StopIteration as done:
            result: T = done.value
            return result
        except ShopmateError as error:
            await self._tell(str(error))
            return None

    async def _answer(self, question: Question) -> object:
        match question:
            case Choose(title, items, leave, explain, beside):
                return await self.push_screen_wait(ChooseScreen(title, items, leave=leave, explain=explain or beside))
            case Name(title, offered, place):
                return await self.push_screen_wait(NameScreen(title, offered, place))
            case Enter(title, kind, unit, place, before):
                return await self.push_screen_wait(ValueScreen(title, kind, unit, place, before))
            case Confirm():
                return await self.push_screen_wait(ConfirmScreen(question))
            case Fill(form):
                await self.push_screen_wait(FormScreen(form))
            case Look(table):
                await self.push_screen_wait(TableScreen(table))
            case Tell(words):
                await self._tell(words)
            case Say(words, drawn):
                if not drawn:
                    self.echo(words)
            case Show(what):
                await self.show(what)
            case _:
                assert_never(question)
        return None

    def echo(self, words: str) -> None:
        """Say in passing what was done or why not, on a screen that is made."""
        if isinstance(self.screen, KeyedScreen) and self.screen.is_mounted:
            self.screen.query_one(KeyLine).echo(words)

    @work
    async def tell(self, words: str) -> None:
        """Show words that need all the room there is, once, until they are read."""
        await self._tell(words)

    async def _tell(self, words: str) -> None:
        if not (isinstance(self.screen, ChooseScreen) and self.screen.heading == words):
            await self.push_screen_wait(ChooseScreen(words, [Item("on", phrase("Go on"))], leave=""))
