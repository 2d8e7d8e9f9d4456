"""A result is read in one order on every face: verdict, figures for the bench, doubts, cautions, and then the rest."""

import sys

import pytest
from conftest import EVERY_STEP, materials
from plain_talk import talk
from tui_bench import opened
from tui_stage import Hands, Stage, picture

from shopmate import calc, cli, recipe, session, units
from shopmate.dialogue.form import Form
from shopmate.project.export import export
from shopmate.result import Presentation
from shopmate.session import Session, events_of
from shopmate.session.demo import follow
from shopmate.session.sheet import sheet
from shopmate.tui.screens.form import FormScreen

GIVEN = {"air": "20", "humidity": "65 %", "surface": "21 °C"}
"""A dew point with a doubt, an air without a unit, and with cautions of the calculator."""

VERY_LARGE = (200, 80)
"""Columns and rows on which a result stands whole and in one piece."""


@pytest.fixture
def read():
    """The result as it is read in metric units."""
    result = calc.run("dewpoint", GIVEN)
    assert result.doubts
    assert result.cautions
    return Presentation(result, calc.find("dewpoint").outputs, "metric")


def in_order(text, *wanted):
    """Whether texts stand one after another in another; blanks and line ends do not count."""
    text, at = "".join(text.split()), 0
    for part in ("".join(str(part).split()) for part in wanted):
        at = text.find(part, at)
        if at < 0:
            raise AssertionError(f"no '{part}' in its place: {text}")
        at += len(part)
    return True


def test_the_verdict_comes_first_and_what_nothing_names_comes_after_the_warnings(read):
    assert [figure.name for figure in read.verdict] == ["verdict"]
    assert [figure.name for figure in read.figures] == ["dew_point", "margin"]
    assert [figure.name for figure in read.others][:3] == ["surface_least", "margin_rule", "humidity_rule"]
    assert read.warnings == (*read.doubts, *read.cautions)


def test_a_step_names_its_figures():
    result = calc.run("dewpoint", GIVEN)
    read = Presentation(result, calc.find("dewpoint").outputs, "metric", ("surface_least",))
    assert [figure.name for figure in read.figures] == ["surface_least"]
    assert [figure.name for figure in read.others][:4] == ["dew_point", "margin", "margin_rule", "humidity_rule"]


@pytest.mark.parametrize(("system", "unit"), [("metric", "mm"), ("inch", "in"), (None, "mm")])
def test_figures_are_shown_in_the_system_or_as_they_are(system, unit):
    result = calc.run("fillet", {"length": "5 m", "radius": "12 mm"})
    figures = Presentation(result, calc.find("fillet").outputs, system).others
    leg = next(figure for figure in figures if figure.name == "leg")
    assert leg.shown.unit == unit
    assert str(leg.shown) == str(units.display(leg.value, system, 1) if system else units.shown(leg.value, 1))


def test_on_the_command_line(read, capsys, monkeypatch):
    monkeypatch.setattr(sys, "stderr", sys.stdout)
    assert cli.main(["calc", "dewpoint", *(f"{name}={text}" for name, text in GIVEN.items())]) == 0
    figures, others = ([f"({figure.label})" for figure in group] for group in (read.head, read.others))
    assert in_order(capsys.readouterr().out, *figures, *read.warnings, *others, *read.working, *read.sources)


def test_in_lines(read, now, small):
    small.close()
    said = talk(now, "/", "1", "dewpoint", "20", "", "65 %", "21 °C", "1", "/", path=small.log.path)
    # Lines ask about a bare number at once, so that the result has no such doubt.
    assert in_order(said, "Result of", *read.head, *read.cautions, *read.others, *read.working)


async def test_on_the_form(read):
    form = FormScreen(Form(calc.find("dewpoint"), GIVEN, "metric"))
    stage = Stage()
    async with stage.run_test(size=VERY_LARGE) as pilot:
        stage.open(form)
        await pilot.pause()
        await Hands(pilot, 1.0).keypad("EEE")
        await pilot.pause()
        column = "\n".join(row[70:] for row in picture(stage))
        large, small = read.head[:2], [*read.head[2:], *read.others]
        after = [str(figure.shown) + figure.label for figure in small]
        assert in_order(column, *(figure.label for figure in large), *after[:1], *read.warnings, *after[1:])


@pytest.fixture
def doubtful():
    """The recipe of every kind of step with the dew point of an air that has no unit."""
    text = EVERY_STEP.read_text(encoding="utf-8").replace('with: {air: "{air}", humidity', 'with: {air: "20", humidity')
    return recipe.read(text, "every-step.yaml", compare=False)


def test_on_the_sheet(doubtful, now):
    text = sheet(doubtful, {}, materials(), now())
    result = calc.run("dewpoint", {"air": "20", "humidity": "50 %", "surface": "20 °C", "margin": "3 K"})
    read = Presentation(result, calc.find("dewpoint").outputs, "metric", ("dew_point", "margin"))
    part = text[text.index("Pass the dew point") :]
    labels = [[figure.label for figure in group] for group in (read.head, read.others)]
    assert in_order(part, *labels[0], *read.warnings, *labels[1], *read.working)


async def test_on_the_bench_and_in_its_lines(doubtful, home, now):
    bench = Session.create(session.project_path("Small"), "Small", now(), materials())
    bench.begin(bench.add_part("Panel 1", now()), doubtful, now())
    now.at = follow(bench, now(), {}, until=lambda view: view.headline == "Pass the dew point")
    view = bench.view(now())
    bench.close()
    read = view.result
    assert read.doubts
    said = talk(now, path=bench.log.path)
    assert in_order(said, "GO", *read.figures, *read.warnings)
    async with opened(now, bench.log.path, VERY_LARGE) as at:
        assert in_order(at.step_text, "GO", *(figure.label for figure in read.figures), *read.warnings)


def test_in_the_log(read, small, now):
    small.keep("dewpoint", GIVEN, now())
    small.close()
    (row,) = [line for line in export(events_of(small.log.path), "Small", "lines").splitlines() if "Kept dewpoint" in line]
    assert in_order(row, *read.head)
