import re
import subprocess
import sys
from fractions import Fraction

import pytest
from every_field import offer_sample
from tui_stage import Hands, Stage, picture

from shopmate import calc
from shopmate.dialogue.asking import Choose, Item
from shopmate.dialogue.form import Form
from shopmate.dialogue.look_up import which_calculator
from shopmate.result import Result
from shopmate.settings import Settings
from shopmate.tui.guard import Guard
from shopmate.tui.keys import label
from shopmate.tui.screens.calculators import CalculatorsScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.widgets.block import rows
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.units import Quantity

SIZES = [(120, 35), (80, 24), (60, 18), (40, 12)]


@pytest.fixture(autouse=True)
def sample(monkeypatch):
    offer_sample(monkeypatch)


class opened:
    """The sample form on a stage, with hands on the keypad."""

    def __init__(self, last=None, system="metric", size=(80, 24), pause=1.0, name="sample", every=False, **more):
        self.app, self.size, self.pause = Stage(), size, pause
        self.form = Form(calc.find(name), last or {}, system, **more)
        if every:
            self.form.ask_all()
            self.form.go_to(0)
        self.screen = FormScreen(self.form)

    async def __aenter__(self):
        self.running = self.app.run_test(size=self.size)
        pilot = await self.running.__aenter__()
        self.app.open(self.screen)
        await pilot.pause()
        self.hands = Hands(pilot, self.pause)
        return self

    async def __aexit__(self, *error):
        await self.running.__aexit__(*error)

    async def type(self, text):
        await self.hands.keypad(text)
        await self.hands.pilot.pause()

    @property
    def text(self):
        return "\n".join(picture(self.app))

    @property
    def entry(self):
        return self.screen.query_one(Entry)

    @property
    def offered(self):
        return {offer.key: offer.word for offer in self.screen.offers()}

    def asks(self):
        return str(self.screen.query_one(".asked").render())


async def test_a_form_filled_in_from_a_keypad_alone():
    async with opened() as at:
        await at.type("2400E 21.5E")
        await at.type("06E")
        await at.type("2E")
        await at.type("100-45 E")
        await at.type("3E")
        await at.type("1E")
        assert at.form.texts == {
            "length": "2400 mm",
            "temperature": "21.5 °C",
            "wood": "oak",
            "stiffness": "hard",
            "ratio": "100:45 by volume",
            "coats": "3",
            "face": "inner",
        }
        await at.type("E")
        assert at.app.closed_with == [None]
        result = at.form.result
        assert isinstance(result, Result)
        assert result.outputs == {"reach": Quantity(7200.0, "mm"), "verdict": "go"}
        assert result.inputs["temperature"] == Quantity(Fraction(43, 2), "°C")
        assert result.doubts == ()


async def test_a_list_is_typed_on_a_keypad_with_minus_between_and_one_unit_for_all():
    given = {"gap": "16 mm", "leg_a": "12 mm", "leg_b": "12 mm"}
    async with opened(name="gap", last=given, every=True) as at:
        await at.type("EEE 1-0.5-0.5")
        assert at.form.result.inputs["tolerances"] == "1 mm, 0.5 mm, 0.5 mm"
        await at.type("E")
        assert at.form.texts["tolerances"] == "1;0.5;0.5 mm"
    async with opened(name="gap", last=given, system="inch", every=True) as at:
        await at.type("EEE 1/16-1/32")
        assert at.form.result.inputs["tolerances"] == "0.0625 in, 0.03125 in"


async def test_the_result_follows_every_key():
    async with opened(last={"temperature": "20 °C"}) as at:
        assert at.form.result is None
        assert "waiting" not in at.text
        assert "arithmetic" not in at.text  # of the working and the sources nothing either
        for typed, reach in (("2", 2.0), ("4", 24.0), ("+", 2.0)):
            await at.type(typed)
            assert at.form.result.outputs["reach"] == Quantity(reach, "mm")
        await at.type("/")
        assert at.form.result is None
        assert "waiting for Length" in at.text


async def test_the_first_output_is_large_and_the_caution_in_sight():
    async with opened(last={"temperature": "20 °C"}) as at:
        await at.type("24")
        assert all(row.rstrip() in at.text for row in rows("24.0"))
        assert "keep clear of the edge" in at.text


