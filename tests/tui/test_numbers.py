"""Numbers as they are typed at the bench: read one way or asked about, shown with their decimal mark, never lost."""

import json
from dataclasses import replace
from datetime import timedelta

import pytest
from conftest import every_step, reach
from test_units import READ
from tui_bench import UNGUARDED, opened

from shopmate import paths, session, units
from shopmate import recipe as recipes
from shopmate.calculator import RatioKind, slip
from shopmate.errors import EntryError
from shopmate.project.export import export
from shopmate.session.demo import follow
from shopmate.tui.lines import marked
from shopmate.tui.widgets import block
from shopmate.units import Quantity

COMMA = replace(UNGUARDED, decimal_mark=",")


def test_forty_inputs_and_more_are_read_exactly():
    assert len(READ) >= 40
    assert {"12", "1.5", "1,5", ".5", "3/4", "1-1/2"} <= {text for text, _, _ in READ}


def test_a_bare_ratio_of_two_numbers_is_not_typed_with_a_fraction_bar():
    with pytest.raises(EntryError):
        RatioKind().read("100/30 by weight")
    assert RatioKind().read("1/2:1 by weight").a == units.parse_number("1/2")


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("1.250", "1250 or 1,25"),
        ("12.125 mm", "12125 mm or 12,125 mm"),
        ("-1.500 °C", "-1500 °C or -1,5 °C"),
        ("100.000", "100000 or 100"),
    ],
)
def test_a_point_before_three_digits_is_asked_about_where_the_mark_is_a_comma(text, readings):
    with pytest.raises(EntryError) as error:
        units.refuse_point(text)
    assert readings in error.value.what


@pytest.mark.parametrize("text", ["0.250", ".250", "1.25", "1.2500", "1250", "1,250", "1.250/4", "1000.250", ""])
def test_what_has_one_reading_is_not_asked_about(text):
    units.refuse_point(text)


async def test_a_point_before_three_digits_is_not_taken_at_the_bench(begun, now):
    async with opened(now, begun("Give the length"), settings=COMMA) as at:
        await at.press("150.250E")
        assert at.view.headline == "Give the length"
        assert at.entry.text == "150.250"
        assert "could be" in at.text
        await at.press("+E")
        assert at.session.run.values["length"].quantity == Quantity(units.parse_number("150.25"), "mm")


async def test_the_decimal_mark_follows_the_setting_on_the_screen_and_nowhere_else(begun, now):
    path = begun("Read the air")
    async with opened(now, path, settings=COMMA) as at:
        await at.press("20.5")
        assert at.entry.text == "20.5"
        assert "20.5" in at.text  # as it is being typed
        drawn = block.rows("20,5")
        assert all(row.rstrip() in at.text for row in drawn), at.text
        assert "68,9 °F" in at.text
        await at.press("E")
        assert "20,5 °C" in at.text
        assert "20.5" not in at.text
        held = at.session.run.values["air"]
        assert held.text == "20.5 °C"
        events = at.session.log.events()
        for form in ("json", "csv", "md"):
            assert "20,5" not in export(events, "Small", form)
        await at.press("/03")
        assert "field 1" in at.text


def test_only_decimals_to_be_read_change_their_mark():
    assert marked("limits 85.1 g to 87.7 g, -0.5 °C", ",") == "limits 85,1 g to 87,7 g, -0,5 °C"
    for kept in ("WCAG 1.4.6", "v1.2", "/home/x/1.5/y", "'1.250' has", "12", "Step 1. Then", "08:40"):
        assert marked(kept, ",") == kept
    assert marked("1.5", ".") == "1.5"


async def test_the_decimal_mark_is_switched_on_the_settings_and_kept(small, now):
    small.close()
    async with opened(now, small.log.path) as at:
        await at.press("/.")
        for words in ("Settings", "Decimal comma"):
            titles = [item.title for item in at.app.screen.items]
            index = next(number for number, title in enumerate(titles, 1) if title.startswith(words))
            await at.press(f"{index:0{len(str(len(titles)))}d}")
            await at.pilot.pause()
        assert json.loads(paths.settings().read_text(encoding="utf-8"))["decimal_mark"] == ","
        assert "Decimal point" in at.text


# Slips


@pytest.mark.parametrize(
    ("value", "before", "words"),
    [
        ("900 mm", "90 mm", "10 times the last"),
        ("9 mm", "90 mm", "10 times smaller than the last"),
        ("1 in", "1 mm", "25.4 times the last"),
        ("1.5 mm", "1.5 in", "25.4 times smaller than the last"),
    ],
)
def test_a_likely_slip_is_told(value, before, words):
    assert words in slip(units.parse(value, "mm"), units.parse(before, "mm"))


@pytest.mark.parametrize(("value", "before"), [("95 mm", "90 mm"), ("500 mm", "90 mm"), ("90 mm", "90 mm"), ("5 mm", "0 mm")])
def test_what_is_no_slip_is_not_asked_about(value, before):
    assert slip(units.parse(value, "mm"), units.parse(before, "mm")) is None
    assert slip(units.parse("20 °C", "°C"), units.parse("2 °C", "°C")) is None
    assert slip(units.parse("5 mm", "mm"), None) is None


def test_an_answer_far_from_the_last_run_is_asked_about(small, now):
    now.at = follow(small, now(), {"Give the length": "150 mm"}, until=lambda view: view.headline == "Read the air")
    small.begin(small.add_part("Panel 2", now()), every_step(), now())
    reach(small, now, "Give the length")
    with pytest.raises(session.Doubt, match="10 times the last"):
        small.answer("1500 mm", now())
    small.answer("1500 mm", now(), sure=True)
    assert small.run.values["length"].text == "1500 mm"


# The record, alarms


async def test_the_record_keeps_the_form_typed_the_unit_and_the_exact_value(begun, now):
    path = begun("Give the length")
    async with opened(now, path) as at:
        while at.entry.unit != "in":
            await at.press(".")
        await at.press("5-1/3E")
        data = next(event.data for event in reversed(at.session.log.events()) if event.kind == "done")
        assert data["typed"] == "5-1/3 in"
        assert data["values"]["length"]["text"] == "5 1/3 in"
    kept = next(event.data for event in reversed(session.events_of(path)) if event.kind == "done")["values"]["length"]["text"]
    assert units.parse(kept, "mm") == Quantity(units.parse_number("16/3"), "in")


async def test_an_alarm_and_time_leave_what_is_being_typed(begun, now):
    path = begun("Give the length")
    async with opened(now, path) as at:
        at.session.start_clock("Kettle", "NOT BEFORE", timedelta(minutes=1), now())
        await at.press("12")
        count = len(at.session.log.events())
        await at.tick(minutes=2)
        assert at.entry.text == "12"
        assert " ● NOW · Kettle" in at.text
        await at.press("*")
        await at.tick(hours=5)
        assert at.entry.text == "12"
        assert at.view.headline == "Give the length"
        assert [event.kind for event in at.session.log.events()[count:]] == ["alarm", "acknowledged"]


def test_headlines_of_all_recipes_are_two_lines_of_block_letters_at_eighty_columns():
    """At most 26 characters, at most two lines, each of at most 13 characters of 6 columns."""
    for path in sorted(paths.shipped_recipes().glob("*.yaml")):
        for section in recipes.load(path, compare=False).sections:
            for step in section.steps:
                lines = block.wrap(step.headline, 79)
                assert len(step.headline) <= 26, step.headline
                assert len(lines) <= 2, lines
                assert all(block.columns(line) <= 79 for line in lines), lines
