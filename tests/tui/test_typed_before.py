"""What was half typed when the program was cut off stands there again, says so, goes on, and answers nothing by itself."""

import shutil

import pytest
from conftest import every_step, reach
from test_app import calculator, choose, full
from test_bench import nothing_cut
from test_keep_shelf import SLOW, to_material
from test_keep_shelf import choose as choose_exactly
from tui_bench import SIZES, opened

from shopmate import calc
from shopmate.calculator import Either
from shopmate.dialogue import work
from shopmate.dialogue.asking import show

KEPT = "already typed, kept"
SIZE = pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))


def recorded(at):
    return [event.kind for event in at.session.log.events() if event.kind != "opened"]


@SIZE
async def test_a_half_typed_value_stands_there_again_with_its_unit_and_goes_on(begun, now, size):
    path = begun("Give the length")
    async with opened(now, path, size) as at:
        await at.press("..1-1/")
        typed, events = at.entry.typed, recorded(at)
        assert typed == ("1-1/", "m")
    async with opened(now, path, size, back=False) as at:
        assert "YOU WERE HERE" in at.text
        assert KEPT in at.text
        assert "1-1/" in at.text
        assert (at.entry.typed, recorded(at)) == (typed, events)
        nothing_cut(at)
        await at.press("2")  # behind what they have not seen yet it would make another figure
        assert at.said == "ENTER FIRST"
        await at.press("E")
        assert "YOU WERE HERE" not in at.text
        assert KEPT in at.text
        assert (at.entry.typed, recorded(at)) == (typed, events)
        nothing_cut(at)
        await at.press("2")
        assert KEPT not in at.text
        await at.press("E")
        assert [event.data["typed"] for event in at.session.log.events() if "typed" in event.data][-1:] == ["1-1/2 m"]
    async with opened(now, path, size) as at:
        await at.press("--E")  # the first begins a temperature below zero
        assert at.view.headline == "Give the length"
        assert at.entry.typed == ("", "")


async def test_the_value_is_shown_large_again_as_it_is_understood(begun, now):
    path = begun("Give the length")
    async with opened(now, path) as at:
        await at.press("12.5")
        before = [row for row in at.text.splitlines() if "█" in row or "▀" in row]
    async with opened(now, path) as at:
        assert at.entry.value.value_in("mm") == 12.5
        assert at.entry.is_large
        assert set(before) <= set(at.text.splitlines())


async def test_every_key_is_on_disk_before_the_next_also_those_that_take_away(begun, now):
    path = begun("Read the air")
    async with opened(now, path) as at:
        for keys, typed in (("-", "-"), ("4", "-4"), (".", "-4."), ("+", "-4"), ("++", ""), (".", "")):
            await at.press(keys)
            assert at.entry.text == typed
            assert dict(at.session.log.typing()).get(at.session.step_place, ("", "")) == at.entry.typed
        assert at.entry.typed[1] not in ("", "°C")  # the unit alone
    async with opened(now, path) as at:
        assert at.entry.typed[0] == ""
        assert at.entry.unit != "°C"
        assert KEPT not in at.text


async def test_taken_back_or_the_step_gone_back_from_it_is_gone(begun, now):
    path = begun("Read the air")
    async with opened(now, path) as at:
        await at.press("-")
        assert at.session.log.typing()
        await at.press("-E")
        assert at.session.log.typing() == {}
        assert at.view.headline != "Read the air"


async def test_another_project_at_the_same_step_does_not_get_it(begun, now):
    path = begun("Give the length")
    other = path.with_name("other.shopmate")
    shutil.copyfile(path, other)  # its runs, steps and turns have the same names
    async with opened(now, path) as at:
        await at.press("12")
        at.app.desk.open(other)
        await at.pilot.pause()
        at.app.bench.go_on()
        assert (at.session.log.path, at.view.headline) == (other, "Give the length")
        assert at.entry.text == ""
        await at.press("77")
        assert at.session.log.typing() == {at.session.step_place: ("77", "mm")}
        at.app.desk.open(path)
        await at.pilot.pause()
        assert (at.session.log.path, at.entry.typed) == (path, ("12", "mm"))


async def test_another_run_does_not_get_it(begun, now):
    path = begun("Give the length")
    async with opened(now, path) as at:
        await at.press("12")
        first = at.session.project.current
        at.session.begin("Panel 1", every_step(), now())
        at.app.bench.refresh_view()
        reach(at.session, now, "Give the length")
        at.app.bench.refresh_view()
        assert at.entry.text == ""
        await at.press("77")
        at.session.choose(first, now())
        at.app.bench.refresh_view()
        assert at.entry.typed == ("12", "mm")
        assert KEPT in at.text