async def test_results_are_shown_in_the_system_of_the_project():
    async with opened(last={"temperature": "20 °C"}, system="inch") as at:
        assert at.entry.unit == "in"
        await at.type("1-1/2")
        assert at.form.result.outputs["reach"].value == pytest.approx(38.1)
        assert "= 38.1 mm" in at.text
        assert sum(row.rstrip().count(rows("1 1/2")[0].rstrip()) for row in picture(at.app)) == 2


async def test_enter_keeps_what_was_there_and_minus_goes_back():
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}) as at:
        assert "Enter keeps 25 mm (last time)" in at.text
        await at.type("EE")
        assert at.asks().strip() == "Wood"
        await at.type("-")
        assert at.asks().strip() == "Temperature"
        assert at.form.texts == {"length": "25 mm", "temperature": "20 °C"}


async def test_minus_is_a_sign_where_a_value_may_be_below_zero_and_then_back():
    async with opened(last={"length": "25 mm"}) as at:
        await at.type("E - 5")
        assert at.entry.text == "-5"
        assert at.form.result.outputs["verdict"] == "no go"
        await at.type("++ --")
        assert at.asks().strip() == "Length"


async def test_a_wrong_value_is_not_taken_and_not_lost():
    async with opened() as at:
        await at.type("9000E")
        assert at.asks().strip() == "Length"
        assert at.entry.text == "9000"
        assert "above the maximum, 5000 mm" in " ".join(at.text.split())
        assert "NOT ACCEPTED" in at.text


@pytest.mark.parametrize(
    ("last", "typed", "question"),
    [
        ({}, "4000", "4000 mm is above the usual 3000 mm"),
        ({"length": "120 mm"}, "1200", "1200 mm is 10 times the last, 120 mm"),
        ({"length": "254 mm"}, "10", "10 mm is 25.4 times smaller than the last, 254 mm"),
    ],
)
async def test_a_doubtful_value_is_asked_about_once(last, typed, question):
    async with opened(last=last) as at:
        await at.type(f"{typed}E")
        assert at.asks().strip() == "Length"
        assert question in " ".join(at.text.split())
        assert "is that right?" in at.text
        await at.type("E")
        assert at.asks().strip() == "Temperature"
        assert at.form.texts["length"] == f"{typed} mm"


async def test_a_leaning_glove_neither_confirms_nor_runs_on():
    async with opened() as at:
        at.app.guard = Guard(Settings(), lambda: at.hands.now)
        await at.type("4000E")
        await at.hands.press("E", every=0.5)
        await at.hands.press(*"E" * 40, every=0.033)
        assert at.asks().strip() == "Length"
        await at.hands.press("E", every=0.8)
        await at.hands.press("E", every=0.5)
        await at.hands.press(*"E" * 40, every=0.033)
        assert at.asks().strip() == "Temperature"


async def test_another_key_takes_the_question_back():
    async with opened() as at:
        await at.type("4000E + 1E")
        assert at.form.texts == {}
        assert "is that right?" in at.text
        assert at.entry.text == "4001"


async def test_a_name_or_the_figure_itself():
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}) as at:
        await at.type("EEE 0 9.5")
        assert at.entry.text_with_unit() == "9.5 GPa"
        await at.type("E")
        assert at.form.texts["stiffness"] == "9.5 GPa"
        await at.type("- 0 -")
        assert "hard" in at.text
        await at.type("1")
        assert at.form.texts["stiffness"] == "soft"


async def test_an_optional_field_can_be_emptied():
    async with opened(last={"length": "25 mm", "temperature": "20 °C", "face": "outer"}) as at:
        await at.type("EEEEEE +")
        assert "face" not in at.form.texts
        await at.type("E")
        assert at.form.result is not None
        assert "face" not in at.form.result.inputs


async def test_the_working_and_sources_are_one_key_away():
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}) as at:
        await at.type(".")
        assert "reach = length x coats = 25 x 1" in at.text
        assert "A made-up rule [common practice]" in at.text
        await at.type(".")
        assert "reach = length" not in at.text


BEAD = {"cartridge": "300 mL", "diameter": "6 mm"}
BONDLINE = {"width": "30 mm", "thickness": "2 mm", "length": "1 m", "bead": "5 mm"}


@pytest.mark.parametrize("size", SIZES)
async def test_the_picture_follows_the_result_on_every_size_and_the_working_comes_after_it(size):
    async with opened(last=BONDLINE, size=size, name="bondline") as at:
        words = []
        while not words or words[-1] != "picture":
            words.append(at.offered["full_stop"])
            await at.type(".")
        assert set(words) <= {"result", "picture"}
        assert "╲ upper piece" in at.text
        assert "One bead of 5 mm" in " ".join(at.text.split()) or size != (120, 35)
        while at.offered["full_stop"] != "working":
            assert at.offered["full_stop"] in ("result", "more")
            await at.type(".")
        await at.type(".")
        assert "╲ upper piece" not in at.text or size == (120, 35)


