"""Steps that are taken together on the screen: all in sight before one key takes them, one chosen, left, typed and kept."""

import pytest
from conftest import materials
from test_bench import nothing_cut
from test_together import LIST, READINGS, recipe
from tui_bench import SIZES, opened
from tui_stage import inks

from shopmate import session as sessions
from shopmate.session import EnterView, GateView, RowsView, Session
from shopmate.tui.themes import DARK
from shopmate.tui.widgets.key_line import KeyLine

SIZE = pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))

DETAILED = "\n".join(
    f"- {{do: Pack the box {name}, detail: [Lid down and taped on both of its long sides.]}}" for name in "ABCDEFGHI"
)
"""More than the smallest screen has rows for."""


@pytest.fixture
def begin(home, now):
    """Return a function that begins a recipe of these steps on a part, past its own question, and returns the project file."""

    def go(steps, **more):
        session = Session.create(sessions.project_path("Rows"), "Rows", now(), materials())
        session.begin(session.add_part("Panel 1", now()), recipe(steps, **more), now())
        session.answer("15 mm", now())
        session.close()
        return session.log.path

    return go


def headlines(at, count):
    return [event.data.get("headline") for event in at.session.log.events()[-count:]]


OFFERED = READINGS.replace(", reading: air", ", default: 20 °C")
"""Three answers that are offered, two of them with limits."""


@SIZE
async def test_enter_takes_all_rows_once_all_were_in_sight(begin, now, size):
    async with opened(now, begin(OFFERED), size) as at:
        assert (type(at.view), at.asked) == (RowsView, ["Read the air", "Read the humidity", "Count the clamps"])
        nothing_cut(at)
        labels = ("1   Read the air", "2   Read the humidity", "3   Count the clamps")
        assert all(words in at.text for words in (*labels, "limits 18 °C to 35 °C", "maximum 85 %")), at.text
        assert at.shown[0] == ("enter", "use all")
        assert size[0] < 80 or at.app.screen.query_one(KeyLine).size.height == 1  # the other theme has no row of its own
        await at.press("E")
        assert at.view.headline == "Look at it"
        assert headlines(at, 5) == [
            "Read the air", "Pass the air", "Read the humidity", "Pass the humidity", "Count the clamps",
        ]  # fmt: skip


@SIZE
async def test_each_item_of_a_list_is_in_sight_with_its_details_before_enter_takes_it(begin, now, size):
    async with opened(now, begin(DETAILED, mode="do-confirm"), size) as at:
        count, seen, pages = len(at.session.log.events()), "", 1
        while ("enter", "next page") in at.shown:
            nothing_cut(at)
            seen += at.text
            await at.press("E")
            pages += 1
            assert len(at.session.log.events()) == count, "turning a page records nothing"
        seen += at.text
        assert (pages > 1) == (size[1] < 20)
        assert at.shown[0] == ("enter", "all done")
        for number, name in enumerate("ABCDEFGHI", 1):
            assert f"{number}   Pack the box {name}" in seen
        assert "".join(seen.split()).count("Liddownandtapedonbothofitslongsides.") == 9
        await at.press("E")
        assert headlines(at, 10) == [*(f"Pack the box {name}" for name in "ABCDEFGHI"), "Section complete"]


async def test_the_page_before_comes_back_and_a_digit_chooses_only_what_is_in_sight(begin, now):
    async with opened(now, begin(DETAILED, mode="do-confirm"), (40, 12)) as at:
        first, count = at.text, len(at.session.log.events())
        assert "9   Pack the box I" not in first
        await at.press("9")
        assert (at.said, len(at.session.log.events())) == ("9: does nothing now", count)
        await at.press("E")
        assert "1   Pack the box A" not in at.text
        await at.press("-")
        assert at.text.splitlines()[:8] == first.splitlines()[:8]
        assert len(at.session.log.events()) == count, "nothing is taken back"
        await at.press("-E")
        assert at.said == "UNDONE Measure the gap"


