import re
from importlib import resources

import pytest
from textual.color import Color
from tui_stage import Hands, Stage, inks

from shopmate import calc, tables
from shopmate.dialogue.form import Form
from shopmate.tui.lines import WithoutColour
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.themes import COLOURLESS, DARK, DARK_16, LIGHT, LIGHT_16, MARK, PAIRS, SIGNALS, STATES, TEXT, THEMES, field
from shopmate.tui.widgets.block import Block


def luminance(colour):
    """Relative luminance of WCAG 2.2 [memory: WCAG 2.2 definition of relative luminance]."""
    parts = [part / 255 for part in colour.rgb]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def variables(theme):
    return {**theme.to_color_system().generate(), **theme.variables}


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    # The requirements' own table of pairs: hands_eyes_ears S7 [computed there].
    [("#ffffff", "#000000", 21.0), ("#ffffff", "#b00020", 7.3), ("#000000", "#ffb000", 11.5), ("#ff0000", "#008000", 1.3)],
)
def test_contrast_is_computed_as_by_others(one, other, ratio):
    assert contrast(Color.parse(one), Color.parse(other)) == pytest.approx(ratio, abs=0.05)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
@pytest.mark.parametrize(("front", "back", "least"), PAIRS)
def test_every_pair_has_its_contrast(theme, front, back, least):
    colours = variables(theme)
    assert contrast(Color.parse(colours[front]), Color.parse(colours[back])) >= least


PALETTES = {
    # The 16 colours of the Linux console and of xterm, 0 to 15 [memory: their defaults].
    "console": "000000 aa0000 00aa00 aa5500 0000aa aa00aa 00aaaa aaaaaa 555555 ff5555 55ff55 ffff55 5555ff ff55ff 55ffff ffffff",
    "xterm": "000000 cd0000 00cd00 cdcd00 0000ee cd00cd 00cdcd e5e5e5 7f7f7f ff0000 00ff00 ffff00 5c5cff ff00ff 00ffff ffffff",
}


@pytest.mark.parametrize("palette", PALETTES)
@pytest.mark.parametrize("theme", [DARK_16, LIGHT_16], ids=lambda theme: theme.name)
@pytest.mark.parametrize(("front", "back", "least"), PAIRS)
def test_every_pair_reads_on_the_palettes_of_sixteen_colours(theme, palette, front, back, least):
    """4.5:1, the least of WCAG 2.2 for text: the palette is the terminal's, and 7:1 cannot be had of it for all."""
    names = ["black", "red", "green", "yellow", "blue", "magenta", "cyan", "white"]
    order = [f"ansi_{name}" for name in (*names, *(f"bright_{name}" for name in names))]
    colours = {"foreground": theme.foreground, "background": theme.background, **theme.variables}
    pair = [Color.parse(f"#{PALETTES[palette].split()[order.index(colours[name])]}") for name in (front, back)]
    assert contrast(*pair) >= min(least, 4.5)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_alarm_and_normal_differ_in_lightness(theme):
    """The field of an alarm against the ground that all else stands on, and no red against green: S7."""
    colours = {name: Color.parse(value) for name, value in variables(theme).items() if value.startswith("#")}
    assert contrast(colours["late"], colours["background"]) >= 4.5
    greens = [name for name in STATES if 80 < colours[name].hsl.h * 360 < 170 and colours[name].hsl.s > 0.2]
    assert greens == []


def test_words_need_seven_and_marks_three():
    assert (TEXT, MARK) == (7.0, 3.0)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_theme_names_every_colour(theme):
    wanted = {name for front, back, _ in PAIRS for name in (front, back)}
    assert wanted <= set(variables(theme))
    assert {*STATES, *(f"signal-{signal}" for signal in SIGNALS)} <= set(theme.variables)


HUES = {"red": (340, 372), "orange": (20, 45), "yellow": (45, 65), "blue": (195, 250)}
"""Ends in degrees of the hues that go by these names, red across 0 [common practice]."""


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_signal_words_stand_on_the_colours_of_the_table(theme):
    for row in tables.load("signal_words").rows:
        hue = Color.parse(theme.variables[f"signal-{row['signal_word'].lower()}"]).hsl.h * 360
        low, high = HUES[row["colour"]]
        assert low <= hue < high or low <= hue + 360 < high, row["signal_word"]


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_states_differ_in_colour(theme):
    assert len({theme.variables[state] for state in STATES}) == len(STATES)


def test_style_sheets_and_widgets_use_only_checked_colours():
    checked = {name for front, back, _ in PAIRS for name in (front, back)}
    used = set()
    for folder in ("screens", "widgets"):
        for file in resources.files("shopmate.tui").joinpath(folder).iterdir():
            if file.name.endswith((".tcss", ".py")):
                used |= set(re.findall(r"\$([a-z][a-z-]*[a-z])\b(?!-?\{)", file.read_text(encoding="utf-8")))
    assert "quiet" in used
    assert used <= checked


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
@pytest.mark.parametrize("size", [(120, 35), (80, 24), (40, 12)])
async def test_everything_with_ink_on_a_form_reads(theme, size):
    app = Stage(theme=theme.name)
    async with app.run_test(size=size) as pilot:
        app.open(FormScreen(Form(calc.find("fillet"), {"length": "2400 mm"}, "metric")))
        await pilot.pause()
        hands = Hands(pilot)
        for keys in ("E", "7", "0000", "+++++", "12", "E"):
            await hands.keypad(keys)
            pieces = list(inks(app))
            assert pieces
            for text, front, back in pieces:
                assert contrast(Color.parse(front), Color.parse(back)) >= TEXT, (text, front, back)


async def test_without_colour_only_the_terminals_own_two_are_used():
    app = Stage(Block("Late"), theme=COLOURLESS.name)
    app.touches.append(WithoutColour())
    async with app.run_test(size=(60, 12)) as pilot:
        app.open(FormScreen(Form(calc.find("fillet"), {"length": "2400 mm"}, "metric")))
        await pilot.pause()
        for strip in app.screen._compositor.render_strips():
            for segment in strip:
                style = segment.style
                assert style is None or all(colour is None or colour.is_default for colour in (style.color, style.bgcolor))


def test_field_names_both_colours():
    assert field("late") == "bold $on-late on $late"