async def test_a_picture_with_no_room_is_told_in_words():
    async with opened(last=BONDLINE | {"width": "150 mm", "thickness": "0.2 mm"}, size=(40, 12), name="bondline") as at:
        for _ in range(2):
            await at.type(".")
        assert at.offered["full_stop"] != "picture"
        assert "One bead of 5 mm" in " ".join(at.text.split())


async def test_the_picture_follows_every_key_on_a_wide_screen():
    async with opened(last=BEAD, size=(120, 35), name="bead", every=True) as at:
        heights = []
        for keys in ("E", "3", "+", "9", "+"):
            await at.type(keys)
            heights.append(sum("█" in line[:58] and "adhesive" not in line for line in picture(at.app)))
        assert "width 6 mm" in at.text
        await at.type("8")
        assert "width 8 mm" in at.text
        assert all(heights)


async def test_no_picture_is_offered_where_there_is_none():
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}) as at:
        assert at.offered["full_stop"] == "working"


async def test_a_digit_leads_from_the_picture_back_to_the_field():
    async with opened(last=BONDLINE, name="bondline") as at:
        await at.type(".")
        assert not at.entry.region
        await at.type("4")
        assert at.entry.text == "4"
        assert at.entry.region
        assert "╲ upper piece" not in at.text


async def test_signs_of_seven_bits_draw_the_picture_too():
    async with opened(last=BONDLINE, name="bondline") as at:
        at.app.add_class("ascii")
        await at.type(".")
        assert "\\ upper piece" in at.text
        assert not set("█▀▄╱╲▒░●├┤") & set(at.text)


@pytest.mark.parametrize("size", SIZES)
async def test_enter_on_the_review_keeps_the_result_and_slash_does_not(size):
    async with opened(last=BEAD, size=size, name="bead", every=True) as at:
        await at.type("E" * len(calc.find("bead").inputs))
        assert at.offered["enter"] == "save to log"
        await at.type("E")
        assert at.form.kept
        assert at.app.closed_with == [None]
        assert at.form.result.outputs["cartridges"] is None
    async with opened(last=BEAD, size=size, name="bead", every=True) as at:
        await at.type("E" * len(calc.find("bead").inputs) + "/")
        assert not at.form.kept
        assert at.app.closed_with == [None]
        assert at.form.result is not None


async def test_a_leaning_glove_does_not_keep():
    async with opened(last=BEAD, name="bead", every=True) as at:
        at.app.guard = Guard(Settings(), lambda: at.hands.now)
        await at.type("E" * len(calc.find("bead").inputs))
        await at.hands.press(*"E" * 20, every=0.033)
        assert at.app.closed_with == []


@pytest.mark.parametrize("system", ["metric", "inch"])
async def test_main_figures_are_shown_in_the_other_system_too(system):
    async with opened(last=BONDLINE, system=system, name="bondline") as at:
        shown = " ".join(" ".join(line[41:] for line in picture(at.app)).split())
        # √(4 × 30 × 2 / π) = 8.74 mm = 0.3441 in, by 0.0004 in 11/32 in: arithmetic [computed].
        assert ("Bead that is just enough = 8.74 mm" if system == "inch" else "just enough = 11/32 in") in shown


@pytest.mark.parametrize("name", calc.names())
async def test_titles_of_fields_are_whole_where_there_is_room(name):
    async with opened(size=(120, 35), name=name) as at:
        titles = [item.title for item in (*at.form.fields, *at.form.others)]
        shown = [line[3:58] for line in picture(at.app)]
        assert all(any(title in line for line in shown) for title in titles[:14])
    async with opened(name=name) as at:
        shown = [line[3:39] for line in picture(at.app)]
        for item in (*at.form.fields, *at.form.others)[:6]:
            value = item.default or ("–" if item.optional else "needed")
            if len(item.title) + 2 + len(value) <= 34:
                assert any(item.title in line for line in shown), item.title


async def test_cautions_on_a_later_page_are_announced_on_the_first():
    last = {"size": "#6", "head": "flat 82", "length": "3/4 in", "holding": "0.5", "top": "aluminium", "top_thickness": "1/16 in"}
    async with opened(last=last, name="screw") as at:
        assert "cautions: press ." in at.text
        assert "Knife edge: the head" not in at.text


