"""Runs a dialogue without screens or lines: a desk in an empty shop, and the answers sent to it."""

from datetime import UTC, datetime

from shopmate.dialogue.asking import Choose, Item, Say, Tell
from shopmate.dialogue.desk import Desk
from shopmate.session import project_path

BEGUN = datetime(2026, 5, 4, 8, tzinfo=UTC)


class Nobody:
    """A face and a bell that nobody sees or hears: they keep what they were told."""

    def __init__(self, *, draws, has_bell=True):
        self.draws, self.has_bell, self.untested = draws, has_bell, "SOUND NOT TESTED"
        self.opened_times = self.rung = self.left = 0
        self.called = []

    def opened(self):
        self.opened_times += 1

    def use_settings(self):
        pass

    def show_notice(self, name, words):
        pass

    def leave(self):
        self.left += 1

    def ring(self, rhythm):
        self.rung += 1

    def hush(self):
        pass

    def shift(self, by):
        pass

    def call(self, command, words, ended):
        self.called.append(words)

    def send_notification(self, words):
        pass


class Place(Desk):
    """A desk in an empty shop, at a time that is set."""

    def __init__(self, *, draws=True, has_bell=True, **more):
        self.at = BEGUN
        face = Nobody(draws=draws, has_bell=has_bell)
        super().__init__(face, face, lambda: self.at, **more)

    def begin(self):
        self.create(project_path("Hide"), "Hide", "metric")
        return self

    def events(self, kind):
        return [event.data for event in self.session.log.events() if event.kind == kind]


class Held:
    """A dialogue that was held with these answers, one a question: what was asked and said, and what came of it.

    An answer that is a function is called with the question and returns what is answered. To choose, the title of an item
    does as well as its key.
    """

    def __init__(self, dialogue, *answers):
        self.asked, self.said, self.told, self.read = [], [], [], []
        self._left, answer = list(answers), None
        try:
            while True:
                question = dialogue.send(answer)
                answer = None
                if isinstance(question, Tell | Say):
                    (self.told if isinstance(question, Tell) else self.said).append(question.words)
                else:
                    self.asked.append(question)
                    answer = self._answer(question)
        except StopIteration as done:
            self.result = done.value
        assert not self._left, f"not asked for: {self._left}"

    def _answer(self, question):
        assert self._left, f"not answered: {question}"
        answer = self._left.pop(0)
        if callable(answer):
            return answer(question)
        if isinstance(question, Choose):
            parts = [each() for each in question.filling]
            self.read.append(" ".join(part for part in parts if isinstance(part, str)))
            items = [*question.items, *(part for part in parts if isinstance(part, Item))]
            if answer is not None:
                [answer] = {item.key for item in items if answer in (item.key, item.title)}
        return answer

    @property
    def titles(self):
        """The titles of the items of each list that was asked about."""
        return [[item.title for item in asked.items] for asked in self.asked if isinstance(asked, Choose)]
