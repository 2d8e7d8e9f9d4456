"""The desk that dialogues are held at: the open project, the time and the settings of this machine."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Protocol

from shopmate import phrases
from shopmate import settings as settings_
from shopmate.awake import Awake
from shopmate.dialogue.notices import Notices
from shopmate.dialogue.watch import Sounder, Watch
from shopmate.errors import FileProblems, ShopmateError
from shopmate.phrases import phrase
from shopmate.session import Session, shelf, typical_materials
from shopmate.settings import Settings
from shopmate.steady import Steady
from shopmate.units import System


class Face(Protocol):
    """What shows the desk to whoever works at it: a screen, or lines."""

    draws: bool
    """Whether the step, its section and the clocks are drawn all the time; else they are said when asked for."""

    def show_notice(self, name: str, words: str) -> None:
        """Show that a notice came or changed; with no words that it is gone."""

    def opened(self) -> None:
        """Show a project that was put on the desk in place of the one before."""

    def use_settings(self) -> None:
        """Go by the settings, and the theme of the project, as they are now."""

    def leave(self) -> None:
        """End the program."""


class Desk:
    """Holds one open project at a time."""

    def __init__(
        self,
        face: Face,
        sounder: Sounder,
        now: Callable[[], datetime],
        steady: Callable[[], Steady | None] = lambda: None,
        awake: Awake | None = None,
        settings: Settings | None = None,
        trouble: str = "",
    ) -> None:
        """Begin without a project.

        `steady` belongs with `now`: the two clocks of one computer, which `awake` keeps from sleeping. `trouble` is what is
        wrong with the file of the settings, which is then never written.
        """
        self.face, self.sounder, self.now = face, sounder, now
        self.settings = settings or Settings()
        self.notices = Notices(face.show_notice)
        self.watching = Watch(sounder, self.notices, lambda: self.settings, steady, awake)
        self._steady = steady
        self._trouble = trouble
        self.words_stay = ""
        """What is to be said of the user's own words where they cannot be used."""
        self.parting = ""
        """What is to be said once the program has been left; '' where there is nothing."""
        self._session: Session | None = None

    @property
    def has_session(self) -> bool:
        """Whether a project is open."""
        return self._session is not None

    @property
    def session(self) -> Session:
        """The open project."""
        assert self._session is not None
        return self._session

    def open(self, path: Path) -> None:
        """Open a project file in place of the one before; raises ShopmateError, and then that one stays."""
        try:
            materials, trouble = shelf(), ""
        except FileProblems as error:
            materials, trouble = typical_materials(), phrase("{problem}; fix it, then open the project again", error.problems[0])
        self._use(Session.open(path, self.now(), materials, self._steady(), shelf_trouble=trouble))

    def create(self, path: Path, name: str, system: System) -> None:
        """Make a project file and open it in place of the one before; raises ShopmateError, and then that one stays."""
        self._use(Session.create(path, name, self.now(), shelf(), system, self._steady()))

    def _use(self, session: Session) -> None:
        self.close()
        self._session = session
        self.watching.begin(session, self.now())
        self.face.opened()

    def close(self) -> None:
        """Close the project file, backed up."""
        if self._session is not None:
            self.watching.end()
            try:
                self._session.back_up(self.now())
                self.parting = self._session.trouble and self._session.why_read_only
            except ShopmateError as error:
                self.parting = phrase("No backup: {why}", error)
            self._session.close()
            self._session = None

    def switch_theme(self) -> str:
        """Show and keep the other theme of the project; return what was done."""
        dark = self.session.project.theme == "light"
        self.session.set("theme", "dark" if dark else "light", self.now())
        self.face.use_settings()
        return phrase("DARK" if dark else "LIGHT")

    def use_own_words(self) -> None:
        """Take the user's own words, before anything is shown."""
        try:
            phrases.use_own()
        except FileProblems as error:
            self.words_stay = phrase("Built-in words in use. {problems}", error)

    @property
    def settings_stay(self) -> str:
        """What is to be said of settings that could not be read; '' where they could."""
        return phrase("Default settings in use. {problems}", self._trouble) if self._trouble else ""

    def change(self, settings: Settings) -> str:
        """Go by other settings of this machine, keep them for the next time and return what to say of it.

        Raises FileProblems where they cannot be written; they hold for now all the same.
        """
        self.settings = settings
        self.face.use_settings()
        if self._trouble:  # writing would replace what is to be mended
            return phrase("For this session only. {why}", self.settings_stay)
        settings_.save(settings)
        return phrase("Saved.")
