from fractions import Fraction

import pytest
from tui_stage import Stage, key, picture

from shopmate.calculator import Measure, RatioKind
from shopmate.settings import Settings
from shopmate.tui.lines import ASCII_CLASS
from shopmate.tui.widgets.block import rows
from shopmate.tui.widgets.entry import Entry
from shopmate.units import Quantity, offered, parse, units_of

LENGTH = Measure("mm", above=0, high=5000)
NAMES = {".": "full_stop", "/": "slash", "-": "minus", "+": "plus", ",": "comma", " ": "space", '"': "quotation_mark"}


def length(**more):
    return Entry(LENGTH.read, offered("mm"), "mm", **more)


def type_in(entry, text, start=0.0, every=1.0):
    return [
        entry.press(key(NAMES.get(character, character), character, start + place * every))
        for place, character in enumerate(text)
    ]


@pytest.mark.parametrize(
    ("typed", "unit", "value", "large", "elsewhere"),
    [
        ("1-1/2", "in", Quantity(Fraction(3, 2), "in"), "1 1/2", "= 38.1 mm"),
        ("1/3", "in", Quantity(Fraction(1, 3), "in"), "1/3", "= 8.47 mm"),
        ("1,5", "in", Quantity(Fraction(3, 2), "in"), "1.5", "= 38.1 mm"),
        ("25.4", "mm", Quantity(Fraction(254, 10), "mm"), "25.4", "= 1 in"),
    ],
)
async def test_what_is_typed_is_shown_large_with_its_unit_and_in_the_other_system(typed, unit, value, large, elsewhere):
    entry = length()
    app = Stage(entry)
    async with app.run_test(size=(60, 12)) as pilot:
        entry.unit = unit
        assert all(type_in(entry, typed))
        await pilot.pause()
        shown = picture(app)
        assert entry.value == value
        assert shown[0].startswith(f"{typed}  {unit}")
        assert [row.rstrip() for row in shown[1:4]] == [row.rstrip() for row in rows(large)[:3]]
        assert shown[4].rstrip() == f"{rows(large)[3]} {unit}"
        assert shown[5].strip() == elsewhere


@pytest.mark.parametrize(("typed", "unit"), [("90", "°"), ("7", "%"), ("5", "")])
async def test_what_both_systems_measure_alike_is_not_said_again(typed, unit):
    entry = Entry(lambda text: parse(text, unit), units_of(unit), unit)
    app = Stage(entry)
    async with app.run_test(size=(60, 12)) as pilot:
        assert all(type_in(entry, typed))
        await pilot.pause()
        assert entry.value is not None
        assert "=" not in "\n".join(picture(app))


async def test_a_unit_typed_on_a_full_keyboard_is_kept():
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, '1.5"')
        assert entry.text_with_unit() == '1.5"'
        assert entry.value == Quantity(Fraction(3, 2), "in")


async def test_a_point_goes_through_the_units_and_never_converts_the_digits():
    entry = length()
    app = Stage(entry)
    async with app.run_test(size=(60, 12)) as pilot:
        seen = [entry.unit]
        for time in range(6):
            assert entry.press(key("full_stop", ".", float(time)))
            seen.append(entry.unit)
        assert seen == ["mm", "cm", "m", "in", "ft", "yd", "mm"]
        type_in(entry, "12", start=10)
        assert entry.press(key("tab", "\t", 20.0))
        await pilot.pause()
        assert (entry.text, entry.unit) == ("12", "cm")
        assert entry.value == Quantity(Fraction(12), "cm")
        assert "= 4 23/32 in" in "\n".join(picture(app))


async def test_plus_erases_what_is_typed_and_so_does_backspace():
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, "123")
        entry.press(key("plus", "+", 5.0))
        entry.press(key("backspace", "\x08", 6.0))
        assert (entry.text, entry.unit) == ("1", "mm")


@pytest.mark.parametrize("name", ["plus", "backspace"])
async def test_erasing_past_empty_does_nothing_and_later_the_key_is_the_screens(name):
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, "1")
        assert [entry.press(key(name, None, at)) for at in (5.0, 5.9, 6.0)] == [True, True, False]
        assert (entry.text, entry.unit) == ("", "mm")