async def test_what_is_answered_is_no_longer_said_not_to_be_on_disk(begun, now, monkeypatch):
    path = begun("Read the air")
    async with opened(now, path) as at:
        with monkeypatch.context() as patch:
            patch.setattr(at.session.log, "keep_typing", full)
            await at.press("21")
        assert "NOT SAVED" in at.text
        await at.press("E")
        assert at.asked[0] == "Read the humidity"
        assert "NOT SAVED" not in at.text


async def test_what_is_typed_after_taking_back_found_no_room_is_kept(begun, now, monkeypatch):
    path = begun("Read the air")
    async with opened(now, path) as at:
        with monkeypatch.context() as patch:
            patch.setattr(at.session.log, "append", full)
            await at.press("--E")
            assert at.app.screen is not at.app.bench  # it is told
            await at.press("1")
        assert at.view.headline == "Read the air"
        await at.press("21")
        assert at.session.log.typing() == {at.session.step_place: ("21", "°C")}


@SIZE
async def test_a_full_disk_is_said_once_and_typing_goes_on(begun, now, monkeypatch, size):
    path = begun("Give the length")
    async with opened(now, path, size) as at:
        with monkeypatch.context() as patch:
            patch.setattr(at.session.log, "keep_typing", full)
            await at.press("12")
            assert at.entry.text == "12"
            assert at.app.screen is at.app.bench
            assert at.text.count("NOT SAVED") == 1
            nothing_cut(at)
        await at.press("3")
        assert "NOT SAVED" not in at.text
        assert at.session.log.typing() == {at.session.step_place: ("123", "mm")}


async def test_a_window_that_takes_over_shows_what_was_typed_in_the_other(small, now):
    reach(small, now, "Give the length")
    async with opened(now, small.log.path) as at:
        await at.press("9+")
        small.keep_typing(small.step_place, "12", "mm")
        await at.tick(seconds=1)
        assert at.entry.text == ""
        small.close()
        await at.tick(seconds=1)
        assert at.entry.typed == ("12", "mm")
        assert KEPT in at.text


@SIZE
async def test_a_form_cut_off_opens_at_the_field_half_typed_with_those_before_it(begun, now, size):
    path = begun("Give the length")
    async with opened(now, path, size) as at:
        await calculator(at, "bead")
        await at.press("0 300E+++0.2")
        typed, texts = at.entry.typed, dict(at.app.screen.form.texts)
        assert typed == ("0.2", "in")
        assert "field 3 of 4" in at.text
    async with opened(now, path, size) as at:
        await calculator(at, "bead")
        assert (at.entry.typed, at.app.screen.form.texts) == (typed, texts)
        assert "field 2 of 3" in at.text  # the cartridge is known by now
        assert KEPT in at.text
        await at.press("5")
        assert KEPT not in at.text
        await at.press("E")
        assert at.app.screen.form.texts == {**texts, "diameter": "0.25 in"}
        assert at.session.log.typing() == {}
        await at.press("/")
    async with opened(now, path, size) as at:
        await calculator(at, "bead")
        assert "field 2 of 3" in at.text
        assert at.entry.text == ""


async def test_a_figure_typed_in_place_of_a_name_is_there_again(begun, now):
    path = begun("Give the length")
    before = [field.kind for (field,) in calc.find("screw").asks]
    index = next(index for index, kind in enumerate(before) if isinstance(kind, Either))
    async with opened(now, path) as at:
        await calculator(at, "screw")
        await at.press("E" * index + "00")
        assert at.entry.display
        await at.press("7")
        assert at.session.log.typing()
    async with opened(now, path) as at:
        await calculator(at, "screw")
        assert f"field {index + 1} of {len(before)}" in at.text
        assert (at.entry.text, at.entry.display) == ("7", True)
        await at.press("+-")
        assert at.session.log.typing() == {}
        assert not at.entry.display


async def own_clock(at):
    at.app.start_dialogue(show("clocks"))
    await at.pilot.pause()
    await at.press("0")


async def temperature(at):
    at.app.start_dialogue(work.other(at.app.desk))
    await at.pilot.pause()
    await choose(at, "Shop temperature")


async def pot_life(at):
    await to_material(at, SLOW)
    await choose_exactly(at, "pot life")


@pytest.mark.parametrize("go", [own_clock, temperature, pot_life], ids=lambda go: go.__name__)
@pytest.mark.parametrize("leave", ["5E", "+++/"], ids=["taken", "left"])
async def test_so_does_what_is_typed_elsewhere(begun, now, go, leave):
    path = begun("Read the air")
    async with opened(now, path) as at:
        await go(at)
        await at.press("21.")
        assert at.entry.text == "21."
    async with opened(now, path) as at:
        await go(at)
        assert at.entry.text == "21."
        assert KEPT in at.text
        await at.press(leave)
        await at.pilot.pause()
        assert at.session.log.typing() == {}