async def test_a_small_screen_scrolls_to_the_row_that_is_asked(begin, now):
    names = "ABCDEFGH"
    steps = "\n".join(f'- {{ask: Count the bolts {name}, into: {name.lower()}, count: [1, 40], default: "4"}}' for name in names)
    async with opened(now, begin(steps), (40, 12)) as at:
        for name in names:
            await at.ask(f"Count the bolts {name}")
            nothing_cut(at)
            assert f"▸ Count the bolts {name}" in at.text
            await at.press("-")
        assert at.asked == [f"Count the bolts {name}" for name in names]


@SIZE
async def test_a_digit_asks_for_a_row_and_minus_goes_back_to_them_all(begin, now, size):
    async with opened(now, begin(OFFERED), size) as at:
        count = len(at.session.log.events())
        await at.ask("Count the clamps")
        assert (type(at.view), at.view.headline, at.view.default) == (EnterView, "Count the clamps", "12")
        nothing_cut(at)
        await at.press("-")
        assert (type(at.view), len(at.session.log.events())) == (RowsView, count)
        await at.ask("Count the clamps")
        await at.press("14E")
        assert (type(at.view), at.session.run.values["clamps"].text) == (RowsView, "14")
        assert any("✓ Count the clamps" in line and "14" in line for line in at.text.splitlines())
        await at.press("-E")
        assert at.said == "UNDONE Count the clamps"
        assert "clamps" not in at.session.run.values


async def test_no_digit_chooses_a_row_while_a_value_is_typed(begin, now):
    async with opened(now, begin(OFFERED)) as at:
        await at.ask("Read the humidity")
        await at.press("321")
        assert (at.view.headline, at.entry.text) == ("Read the humidity", "321")
        await at.press("+++ 3E")
        assert at.session.run.values["humidity"].text == "3 %"


async def test_an_item_is_left_for_later_and_taken_up_at_the_end_of_the_section(begin, now):
    async with opened(now, begin(LIST, mode="do-confirm")) as at:
        assert len(at.asked) == 9
        await at.press("3")
        assert at.said == "FOR LATER"
        assert [label[-1] for label in at.asked] == list("ABDEFGHIJ")
        assert "1 for later" in at.text.splitlines()[0]
        await at.press("EE")
        assert "do now: Pack the box C" in at.text
        await at.press("1")
        assert at.view.headline == "Pack the box C"


@SIZE
async def test_a_row_that_does_not_pass_is_marked_in_words_and_red_and_nothing_beyond_it_is_taken(begin, now, size):
    async with opened(now, begin(OFFERED.replace("default: 50 %", "default: 90 %")), size) as at:
        (row,) = [line for line in at.step_text.splitlines() if "Read the humidity" in line]
        assert row.endswith("NO GO")
        red = DARK.variables["late"].lower()
        assert any(ink.lower() == red for text, ink, _ in inks(at.app) if "NO GO" in text)
        await at.press("E")
        assert (type(at.view), at.view.headline, at.view.go) == (GateView, "Pass the humidity", False)
        assert "clamps" not in at.session.run.values


@SIZE
async def test_what_is_half_typed_in_a_row_is_kept_for_that_row(begin, now, size):
    path = begin(OFFERED)
    async with opened(now, path, size) as at:
        await at.ask("Count the clamps")
        place = at.session.place_name(at.view.place)
        await at.press("1")
        assert at.session.log.typing() == {place: ("1", "")}
    async with opened(now, path, size) as at:
        await at.ask("Read the humidity")
        assert at.entry.text == ""
        await at.press("-")
        await at.ask("Count the clamps")
        assert at.entry.text == "1"
        await at.press("6E")
        assert at.session.run.values["clamps"].text == "16"
        assert at.session.log.typing() == {}


async def test_a_chosen_row_is_forgotten_with_its_run(begin, now):
    async with opened(now, begin(OFFERED)) as at:
        first = at.session.project.current
        await at.ask("Count the clamps")
        at.session.begin(at.session.add_part("Panel 2", now()), at.session.run.recipe, now())
        at.session.answer("15 mm", now())
        at.app.bench.refresh_view()
        assert isinstance(at.view, RowsView)
        at.session.choose(first, now())
        at.app.bench.refresh_view()
        assert isinstance(at.view, RowsView)