@pytest.mark.parametrize(
    ("unit", "typed"),
    [("mm", "1/"), ("in", "1/"), ("lb", "1/"), ("oz", "1/"), ("g", "1"), ("min", "1"), ("°C", "1"), ("%", "1"), ("", "1")],
)
async def test_a_fraction_is_typed_only_where_one_is_said(unit, typed):
    entry = Entry(str, offered(unit), unit)
    async with Stage(entry).run_test():
        entry.press(key("1", "1", 1.0))
        assert entry.press(key("slash", "/", 2.0)) == (typed == "1/")
        assert entry.text == typed


async def test_a_wrong_text_is_kept_and_the_reason_shown():
    entry = length()
    app = Stage(entry)
    async with app.run_test(size=(80, 12)) as pilot:
        type_in(entry, "9000")
        await pilot.pause()
        assert entry.text == "9000"
        assert entry.value is None
        assert "above the maximum, 5000 mm" in "\n".join(picture(app))


async def test_two_readings_are_shown_and_none_is_taken():
    entry = length()
    app = Stage(entry)
    async with app.run_test(size=(80, 12)) as pilot:
        type_in(entry, "1,250")
        await pilot.pause()
        text = "\n".join(picture(app))
        assert entry.value is None
        assert "1250" in text
        assert "1.25" in text
        assert "could be" in text


@pytest.mark.parametrize(
    ("bounce_ms", "gap", "text"),
    [(80, 0.079, "4"), (80, 0.081, "44"), (300, 0.299, "4"), (300, 0.301, "44"), (0, 0.001, "44")],
)
async def test_a_digit_that_bounces_is_dropped_and_said(bounce_ms, gap, text):
    entry = length()
    app = Stage(entry)
    app.settings = Settings(bounce_ms=bounce_ms)
    async with app.run_test(size=(80, 12)) as pilot:
        assert all(type_in(entry, "44", start=50.0, every=gap))
        await pilot.pause()
        assert entry.text == text
        assert ("second 4 dropped" in "\n".join(picture(app))) == (text == "4")


async def test_another_digit_may_come_at_once():
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, "1213", every=0.01)
        assert entry.text == "1213"


@pytest.mark.parametrize("character", ["E", "l", "X", "/", " ", "+", "*"])
async def test_a_number_does_not_begin_with(character):
    entry = Entry(LENGTH.read, (), "mm")
    async with Stage(entry).run_test():
        assert not entry.press(key(NAMES.get(character, character), character))
        assert entry.text == ""


async def test_a_name_takes_letters_and_digits():
    entry = Entry(letters=True)
    async with Stage(entry).run_test():
        type_in(entry, "Lid 2-b/7")
        assert entry.text_with_unit() == entry.value == "Lid 2-b/7"


async def test_a_ratio_from_a_keypad():
    entry = Entry(RatioKind().read, ("by volume", "by weight"), "by volume", dash=":")
    app = Stage(entry)
    async with app.run_test(size=(80, 12)) as pilot:
        entry.press(key("full_stop", "."))
        type_in(entry, "100-45", start=1)
        await pilot.pause()
        assert str(entry.value) == "100:45 by weight"
        assert picture(app)[4].rstrip().endswith("by weight")


async def test_enter_is_left_to_the_screen():
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, "12")
        assert not entry.press(key("enter", "\r", 9.0))
        assert entry.text == "12"


async def test_an_entry_takes_no_focus():
    entry = length()
    app = Stage(entry)
    async with app.run_test():
        assert app.focused is None
        assert not entry.focusable


async def test_letters_of_a_torn_keypad_sequence_are_no_part_of_a_number():
    entry = length()
    async with Stage(entry).run_test():
        type_in(entry, "2.")
        assert type_in(entry, "OEX") == [False] * 3
        assert entry.text == "2."
    assert not [
        unit for known in ("mm", "g", "°C", "min", "m²", "MPa", "W/m²K") for unit in units_of(known) if set(unit) & set("EOX")
    ]


@pytest.mark.parametrize(
    ("typed", "plain", "text", "value"),
    [
        ("½", True, "1/2", Fraction(1, 2)),
        ("1½", True, "1-1/2", Fraction(3, 2)),
        ("1-¾", True, "1-3/4", Fraction(7, 4)),
        ("1½", False, "1½", Fraction(3, 2)),
    ],
)
async def test_the_sign_of_a_fraction_is_spelled_where_signs_are_seven_bit(typed, plain, text, value):
    entry = length()
    async with Stage(entry).run_test(size=(60, 12)) as pilot:
        pilot.app.set_class(plain, ASCII_CLASS)
        entry.unit = "in"
        assert all(type_in(entry, typed))
        assert (entry.text, entry.value) == (text, Quantity(value, "in"))