NO_FIGURE = {"sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C", "mass": "100 g"}
NO_FIGURE |= {"temperature": "45 °C", "container": "tray", "depth": "10 mm"}


@pytest.mark.parametrize("size", SIZES)
async def test_a_result_without_any_figure_still_shows_what_it_warns_of(size):
    result = calc.run("potlife", NO_FIGURE)
    assert (any(result.outputs.values()), bool(result.cautions)) == (False, True)
    async with opened(last=NO_FIGURE, size=size, name="potlife") as at:
        seen = at.text
        for _ in range(6):
            await at.type(".")
            seen += at.text
        assert all(caution[:16] in " ".join(seen.split()) for caution in result.cautions)


@pytest.mark.parametrize("leave", ["/", "escape"])
async def test_leaving_gives_what_is_on_the_screen(leave):
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}) as at:
        await at.hands.press(leave)
        assert at.app.closed_with == [None]
        assert at.form.result.outputs["reach"] == Quantity(25.0, "mm")
        assert not at.form.kept
    async with opened() as at:
        await at.hands.press(leave)
        assert at.app.closed_with == [None]
        assert at.form.result is None


async def test_a_slash_while_typing_is_a_fraction():
    async with opened() as at:
        await at.type("3/4")
        assert at.entry.text == "3/4"
        assert at.app.closed_with == []


@pytest.mark.parametrize("size", SIZES)
async def test_all_of_it_stands_on_screens_of_every_size(size):
    async with opened(size=size) as at:
        for keys in ("", "1", ".5", "E", "20", "E", "0", "7", "E", "0", "1", "E", "E", "E", "1", "E"):
            await at.type(keys)
            shown = picture(at.app)
            assert len(shown) == size[1]
            for widget in at.screen.query("*"):
                if widget.display and all(parent.display for parent in widget.ancestors if parent is not at.app):
                    assert at.screen.region.contains_region(widget.region), (keys, widget)
            line = " ".join(shown[-2:])
            for offer in at.screen.offers():
                if offer.word:
                    assert f" {label(offer.key)}  {offer.word}" in line, (keys, line)
            field = at.form.field
            assert field is None or field.title in at.text
            if at.form.result is not None:
                assert re.search(r"[█▀▄]|1.5 mm", at.text)
                assert "caution" in at.text or "keep clear" in at.text
        assert all(row.rstrip() in at.text for row in rows("1.5"))


@pytest.mark.parametrize("size", SIZES)
async def test_on_every_size_the_pages_hold_everything(size):
    async with opened(last={"length": "25 mm", "temperature": "20 °C"}, size=size) as at:
        seen = at.text
        for _ in range(12):
            await at.type(".")
            seen += at.text
        plain = " ".join(seen.split())
        for words in ("Verdict", "keep clear of the edge", "length x coats", "only in tests", "made-up rule"):
            assert words in plain


async def test_the_key_line_is_what_the_keys_do():
    async with opened() as at:
        for keys in ("", "1", "E", "-", "5", "E", "0", "1", "E", "E", "0", "3", "E", "E", "E", "E"):
            await at.type(keys)
            shown = at.screen.query_one(KeyLine).offers
            assert [offer.key for offer in shown] == [offer.key for offer in at.screen.offers() if offer.word], keys
            assert len(shown) <= 6
            assert len({offer.key for offer in shown}) == len(shown)


async def test_unused_keys_are_said_to_be_so():
    async with opened() as at:
        await at.hands.press("x")
        assert "does nothing now" in at.text
        assert at.entry.text == ""


async def test_the_arrows_of_a_keypad_without_num_lock_neither_take_nor_go():
    async with opened(last={"length": "25 mm"}) as at:
        await at.type("E")
        before = at.asks()
        await at.hands.press("end", "down", "up", "left", "insert", "kp_begin", "delete")
        assert (at.asks(), at.form.texts) == (before, {"length": "25 mm"})


