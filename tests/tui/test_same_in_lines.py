"""The bench in lines and the bench on the screen: the same recipe with the same answers leaves the same events."""

import pytest
from conftest import materials
from plain_talk import NEW_PROJECT, Answering, Talk
from terminal.test_bonding import ANSWERS, RECIPE
from test_together import LIST, READINGS, recipe
from tui_bench import opened

from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.dialogue.step import reasons
from shopmate.session import CautionView, FinishedView, RowsView, Session, events_of


async def test_a_whole_recipe_in_lines_leaves_the_same_events_as_on_the_screen(home, now):
    answering = Answering(ANSWERS, recipes.load(RECIPE), *NEW_PROJECT, "3", "3", "Bond a bar or a skin", "")
    said = Talk(now, answering).run()
    assert "FINISHED: Recipe complete." in said
    spoken = told(events_of(sessions.project_path("Project 1")))
    assert [item[:2] for item in answering.did] == [
        (kind, data.get("headline", "") if kind not in ("seen", "finished") else "")
        for kind, data in spoken[3:]
        if not data.get("by_itself")
    ]

    keyed = Session.create(sessions.project_path("Keyed"), "Project 1", now(), materials())
    keyed.begin(keyed.add_part("Bar 1", now()), recipes.load(RECIPE), now())
    keyed.close()
    async with opened(now, keyed.log.path) as app:
        while not isinstance(app.view, FinishedView):
            await app.press(keys(app.session, app.view, now()))
        assert told(app.session.log.events()) == spoken


ROWS = READINGS.replace(", reading: air", ", default: 20 °C").replace("default: 50 %", "default: 90 %")
"""Three answers that are offered, one of which does not pass."""


@pytest.mark.parametrize(("steps", "keys"), [(ROWS, ""), (ROWS, "2"), (LIST, "")], ids=["answers", "one of them", "a list"])
async def test_the_lines_say_the_rows_that_the_screen_shows(home, now, steps, keys):
    session = Session.create(sessions.project_path("Rows"), "Rows", now(), materials())
    session.begin(session.add_part("Bar 1", now()), recipe(steps, mode="read-do" if steps == ROWS else "do-confirm"), now())
    session.answer("15 mm", now())
    session.close()
    conversation = Talk(now, keys, session.log.path)
    conversation.run()
    async with opened(now, session.log.path) as app:
        await app.press(keys)
        rows = app.view.frame.rows
        assert len(rows) == (9 if steps == LIST else 2)
        said = conversation.parts[-1]
        for row in rows:
            words = {"go": "GO", "closed": "NO GO"}.get(row.mark, "")
            (line,) = [line for line in app.text.splitlines() if line[5:].startswith(row.label)]
            head = f"{'' if keys else f'{row.number} '}{row.label}"
            (spoken,) = [line for line in said.splitlines() if line.startswith(f"  {head}:" if row.value else f"  {head}")]
            for text in (row.value, row.note, words):
                assert text in line, line
                assert text in spoken, said


def told(events):
    """Return kind and data of events; the file of the screen was opened once more, which gives later events other numbers.

    A screen takes its time.
    """
    return [
        (event.kind, {name: value for name, value in event.data.items() if name not in ("ends", "hands_on_s")})
        for event in events
        if event.kind != "opened"
    ]


def keys(session, view, now):
    """Return the keys that answer a view."""
    asked = view.headline
    if isinstance(view, CautionView):
        return "*"
    if isinstance(view, RowsView):
        for row in view.frame.rows:
            if row.is_question and row.mark == "offered" and ANSWERS.differs(row.label, row.value):
                return f"{row.number}{keys(session, session.view(now, row.place), now)}"
        return "E"
    if asked in ANSWERS.picks:
        return str([option.label for option in view.options].index(ANSWERS.picks[asked]) + 1)
    if asked in ANSWERS.types:
        return ANSWERS.types[asked][0] + ("EE" if asked in ANSWERS.odd else "E")
    if asked in ANSWERS.reasons and reasons(view):
        return f"0{reasons(view).index(ANSWERS.reasons[asked]) + 1}E"
    return "E"
