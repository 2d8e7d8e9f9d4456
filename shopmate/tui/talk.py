"""An application that puts the questions of a dialogue on screens, one after another, and hands back what is answered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from shopmate.dialogue.asking import (
    Dialogue,
    Question,
    Say,
    Tell,
    outcome,
)
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.notices import Board
from shopmate.errors import LogError, ShopmateError
from shopmate.phrases import phrase
from shopmate.session import Session
from shopmate.tui.guard import Guard
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.stage import Stage
from shopmate.tui.widgets.key_line import KeyLine


class TalkingApp(Stage):
    """An application at a desk: it holds dialogues, several over one another if need be."""

    desk: Desk
    guard: Guard

    @property
    def session(self) -> Session:
        """The open project."""
        return self.desk.session

    @property
    def has_session(self) -> bool:
        """Whether a project is open."""
        return self.desk.has_session

    def now(self) -> datetime:
        """Return the time, aware."""
        return self.desk.now()

    @property
    def alarm_waits(self) -> bool:
        return self.desk.watching.alarm_waits(self.now())

    @property
    def standing(self) -> Board:
        return self.desk.notices.board

    def start_work(self) -> None:
        """Begin, once the first screen is painted."""
        raise NotImplementedError

    async def put(self, question: Question) -> object:
        """Put a question on a screen of its own and return what is answered; None to what is only shown."""
        raise NotImplementedError

    def redraw(self) -> None:
        """Draw the step in hand and the alarms as they stand now."""
        raise NotImplementedError

    def start_dialogue(self, dialogue: Dialogue[object]) -> None:
        """Start a dialogue, while what the screens show goes on; an error that ends it is told."""
        self.run_worker(self._go_through(dialogue))

    async def _go_through(self, dialogue: Dialogue[object]) -> None:
        answer: object = None
        try:
            while True:
                answer = await self._answer(dialogue.send(answer))
        except StopIteration:
            pass
        except ShopmateError as error:
            await self._answer(Tell(str(error)))
        self.redraw()

    async def _answer(self, question: Question) -> object:
        if isinstance(question, Say):
            if not question.drawn:
                self.say(question.words)
            return None
        return await self.put(question)

    def say(self, words: str) -> None:
        """Say in passing what was done or why not, on a screen that is made."""
        if isinstance(self.screen, KeyedScreen) and self.screen.is_mounted:
            self.screen.query_one(KeyLine).say(words)

    def tell(self, words: str) -> None:
        self.run_worker(self._answer(Tell(words)))

    def attempt(self, act: Callable[[], str]) -> None:
        """Do something with the session at once, and say what came of it."""
        _, said = outcome(act)
        self.show_words([said])
        if isinstance(said, Say):
            self.redraw()

    def record_alarms(self, now: datetime) -> None:
        """Record what has come due by `now`, before it is drawn."""
        self.show_words(self.desk.watching.record(now))

    def show_words(self, words: Sequence[Tell | Say]) -> None:
        """Show words that stand until they are read, and those in passing."""
        for said in words:
            match said:
                case Tell(words=text):
                    self.tell(text)
                case Say(words=text):
                    self.say(text)

    def typed_before(self, place: str) -> tuple[str, str]:
        return self.session.typing(place) if self.has_session else ("", "")

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep on disk what is half typed at a place; where that fails it stands on the screen alone, which is said.

        With nothing typed there is nothing to say any more.
        """
        if not self.has_session:
            return
        words = ""
        try:
            self.session.keep_typing(place, text, unit)
        except LogError:
            if text:
                words = phrase("NOT SAVED: what you are typing. Free some disk space, or close whatever else has the file open")
        self.desk.notices.stand("typing", words)