@pytest.mark.parametrize("size", SIZES)
async def test_one_digit_opens_a_calculator_that_is_near_and_two_any(size):
    near = [Item("mix", "One pot"), Item("drill", "A drill")]
    question = Choose("", [*near, *[Item("sample", "A sample")] * 25], near=2)
    app = Stage()
    async with app.run_test(size=size) as pilot:
        app.open(CalculatorsScreen(question))
        await pilot.pause()
        hands = Hands(pilot)
        seen = "\n".join(picture(app))
        for _ in range(4):
            await hands.keypad("+")
            await pilot.pause()
            seen += "\n".join(picture(app))
        assert all(re.search(rf" {number}  sample", seen) for number in range(61, 86))
        assert re.search(r"  1  mix", seen)
        await hands.keypad("6+3 9 8")
        assert app.closed_with == []
        await hands.keypad("4")
        assert app.closed_with == ["sample"]
        app.open(CalculatorsScreen(question))
        await pilot.pause()
        await hands.keypad("2")
        assert app.closed_with == ["sample", "drill"]


@pytest.mark.parametrize("key", "/-")
async def test_the_list_of_calculators_is_left_by_slash_or_minus(key):
    app = Stage()
    async with app.run_test() as pilot:
        app.open(CalculatorsScreen(which_calculator(("mix",))))
        await pilot.pause()
        await Hands(pilot).keypad(key)
        assert app.closed_with == [None]


def test_the_screens_load_without_the_library_that_converts():
    program = "import sys, shopmate.tui.screens.form, shopmate.tui.screens.calculators; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


async def test_a_roof_on_unequal_pairs_is_worked_out_from_a_keypad_and_seen():
    async with opened(name="roof", every=True) as at:
        await at.type("E 80E 1100E 14/500-6/1800E E 190E 2E 150E E 2000E 120E 350E 500E")
        result = at.form.result
        assert result.inputs["extras"] == "14 kg @ 500 mm; 6 kg @ 1800 mm"
        assert result.outputs["verdict"] == "too heavy; settles when cold; no strut suits"
        assert "Front struts, F1 to balance" in at.text
        assert all(row.rstrip() in at.text for row in rows("233"))
        await at.type(".")
        assert "front struts (2), F1 190 N" in at.text
        assert "hand pushes up, open, cold 376 N" in at.text
        assert "roof, open" in at.text
        assert at.offered["full_stop"] == "more"
        await at.type(".")
        assert "limit, push 100 N" in at.text
        assert "cold, -10 °C 376 N" in at.text
        assert "closed 230 N (51.7 lbf) cold" in " ".join(at.text.split())
        await at.type(".")
        assert "! Prop the roof before anyone reaches" in at.text


ROOF = {
    "mass": "100 kg", "cg": "1.2 m", "front_at": "300 mm", "rear_at": "2.1 m", "rear_struts": "2", "front_force": "700 N",
    "rear_force": "700 N", "strut_offset": "450 mm", "height_closed": "150 mm", "rise": "600 mm",
}  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
async def test_both_pictures_of_a_roof_are_paged_through_on_every_size(size):
    async with opened(last=ROOF, size=size, name="roof") as at:
        while at.offered["full_stop"] != "picture":
            await at.type(".")
        seen = ""
        while at.offered["full_stop"] in ("picture", "more"):
            await at.type(".")
            seen += f"{' '.join(at.text.split())} "
        # The roof is drawn where there is room and said in words where there is none, or more than the drawing takes.
        assert ("roof, closed" in seen) == (size[1] > 12)
        assert ("above the lower pivots" in seen) == (size[1] != 18)
        assert "cold, -10 °C -1175 N" in seen
        assert ("half-way -1114 N" in seen) == (size[1] > 18)


@pytest.mark.parametrize("size", [(120, 35), (80, 24)])
async def test_a_list_too_long_for_a_column_stands_under_its_title(size):
    given = {"sheet": "2440 x 1220 mm", "parts": "2@1200x600, 3@900x450"}
    async with opened(name="sheets", last=given, size=size) as at:
        shown = [row.strip() for row in picture(at.app)]
        place = next(number for number, row in enumerate(shown) if row.endswith("Where each part goes"))
        assert "sheet 1: 1200 x 600 at (0, 0)" in shown[place + 1]


async def test_a_face_in_metres_takes_the_unit_key_at_its_first_length_alone():
    async with opened(name="laminate") as at:
        at.form.go_to([field.name for field in at.form.fields].index("length"))
        at.screen._show_field()
        turns = 0
        while at.entry.unit != "m":
            await at.type("+")
            turns += 1
        await at.type("2.44E")
        assert (at.form.field.name, at.entry.unit) == ("width", "m")
        await at.type("1.22E")
        assert turns > 0
        assert (at.form.texts["length"], at.form.texts["width"]) == ("2.44 m", "1.22 m")
