"""Lists to choose from by number: one digit or two, on as many pages as there is room for, left without a choice."""

import pytest
from tui_stage import Hands, Stage, picture

from shopmate.dialogue.asking import UNUSED, Item
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.numbered import Numbered

SIZES = [(120, 35), (80, 24), (60, 18), (40, 12)]


class shown:
    """A screen on a bare stage."""

    def __init__(self, screen, size=(80, 24)):
        self.app, self.screen, self.size = Stage(), screen, size

    async def __aenter__(self):
        self.running = self.app.run_test(size=self.size)
        pilot = await self.running.__aenter__()
        self.app.open(self.screen)
        await pilot.pause()
        self.hands = Hands(pilot)
        return self

    async def __aexit__(self, *error):
        await self.running.__aexit__(*error)

    @property
    def text(self):
        return "\n".join(picture(self.app))

    @property
    def offers(self):
        return [(offer.key, offer.word) for offer in self.screen.query_one(KeyLine).offers]


def items(count):
    return [Item(f"key {number}", f"Item {number}", f"note {number}") for number in range(1, count + 1)]


async def test_one_digit_chooses():
    async with shown(ChooseScreen("Which?", items(3), explain="It matters.")) as at:
        assert "Which?" in at.text
        assert "It matters." in at.text
        assert "2  Item 2  note 2" in at.text
        await at.hands.press("4")
        assert at.app.closed_with == []
        await at.hands.press("2")
        assert at.app.closed_with == ["key 2"]


async def test_a_number_left_unused_is_neither_shown_nor_chosen():
    first, last = items(2)
    async with shown(ChooseScreen("Which?", [first, UNUSED, last])) as at:
        assert "3  Item 2  note 2" in at.text
        assert " 2 " not in at.text.replace("Item 2  note 2", "")
        await at.hands.press("2")
        assert at.app.closed_with == []
        await at.hands.press("3")
        assert at.app.closed_with == ["key 2"]


async def test_two_digits_choose_from_a_long_list_and_the_first_can_be_taken_back():
    async with shown(ChooseScreen("Which?", items(12))) as at:
        await at.hands.press("1")
        assert at.app.closed_with == []
        assert ("1", "1_") in at.offers
        await at.hands.press("+")
        assert ("1", "choose") in at.offers
        await at.hands.press("0", "7")
        assert at.app.closed_with == ["key 7"]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_every_item_can_be_seen_and_chosen_at_each_size(size):
    async with shown(ChooseScreen("Which of all of these?", items(30)), size) as at:
        numbered, seen = at.screen.query_one(Numbered), set()
        for _ in range(numbered.pages):
            seen |= {number for number in range(1, 31) if f"{number:02d}  Item {number} " in at.text}
            assert numbered.region.bottom <= at.screen.query_one(KeyLine).region.y
            if numbered.pages > 1:
                assert ("plus", "more") in at.offers
                await at.hands.press("+")
        assert seen == set(range(1, 31))
        await at.hands.press("3", "0")
        assert at.app.closed_with == ["key 30"]


@pytest.mark.parametrize(("size", "rows"), [((80, 24), 19), ((40, 12), 8)], ids=["80x24", "40x12"])
@pytest.mark.parametrize("count", [2, 4, 9, 30])
async def test_a_title_is_never_cut_and_a_note_only_where_no_row_is_empty(size, rows, count):
    many = [
        Item(f"key {n}", f"Sheathe a panel face in glass on panel {n}", f"{'and more ' * 12}to {n}") for n in range(1, count + 1)
    ]
    async with shown(ChooseScreen("Which?", many), size) as at:
        numbered, seen = at.screen.query_one(Numbered), set()
        for _ in range(numbered.pages):
            page = numbered.render().plain
            whole = " ".join(page.split())
            seen |= {n for n in range(1, count + 1) if f"Sheathe a panel face in glass on panel {n} " in whole + " "}
            assert "…" not in page or len(page.splitlines()) == numbered.size.height >= rows
            assert max(map(len, page.splitlines())) <= numbered.size.width
            at.app.screen.query_one(Numbered).turn_page()
        assert seen == set(range(1, count + 1))
        assert numbered.pages == 1 or count * (1 + (size[0] < 80)) > rows
        await at.hands.press(*f"{count:0{len(str(count))}d}")
        assert at.app.closed_with == [f"key {count}"]


async def test_leaving_without_a_choice_where_that_is_offered():
    async with shown(ChooseScreen("Which?", items(2), leave="bench")) as at:
        assert ("slash", "bench") in at.offers
        await at.hands.press("/")
        assert at.app.closed_with == [None]
    async with shown(ChooseScreen("Which?", items(2), leave="")) as at:
        await at.hands.press("/")
        await at.hands.post("escape", None)
        assert at.app.closed_with == []
        assert "does nothing now" in at.screen.query_one(KeyLine).said


async def test_words_with_brackets_are_shown_as_they_are():
    async with shown(ChooseScreen("Disk [full] of [b]things[/b]", [Item("a", "[red]A[/red]")])) as at:
        assert "Disk [full] of [b]things[/b]" in at.text
        assert "[red]A[/red]" in at.text


async def test_the_name_offered_is_taken_with_enter_and_another_typed_over_it():
    async with shown(NameScreen("Name of the part", "Panel 3")) as at:
        assert "Enter uses: Panel 3" in at.text
        await at.hands.press("E")
        assert at.app.closed_with == ["Panel 3"]
    async with shown(NameScreen("Name of the part", "Panel 3")) as at:
        for letter in "Sill-7":
            await at.hands.post(letter, letter)
        await at.hands.press("+", "8", "/", "9", "E")
        assert at.app.closed_with == ["Sill-8/9"]


async def test_no_name_is_given_by_leaving_or_by_blanks():
    async with shown(NameScreen("Name", "Panel 3")) as at:
        await at.hands.press("/")
        assert at.app.closed_with == [None]
    async with shown(NameScreen("Name", "Panel 3")) as at:
        await at.hands.post("a", "a")
        await at.hands.post("escape", None)
        assert at.app.closed_with == [None]
