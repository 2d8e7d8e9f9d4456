"""The log as Markdown, CSV and JSON: complete, in order, with what was taken back marked as such."""

import csv
import io
import json
import subprocess
import sys
from datetime import timedelta

import pytest
from conftest import every_step, materials

from shopmate import recipe as recipes
from shopmate.log import Event
from shopmate.project.export import FORMATS, export
from shopmate.session import FinishedView, events_of
from shopmate.session.demo import follow

HAPPENED = {
    "project", "part", "run", "chosen", "setting", "done", "seen", "section", "again", "refused", "finished",
    "alarm", "acknowledged", "shelved", "returned", "ended", "clock", "form", "kept", "shelf", "undone", "sound",
}  # fmt: skip


@pytest.fixture
def events(small, now):
    """A project in which most of what can happen did; of each kind there is an example in `test_events.py`."""
    first = small.run.key
    now.at = follow(small, now(), {"Read the air": "12"}, until=lambda view: view.headline == "Pass the air")
    small.measure_again(now())
    small.answer("21", now())
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Judge the film")
    small.judge("broken", now())
    small.start_clock("Kettle | 2", "DO BEFORE", timedelta(minutes=10), now())
    small.tick(now.on(minutes=8, seconds=5))
    small.shelve(1, now())
    small.tick(now.on(minutes=1))
    small.tick(now.on(minutes=4))
    small.acknowledge(now.on(seconds=1))
    small.end_clock(small.clocks[0].key, now())
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    small.take_back(now())
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Wait for the clamps")
    small.override("Tried on a sample, it held", now())
    now.at = follow(small, now(), {}, until=lambda view: isinstance(view, FinishedView))
    small.begin(small.add_part("Panel 2", now()), every_step(), now())
    small.choose(first, now())
    small.set("theme", "light", now())
    small.log_sound(True, now())
    small.remember("drill", {"diameter": "4 mm"}, now())
    small.keep("drill", {"diameter": "4 mm"}, now())
    small.save_material(recipes.with_figure(materials()["foam-2lb"], "packing", "1.15"), now())
    return events_of(small.log.path)


def test_most_of_what_can_happen_happened(events):
    assert {event.kind for event in events} == HAPPENED


def test_two_runs_of_one_recipe_on_one_part_have_headings_of_their_own(small, now):
    """Their times are those of the rows that begin them; of a run alone on its part none is told."""
    small.begin("Panel 1", every_step(), now.on(hours=1))
    small.begin(small.add_part("Panel 2", now.on(hours=1)), every_step(), now())
    events = events_of(small.log.path)
    rows = list(csv.DictReader(io.StringIO(export(events, "Small", "csv"))))
    first, second, third = (row for row in rows if row["kind"] == "run")
    assert [row["begun"] for row in (first, second, third)] == [row["at"][:19] for row in (first, second, third)]
    headings = [line for line in export(events, "Small", "lines").splitlines() if line.endswith(":")]
    assert [line for line in headings if line != "Project:"] == [
        f"{first['recipe']} on Panel 1, begun {first['begun']}:",
        f"{first['recipe']} on Panel 1, begun {second['begun']}:",
        f"{first['recipe']} on Panel 2:",
    ]
    assert export(events, "Small", "md").count(", begun ") == 2


def test_json_holds_every_event_as_it_was(events):
    data = json.loads(export(events, "Small", "json"))
    assert data["project"] == "Small"
    assert [(item["id"], item["kind"], item["data"]) for item in data["events"]] == [(e.id, e.kind, e.data) for e in events]
    assert all(item["at"].endswith("+00:00") for item in data["events"])


def test_csv_has_a_row_for_every_event_in_order(events):
    rows = list(csv.DictReader(io.StringIO(export(events, "Small", "csv"))))
    assert [row["event"] for row in rows] == [str(event.id) for event in events]
    assert [row["kind"] for row in rows] == [event.kind for event in events]
    undone = {str(event.data["event"]) for event in events if event.kind == "undone"}
    assert {row["event"] for row in rows if row["taken_back"] == "yes"} == undone
    assert all(row["what"] for row in rows)
    of_run = [row for row in rows if row["kind"] in ("run", "done", "seen", "section", "finished")]
    assert {(row["part"], row["recipe"]) for row in of_run} == {
        ("Panel 1", "every-step 1 2026-11-25"),
        ("Panel 2", "every-step 1 2026-11-25"),
    }
    (passed,) = [row for row in rows if row["reason"]]
    assert (passed["what"], passed["reason"]) == ("Wait for the clamps", "Tried on a sample, it held")
    typed = {row["what"]: (row["typed"], row["value"]) for row in rows if row["typed"]}
    assert typed["Weigh the resin"] == ("100 g", "100 g")


def test_csv_and_markdown_keep_awkward_texts_in_their_cells(events):
    rows = list(csv.DictReader(io.StringIO(export(events, "Small", "csv"))))
    assert [row["what"] for row in rows if row["kind"] == "clock"] == ["Started timer Kettle | 2"]
    (line,) = [line for line in export(events, "Small", "md").splitlines() if "Started timer" in line]
    assert line.replace("\\|", "").count("|") == 5


