"""What tests of projects and screens share: a fixed time, a home of their own, a small recipe of every kind of step."""

import functools
import os
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import settings

from shopmate import paths, phrases
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.session import ChooseView, EnterView, Session
from shopmate.session.demo import follow

# The same examples on every run and every machine.
settings.register_profile("steady", derandomize=True, deadline=None, database=None)
settings.load_profile("steady")


APART = "test_shipped_by_keys.py"
"""The file whose tests are shared one by one."""


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Where workers share the tests (`pytest -n 3`), keep those of a file together, and all of the real program.

    The shipped recipes followed in it need nothing of one another, and together take minutes: each goes where there is room.
    """
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            file = nodeid.partition("::")[0]
            if file.endswith(APART):
                return nodeid
            return "terminal" if "terminal" in Path(file).parts else file

    return ByFile(config, log)


EVERY_STEP = Path(__file__).parent / "recipes" / "good" / "every-step.yaml"
BEGAN = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)


class Time:
    """A time that goes on only when told to; called, it says what it is."""

    def __init__(self, at: datetime = BEGAN) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at

    def on(self, **length: float) -> datetime:
        self.at += timedelta(**length)
        return self.at


@functools.cache
def materials():
    """The typical materials, read once."""
    return recipes.load_shelf(recipes.typical_shelf())


@functools.cache
def every_step():
    return recipes.load(EVERY_STEP)


@contextmanager
def ordinary_user():
    """Give up the rights of root, to whom every file is writable, for as long as it lasts."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A home of its own for a test, not yet made."""
    folder = tmp_path / "home"
    monkeypatch.setenv(paths.HOME_VARIABLE, str(folder))
    return folder


@pytest.fixture
def own_words(home):
    """Return a function that writes the user's own table of words; afterwards the English ones hold again."""

    def write(text: str) -> Path:
        home.mkdir(exist_ok=True)
        paths.words().write_text(text, encoding="utf-8")
        return paths.words()

    yield write
    paths.words().unlink(missing_ok=True)
    phrases.use_own()
    recipes.read_kept.cache_clear()  # a recipe read meanwhile begins with a section named in own words


@pytest.fixture
def now():
    """The time of a test."""
    return Time()


@pytest.fixture
def small(home, now):
    """A project with the recipe of every kind of step begun on one part."""
    session = Session.create(sessions.project_path("Small"), "Small", now(), materials())
    session.begin(session.add_part("Panel 1", now()), every_step(), now())
    yield session
    session.close()


def reach(session, now, headline, answers=None, **more):
    """Follow the run until a step is the first in hand, also one of several questions taken together; return its view.

    What `answers` does not give is what is offered. Where it is one of a list, that is returned.
    """
    given = answers or {}

    def is_there(view):
        return view.headline == headline or any(row.label == headline for row in view.frame.rows)

    now.at = follow(session, now(), given, until=is_there, **more)
    while isinstance(view := session.view(now(), at=session.run.place), ChooseView | EnterView) and view.headline != headline:
        offered = view.default or (view.expected if isinstance(view, EnterView) else view.options[0].key)
        session.answer(given.get(view.headline, offered), now(), sure=True)
    return view


@pytest.fixture
def begun(small, now):
    """Return the file of the small project, its run as far as a step; what `answers` does not give is what is offered."""

    def go(headline="Choose the glue", answers=None, **more):
        reach(small, now, headline, answers, **more)
        small.close()
        return small.log.path

    return go


def without_old_answers(project):
    """A project as it would be had the answers that were taken back never been given."""
    after = project.apart()
    for key in after.runs:
        after.changing(key).taken_back = {}
    return after


def worked_out(view):
    """The outputs that a view shows of its calculator, by name."""
    return {figure.name: figure.value for figure in (*view.result.head, *view.result.others)}