def test_markdown_reads_as_a_table_a_run(events):
    text = export(events, "Small", "md")
    lines = text.splitlines()
    assert lines[0] == "# Log of Small"
    assert "## every-step 1 2026-11-25 on Panel 1" in lines
    assert "## every-step 1 2026-11-25 on Panel 2" in lines
    rows = [line for line in lines if line.startswith("| 2")]
    assert len(rows) == len([event for event in events if event.kind != "form"])
    assert any("Took back: " in row for row in rows)
    assert any("| taken back" in row for row in rows)
    assert any("reason: Tried on a sample, it held" in row for row in rows)
    assert any("| Weigh the resin | 100 g |  |" in row for row in rows), "what the value says already is not said again"
    for index, line in enumerate(lines):
        if line.startswith("## "):
            assert lines[index - 1] == ""


@pytest.mark.parametrize("form", FORMATS)
def test_an_event_of_a_newer_program_is_exported_all_the_same(events, form):
    newer = Event(9999, events[-1].at, "weighed", {"run": "3", "place": "1.1.0", "shown": "12 g"})
    assert "weighed" in export([*events, newer], "Small", form)


@pytest.mark.parametrize("form", FORMATS)
def test_an_empty_log_is_no_fault(form):
    assert export([], "Empty", form)


def test_a_log_is_exported_without_the_libraries_of_the_bench(events, small):
    code = (
        "import sys\nfrom pathlib import Path\nfrom shopmate.session import events_of\n"
        "from shopmate.project.export import export\n"
        "for form in ('md', 'csv', 'json'): export(events_of(Path(sys.argv[1])), 'x', form)\n"
        "print(sorted({'pint', 'textual', 'rich'} & sys.modules.keys()))"
    )
    done = subprocess.run([sys.executable, "-c", code, str(small.log.path)], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.strip() == "[]"


def test_a_kept_result_is_exported_with_its_main_figures_and_what_was_typed(small, now):
    small.keep("bead", {"cartridge": "300 mL", "diameter": "1/4 in", "length": "12 m", "waste": "10 %"}, now())
    events = events_of(small.log.path)
    (row,) = [row for row in csv.DictReader(io.StringIO(export(events, "Small", "csv"))) if row["kind"] == "kept"]
    # 300 mL over π/4 × 6.35² mm² is 9.47 m; 12 m of that with 10 % on top is 418 mL, so two cartridges: by hand.
    assert row["what"] == "Kept bead"
    assert row["value"] == "Length per cartridge: 9.47 m; Cartridges needed: 2; Bead section: 31.7 mm²"
    assert row["typed"] == "cartridge 300 mL; diameter 1/4 in; length 12 m; waste 10 %"
    (line,) = [line for line in export(events, "Small", "md").splitlines() if "Kept bead" in line]
    assert "9.47 m" in line
    assert "given as cartridge 300 mL; diameter 1/4 in" in line
    (kept,) = [item for item in json.loads(export(events, "Small", "json"))["events"] if item["kind"] == "kept"]
    assert kept["data"]["result"]["outputs"]["section"]["value"] == pytest.approx(31.669, rel=1e-4)


@pytest.mark.parametrize("form", FORMATS)
def test_a_result_kept_by_a_newer_program_is_exported_all_the_same(events, form):
    outputs = {"weight": {"value": 1.25, "unit": "kg"}, "verdict": {"value": "go", "unit": None}}
    data = {"calculator": "scales", "texts": {"arm": "2 m"}, "result": {"outputs": outputs}}
    text = export([*events, Event(9999, events[-1].at, "kept", data)], "Small", form)
    assert ("1.25" if form == "json" else "verdict: go; weight: 1.25 kg") in text


def test_a_change_of_the_shelf_is_exported_with_what_the_figure_was(events):
    (row,) = [row for row in csv.DictReader(io.StringIO(export(events, "Small", "csv"))) if row["kind"] == "shelf"]
    assert (row["what"], row["value"]) == ("Shelf: foam-2lb", "packing: 1.15, was 1.1")
    (line,) = [line for line in export(events, "Small", "md").splitlines() if "Shelf: foam-2lb" in line]
    assert "| packing: 1.15, was 1.1 |" in line
    (item,) = [item for item in json.loads(export(events, "Small", "json"))["events"] if item["kind"] == "shelf"]
    kept = {name: item["data"][name] for name in ("material", "figure", "was", "now")}
    assert kept == {"material": "foam-2lb", "figure": "packing", "was": "1.1", "now": "1.15"}


def test_lines_read_aloud_hold_every_event_but_the_forms(events):
    lines = export(events, "Small", "lines").splitlines()
    assert lines[0] == "Log of Small"
    said = [line for line in lines[1:] if line[:2] == "20"]
    assert len(said) == sum(event.kind != "form" for event in events)
    assert lines[1] == "Project:"
    assert any(line.endswith(" Read the air, 12 °C") for line in said)
    assert not any("typed" in line for line in said)
    assert not any("|" in line for line in said if "Kettle" not in line)
    assert any("reason: Tried on a sample, it held" in line for line in said)
    assert any(", taken back" in line for line in said)
