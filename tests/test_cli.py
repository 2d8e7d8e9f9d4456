"""The command line from outside: every command with good and bad input, its exit code, and what goes to which stream."""

import csv
import io
import json
import math
import os
import re
import signal
import sqlite3
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shopmate import __version__, calc, cli, paths, session, tables
from shopmate.calculator import Choice, Count
from shopmate.cli import signs
from shopmate.log import SUFFIX, Log

OTHER_STYLE = Path(__file__).parent / "recipes" / "good" / "other-style.yaml"
RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.yaml"))
LONG_AGO = datetime(2026, 5, 4, 8, tzinfo=UTC)


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    """A home of its own for each test, not yet made."""
    folder = tmp_path / "home"
    monkeypatch.setenv(paths.HOME_VARIABLE, str(folder))
    return folder


@pytest.fixture
def shopmate(capsys):
    """Run a command in this process and return its exit code, stdout and stderr."""

    def run(*words, now=cli.read_time):
        code = cli.main(words, now)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return code, out, err

    return run


def started(*words, **more):
    """Run a command as a process of its own."""
    settings = {"capture_output": True, "encoding": "utf-8", "timeout": 60, "check": False, "stdin": subprocess.DEVNULL, **more}
    return subprocess.run([sys.executable, "-m", "shopmate", *words], **settings)


def project(name, began=LONG_AGO):
    """Make a project with an own clock of 30 min started at `began`."""
    work = session.Session.create(session.project_path(name), name, began, {})
    work.add_part("Panel 1", began)
    work.start_clock("Soak", "NOT BEFORE", timedelta(minutes=30), began)
    work.close()
    return work.log.path


# calc


def test_calc_lists_every_calculator(shopmate):
    code, out, err = shopmate("calc")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == list(calc.names())
    assert all(calc.find(line.split()[0]).title in line for line in out.splitlines())


@pytest.mark.parametrize("name", calc.names())
def test_calc_shows_fields_with_units_ranges_defaults(shopmate, name):
    code, out, err = shopmate("calc", name)
    assert (code, err) == (0, "")
    calculator = calc.find(name)
    for item in calculator.inputs:
        line = next(line for line in out.splitlines() if line.startswith(f"  {item.name}: "))
        assert item.kind.describe() in line
        assert item.default is None or f"default {item.default}" in line
    for output in calculator.outputs:
        assert f"  {output.name}: " in out
    assert calculator.valid in out
    assert all(str(source) in out for source in calculator.source)


def test_calc_prints_results_on_stdout_and_cautions_on_stderr(shopmate):
    code, out, err = shopmate("calc", "mix", "ratio=2:1 by volume", "resin_density=1.15", "hardener_density=0.97", "total=150g")
    assert code == 0
    assert "\nhardener = 44.5 g  (" in f"\n{out}"
    assert "working:" in out
    assert "sources:" in out
    assert err.startswith("caution: ")
    assert "caution: " not in out


def test_calc_lists_its_fields_and_outputs_in_inches_where_these_are_wanted(shopmate):
    code, out, err = shopmate("calc", "gap", "--system", "inch")
    assert (code, err) == (0, "")
    assert "gap: Gap between the faces (in, 0.003938 to 19.68; needed)" in out
    assert "overlap: Overlap (in)" in out
    assert " mm" not in out.partition("sources:")[0]


def test_calc_takes_bare_numbers_and_shows_figures_in_inches_where_these_are_wanted(shopmate):
    code, out, err = shopmate("calc", "gap", "gap=3/4", "leg_a=.5", "leg_b=5/8 in", "tolerances=1/16;1/32", "--system", "inch")
    assert (code, err) == (0, "")
    assert "\noverlap = 3/8 in  (Overlap)\n" in out


def test_calc_refuses_in_inches_where_these_are_wanted_and_in_json_not_at_all(shopmate):
    code, out, err = shopmate("calc", "edge", "curve=4", "chord=10", "--system", "inch")
    assert (code, out) == (1, "")
    assert "chord: is longer than twice the plan radius; enter 8 in or less" in err
    code, out, err = shopmate("calc", "edge", "curve=4", "chord=5", "--system", "inch", "--json")
    assert (code, out) == (2, "")
    assert "leave --system out" in err


MIX = ("calc", "mix", "ratio=2:1 by volume", "resin_density=1.15", "hardener_density=0.97", "total=150g", "--json")
SCREW = (
    "calc", "screw", "size=#6", "head=flat 82", "length=3/4 in", "holding=Douglas-fir", "top=aluminium",
    "top_thickness=1/16 in", "--json",
)  # fmt: skip


def test_mix_as_json(shopmate):
    code, out, err = shopmate(*MIX)
    assert (code, err) == (0, "")
    got = json.loads(out)
    assert got["calculator"] == "mix"
    assert got["inputs"]["ratio"] == {"value": "2:1 by volume", "unit": None}
    assert got["inputs"]["total"] == {"value": 150.0, "unit": "g"}
    # By hand: 2 mL of resin at 1.15 g/mL to 1 mL of hardener at 0.97 g/mL is 2.30 g to 0.97 g.
    assert got["outputs"]["resin"]["unit"] == got["outputs"]["hardener"]["unit"] == "g"
    assert got["outputs"]["resin"]["value"] == pytest.approx(150 * 2.30 / 3.27, rel=1e-12)
    assert got["outputs"]["hardener"]["value"] == pytest.approx(150 * 0.97 / 3.27, rel=1e-12)
    assert got["outputs"]["scale_hardener"]["value"] == pytest.approx(150, rel=1e-12)
    assert got["outputs"]["phr"]["value"] == pytest.approx(100 * 0.97 / 2.30, rel=1e-12)


def test_screw_as_json(shopmate):
    code, out, err = shopmate(*SCREW)
    assert (code, err) == (0, "")
    outputs = json.loads(out)["outputs"]
    assert outputs["verdict"] == {"value": "knife edge", "unit": None}
    assert outputs["head_ratio"]["value"] > 1
    # Major diameter of #6: 0.138 in, ASME B18.6.1 (read).
    assert outputs["major"] == {"value": pytest.approx(0.138 * 25.4), "unit": "mm"}
    names = (
        "major root pilot clearance countersink pilot_drill clearance_drill head_height countersink_depth head_ratio verdict "
        "thread_in_holding withdrawal_design withdrawal_ultimate edge_distance"
    )
    assert set(names.split()) <= set(outputs)


EXAMPLES = [
    pytest.param(name, example, id=f"{name}-{number}")
    for name in calc.names()
    for number, example in enumerate(calc.find(name).examples, start=1)
]


@pytest.mark.parametrize(("name", "example"), EXAMPLES)
def test_json_has_the_agreed_form(shopmate, name, example):
    code, out, err = shopmate("calc", name, *(f"{field}={text}" for field, text in example.inputs.items()), "--json")
    assert (code, err) == (0 if calc.run(name, example.inputs).has_figure else 4, "")
    got = json.loads(out)
    assert list(got) == ["calculator", "inputs", "outputs", "working", "cautions", "sources"]
    assert got["calculator"] == name
    calculator = calc.find(name)
    assert list(got["outputs"]) == [output.name for output in calculator.outputs]
    for held in (*got["inputs"].values(), *got["outputs"].values()):
        assert list(held) == ["value", "unit"]
    for item in calculator.inputs:
        held = got["inputs"].get(item.name)
        if held is None:
            assert item.optional
        elif isinstance(item.kind, Choice):
            assert isinstance(held["value"], str)
            assert held["unit"] is None
        elif isinstance(item.kind, Count):
            assert isinstance(held["value"], int)
            assert held["unit"] == ""
    for output in calculator.outputs:
        held = got["outputs"][output.name]
        # An amount without a declared unit keeps the one that was typed for it; a name or a verdict has none.
        assert held["unit"] == output.unit or (output.unit is None and isinstance(held["value"], float))
        if output.unit is not None and held["value"] is not None:
            assert isinstance(held["value"], int | float)
            assert math.isfinite(held["value"])
    for part in ("working", "cautions", "sources"):
        assert all(isinstance(line, str) and line for line in got[part])
    assert got["working"]
    assert got["sources"]


def test_json_is_not_rounded(shopmate):
    _, out, _ = shopmate("calc", "fillet", "length=1 m", "radius=7 mm", "--json")
    assert json.loads(out)["outputs"]["section"]["value"] == pytest.approx((1 - math.pi / 4) * 49, rel=1e-12)


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["fillett"], 2, "did you mean fillet?"),
        (["nothing-like-it"], 2, "shopmate calc"),
        (["fillet", "1 m", "9 mm", "90 °", "10 m"], 2, "one word too many"),
        (["fillet", "length=1 m", "length=2 m"], 2, "given twice"),
        (["fillet", "--jsn"], 2, "--help"),
        (["fillet", "lenght=1 m", "radius=9 mm"], 2, "did you mean length?"),
        (["fillet", "length=1 m"], 1, "radius: nothing entered"),
        (["fillet", "--json"], 1, "radius: nothing entered"),
        (["fillet", "length=1 m", "radius=banana"], 1, "radius: 'banana'"),
        (["fillet", "length=1 m", "radius=9 kg"], 1, "radius: "),
        (["fillet", "length=1 m", "radius=-9 mm"], 1, "radius: "),
        (["fillet", "length=1 m", "radius=1,250 mm"], 1, "radius: "),
        (["fillet", "length=1 m", "radius=9 mm", "angle=179"], 1, "175"),
        (["mix", "ratio=2:1", "total=100 g"], 1, "by volume"),
        (["screw", "size=#6", "head=round", "length=1 in", "holding=Douglas-fir"], 1, "enter one of: "),
        (["fillet", "length=" + "9" * 5000, "radius=9 mm"], 1, "length: "),
        (["fillet", "length=\udcff", "radius=9 mm"], 1, "length: "),
        (["\x00"], 2, "shopmate calc"),
    ],
    ids=lambda value: " ".join(value).encode("ascii", "backslashreplace").decode()[:40] if isinstance(value, list) else None,
)
def test_calc_refuses(shopmate, words, code, says):
    got, out, err = shopmate("calc", *words)
    assert (got, out) == (code, "")
    assert says in err


@pytest.mark.parametrize(
    "words",
    [
        ("cure", "sheet_time=8 h", "sheet_temperature=25 C", "temperature=0 C"),
        ("potlife", "sheet_time=20 min", "sheet_mass=100 g", "sheet_temperature=25 C", "mass=100 g", "temperature=2 C"),
        ("pots", "needed=100 g", "largest=100 g", "use_by=5 min", "pace_mass=10 g", "pace_minutes=30 min"),
        ("strut", "mass=20 kg", "struts=2", "mode=guided", "angle=2"),
    ],
    ids=lambda words: words[0],
)
@pytest.mark.parametrize("form", [(), ("--json",)], ids=["lines", "json"])
def test_an_answer_without_a_figure_has_a_code_of_its_own(shopmate, words, form):
    code, out, _ = shopmate("calc", *words, *form)
    assert code == 4
    assert out


def test_calc_names_every_problem_at_once(shopmate):
    code, out, err = shopmate("calc", "fillet", "lenght=1 m", "radius=9 kg", "angle=300")
    assert (code, out) == (2, "")
    assert {line.removeprefix("shopmate: ").partition(":")[0] for line in err.splitlines()} == {
        "lenght", "length", "radius", "angle",
    }  # fmt: skip


# sheet


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_sheet_of_every_recipe(shopmate, path):
    code, out, err = shopmate("sheet", path.stem)
    assert (code, err) == (0, "")
    assert out.startswith("# ")
    assert out.count("☐ ") >= 5
    assert len(out.splitlines()) <= 130, "two pages of 65 lines"
    assert max(map(len, out.splitlines())) <= 100


def test_sheet_works_out_its_figures(shopmate):
    _, plain, _ = shopmate("sheet", "fillet")
    code, out, _ = shopmate("sheet", "fillet", "length=4.8 m", "radius=12 mm", "--working")
    assert code == 0
    assert "**4.8 m**" in out
    assert "4.8 m" not in plain
    # A square corner leaves (1 - π/4) r²: 30.9 mm² (computed by hand).
    assert "30.9 mm²" in out
    assert "30.9 mm²" not in plain


def test_sheet_in_inch(shopmate):
    code, out, _ = shopmate("sheet", "fillet", "length=16 ft", "radius=1/2 in", "--system", "inch")
    assert code == 0
    assert "1/2 in" in out


def test_sheet_of_a_file(shopmate, tmp_path):
    path = tmp_path / "fillet.yaml"
    path.write_bytes(next(path for path in RECIPES if path.stem == "fillet").read_bytes())
    assert shopmate("sheet", str(path))[:2] == shopmate("sheet", "fillet")[:2]


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ([], 2, "RECIPE"),
        (["filet"], 2, "recipes: "),
        (["../recipes/fillet"], 2, "recipes: "),
        (["missing.yaml"], 1, "missing.yaml:1:1: "),
        (["fillet", "length"], 2, "name=value"),
        (["fillet", "length=banana"], 1, "length: "),
        (["fillet", "width=3 m"], 1, "width: "),
        (["fillet", "--system", "both"], 2, "metric"),
    ],
    ids=lambda value: " ".join(value) or "nothing" if isinstance(value, list) else None,
)
def test_sheet_refuses(shopmate, words, code, says):
    got, out, err = shopmate("sheet", *words)
    assert (got, out) == (code, "")
    assert says in err


# check


def test_check_of_what_is_shipped(shopmate):
    code, out, err = shopmate("check", *map(str, RECIPES))
    assert (code, out) == (0, "")
    assert f"no problems in {len(RECIPES)} files" in err


def test_check_lists_problems_with_their_place(shopmate, tmp_path):
    path = tmp_path / "bad.yaml"
    path.write_text("title: Bad\nstepps: []\nsections: none\n", encoding="utf-8")
    code, out, err = shopmate("check", str(RECIPES[0]), str(path))
    assert code == 1
    lines = out.splitlines()
    assert len(lines) > 1
    for line in lines:
        assert re.fullmatch(rf"{re.escape(str(path))}:\d+:\d+: .+; .+", line)
    assert any(":2:1: " in line for line in lines)
    assert f"{len(lines)} problems in 2 files" in err


def test_check_only_notes_what_is_a_matter_of_style(shopmate):
    path = OTHER_STYLE
    code, out, err = shopmate("check", str(path))
    assert (code, out) == (0, "")
    notes = err.splitlines()[:-1]
    assert len(notes) > 5
    for line in notes:
        assert re.fullmatch(rf"note: {re.escape(str(path))}:\d+:\d+: .+; .+", line)
    assert "no problems in 1 file" in err


def test_check_of_a_shelf(shopmate, tmp_path):
    path = tmp_path / "shelf.yaml"
    path.write_text("materials: no\n", encoding="utf-8")
    code, out, _ = shopmate("check", str(path))
    assert code == 1
    assert f"{path}:1:" in out


@pytest.mark.parametrize("content", [b"", b"\xff\xfe", b"\x00\x01", b"[" * 5000, b"- &a [*a]\n", b"? :", b"{" * 70_000])
def test_check_of_what_is_no_recipe(shopmate, tmp_path, content):
    path = tmp_path / "odd.yaml"
    path.write_bytes(content)
    code, out, _ = shopmate("check", str(path))
    assert code == 1
    assert re.match(rf"{re.escape(str(path))}:\d+:\d+: .+; .+", out)


def test_check_of_what_cannot_be_read(shopmate, tmp_path):
    code, out, err = shopmate("check", str(tmp_path / "missing.yaml"), str(tmp_path))
    assert code == 1
    assert len(out.splitlines()) == 2
    assert "2 problems in 2 files" in err


def test_check_of_nothing(shopmate):
    code, out, err = shopmate("check")
    assert (code, out) == (2, "")
    assert "FILE" in err


# log and clocks


def test_log_in_every_form(shopmate):
    path = project("Hide")
    code, markdown, err = shopmate("log", "hide")
    assert (code, err) == (0, "")
    assert markdown.startswith("# Log of Hide\n")
    assert "Part Panel 1" in markdown
    _, table, _ = shopmate("log", str(path), "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(table)))
    _, text, _ = shopmate("log", "Hide", "--format", "json")
    events = json.loads(text)["events"]
    assert [row["event"] for row in rows] == [str(event["id"]) for event in events] == ["1", "2", "3"]
    assert [event["kind"] for event in events] == ["project", "part", "clock"]
    assert datetime.fromisoformat(events[0]["at"]) == LONG_AGO


def test_log_changes_nothing(shopmate):
    path = project("Hide")
    before = path.read_bytes()
    assert shopmate("log", "hide")[0] == shopmate("clocks", "hide")[0] == 0
    assert path.read_bytes() == before
    assert [item.name for item in path.parent.iterdir()] == [path.name]


def test_clocks_of_the_last_project(shopmate):
    project("Other")
    project("Hide")
    os.utime(session.project_path("Other"), (0, 0))
    code, out, err = shopmate("clocks", now=lambda: LONG_AGO + timedelta(minutes=10))
    assert (code, err) == (0, "")
    due = f"{LONG_AGO + timedelta(minutes=30):%H:%M}" if os.environ.get("TZ") == "UTC" else r"[\w: ]+"
    assert re.fullmatch(rf"Soak: NOT BEFORE {due}, 20 min left, running\. Check the job\.\n", out)
    _, out, _ = shopmate("clocks", "hide", now=lambda: LONG_AGO + timedelta(minutes=31))
    assert "DUE" in out


def test_clocks_when_none_runs(shopmate):
    session.Session.create(session.project_path("Hide"), "Hide", LONG_AGO, {}).close()
    code, out, err = shopmate("clocks")
    assert (code, out) == (0, "")
    assert "no clock is running in hide" in err


def test_clocks_without_a_project(shopmate, home):
    code, out, err = shopmate("clocks")
    assert (code, out) == (2, "")
    assert "no project yet" in err
    assert not home.exists()


@pytest.mark.parametrize("command", ["log", "clocks"])
def test_unknown_project(shopmate, command):
    assert "none yet" in shopmate(command, "shed")[2]
    project("Hide")
    code, out, err = shopmate(command, "shed")
    assert (code, out) == (2, "")
    assert "'shed'" in err
    assert "hide" in err


def foreign_database(path):
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE thing (id)")
    connection.close()


@pytest.mark.parametrize("command", ["log", "clocks"])
@pytest.mark.parametrize(
    "make",
    [lambda path: path.write_text("not a project\n" * 100), lambda path: path.write_bytes(b""), foreign_database],
    ids=["text", "empty", "database of something else"],
)
def test_a_file_that_is_no_project(shopmate, tmp_path, command, make):
    path = tmp_path / f"odd{SUFFIX}"
    make(path)
    before = path.read_bytes()
    code, out, err = shopmate(command, str(path))
    assert (code, out) == (1, "")
    assert str(path) in err
    assert path.read_bytes() == before


# where, the bench, the whole command


def test_where_and_the_variable_that_moves_it_all(shopmate, home):
    code, out, err = shopmate("where")
    assert (code, err) == (0, "")
    places = dict(line.rsplit(maxsplit=1) for line in out.splitlines())
    shipped = places.pop("shipped recipes")
    assert Path(shipped).samefile(RECIPES[0].parent)
    assert all(Path(place).is_relative_to(home) for place in places.values())
    assert not home.exists()


@pytest.mark.parametrize("words", [["where"], ["log", "hide"], ["demo", "--plain"], ["--plain"]], ids=" ".join)
def test_the_home_of_nobody_is_named(shopmate, monkeypatch, words):
    monkeypatch.setenv(paths.HOME_VARIABLE, "~nobody-9/x")
    code, _, err = shopmate(*words)
    assert code == 2
    assert "SHOPMATE_HOME is '~nobody-9/x': no such user has a home here; give the path of a folder" in err


def test_without_the_variable_the_system_says_where(shopmate, monkeypatch, tmp_path):
    monkeypatch.delenv(paths.HOME_VARIABLE)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    _, out, _ = shopmate("where")
    assert f"home             {tmp_path}" in out


def test_a_keyboard_is_measured_at_a_terminal_only(home, shopmate, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 40))
    code, out, err = shopmate("keys")
    assert (code, out) == (2, "")
    assert "needs a terminal" in err
    assert not (home / "settings.json").exists()


@pytest.mark.parametrize("words", [[], ["--plain"]], ids=lambda words: " ".join(words) or "bench")
def test_without_a_terminal_the_bench_is_in_lines(home, words):
    done = started(*words)
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 New project\n2 Demo" in done.stdout
    assert done.stdout.endswith("Closed. Everything is recorded.\n")
    assert not home.exists()


@pytest.mark.parametrize("words", [["demo"], ["demo", "--plain"], ["--plain", "demo"], ["demo", "--fresh"]], ids=" ".join)
def test_the_demo_in_lines_says_where_it_was_left(words):
    done = started(*words, stdin=None, input="1\n+\nleave\n2\n")
    assert (done.returncode, done.stderr) == (0, "")
    assert "YOU WERE HERE" in done.stdout
    assert "Seal coat pot" in done.stdout


def test_the_bench_needs_an_input():
    done = started(stdin=None, preexec_fn=lambda: os.close(0))
    assert (done.returncode, done.stdout) == (2, "")
    assert "needs an input and an output" in done.stderr


def test_a_signal_in_lines_ends_with_130_and_loses_nothing(home):
    bench = subprocess.Popen(
        [sys.executable, "-m", "shopmate"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert bench.stdin is not None
    assert bench.stdout is not None
    bench.stdin.write(b"1\n\n1\n")
    bench.stdin.flush()
    said = b""
    while b"What next?" not in said or not said.endswith(b"\n> "):
        said += bench.stdout.read1()
    bench.send_signal(signal.SIGINT)
    _, err = bench.communicate(timeout=60)
    assert bench.returncode == cli.INTERRUPTED
    assert b"what was recorded is safe" in err
    assert [event.kind for event in session.events_of(session.project_path("Project 1"))] == ["project"]


@pytest.mark.parametrize("words", [["bogus"], ["where", "extra"], ["--bogus"], ["demo", "extra"], ["log"]], ids=" ".join)
def test_wrong_words(shopmate, words):
    code, out, err = shopmate(*words)
    assert (code, out) == (2, "")
    assert re.fullmatch(r"shopmate: .+; see 'shopmate.* --help'\n", err)


def test_version_and_help(capsys):
    for words, wanted in (
        (["--version"], f"shopmate {__version__}\n"),
        (["--help"], "usage: shopmate "),
        (["calc", "-h"], "NAME"),
    ):
        with pytest.raises(SystemExit) as left:
            cli.main(words)
        out, err = capsys.readouterr()
        assert (left.value.code, err) == (0, "")
        assert wanted in out


# Trouble


def test_a_home_that_cannot_be_written(shopmate, monkeypatch, tmp_path):
    """A file stands where the folder should be: refused for every user, even one to whom no right is denied."""
    (tmp_path / "file").touch()
    monkeypatch.setenv(paths.HOME_VARIABLE, str(tmp_path / "file" / "home"))
    assert shopmate("calc", "fillet", "length=1 m", "radius=9 mm")[0] == 0
    assert shopmate("sheet", "fillet")[0] == 0
    assert shopmate("where")[0] == 0
    assert shopmate("clocks")[0] == 2
    code, out, err = shopmate("demo")
    assert (code, out) == (1, "")
    assert "could not be written" in err


def break_it(monkeypatch, error):
    def fail(*_):
        raise error

    monkeypatch.setattr(calc, "run", fail)


def test_a_fault_of_ours_leaves_a_report(shopmate, monkeypatch, home):
    break_it(monkeypatch, ZeroDivisionError("a slip"))
    code, out, err = shopmate("calc", "fillet", "length=1 m", "radius=9 mm")
    assert (code, out) == (3, "")
    assert "internal error" in err
    (report,) = (home / "reports").iterdir()
    assert str(report) in err
    text = report.read_text(encoding="utf-8")
    assert "ZeroDivisionError: a slip" in text
    assert __version__ in text


def test_a_fault_of_ours_without_a_place_for_the_report(capsys, monkeypatch, tmp_path):
    (tmp_path / "file").touch()
    monkeypatch.setenv(paths.HOME_VARIABLE, str(tmp_path / "file" / "home"))
    break_it(monkeypatch, ZeroDivisionError("a slip"))
    assert cli.main(["calc", "fillet", "length=1 m", "radius=9 mm"]) == 3
    assert "ZeroDivisionError: a slip" in capsys.readouterr().err


def test_interrupted(shopmate, monkeypatch, home):
    break_it(monkeypatch, KeyboardInterrupt)
    code, out, err = shopmate("calc", "fillet", "length=1 m", "radius=9 mm")
    assert (code, out) == (130, "")
    assert "interrupted" in err
    assert not home.exists()


WAITING = """
import signal, sys
from shopmate import calc, cli
def run(*_):
    print("ready", flush=True)
    signal.pause()
calc.run = run
sys.exit(cli.main(["calc", "fillet", "length=1 m"]))
"""


def test_interrupted_by_a_signal():
    command = [sys.executable, "-c", WAITING]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout.readline() == "ready\n"
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert re.fullmatch("shopmate: interrupted; .*\n", err)


@pytest.mark.parametrize("words", [["where"], ["calc"], ["sheet", "fillet"], ["--help"]], ids=" ".join)
def test_a_reader_that_leaves(words):
    read, write = os.pipe()
    os.close(read)
    done = started(*words, capture_output=False, stdout=write, stderr=subprocess.PIPE)
    os.close(write)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize(
    "words",
    [["where"], ["--help"], ["calc", "--help"], ["--version"], ["calc"], ["table"], ["words"], ["sheet", "fillet"]],
    ids=" ".join,
)
def test_output_that_cannot_be_written(home, words):
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = started(*words, capture_output=False, stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == 1
    assert re.fullmatch(r"shopmate: .*; free the disk.*\n", done.stderr)
    assert not home.exists()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize(("words", "code"), [(["nope"], 2), (["calc", "drill", "diameter=0 mm"], 1)])
def test_the_exit_code_says_what_words_cannot(words, code):
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = started(*words, capture_output=False, stdout=subprocess.PIPE, stderr=full)
    assert (done.returncode, done.stdout) == (code, "")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-8"])
def test_every_sign_can_be_printed(encoding):
    project("Hide")
    environment = os.environ | {"LC_ALL": "C", "PYTHONIOENCODING": encoding}
    for words in (
        ["calc", "fillet", "length=1 m", "radius=9 mm"],
        ["calc", "fillet", "length=\udcff", "radius=ψ½"],
        MIX,
        ["calc", "screw"],
        ["sheet", "fillet"],
        ["clocks"],
        ["log", "hide"],
    ):
        done = started(*words, env=environment, encoding=encoding)
        assert "internal error" not in done.stderr
        assert "Traceback" not in done.stderr
        assert not re.search(r"\?(?![\s*])|(?<=\s)\?", done.stdout), "a sign without a spelling; a question ends in one"
    assert done.stdout


def test_figures_keep_their_meaning_in_ascii():
    done = started(
        "calc", "fillet", "length=1 m", "radius=10 mm", env=os.environ | {"PYTHONIOENCODING": "ascii"}, encoding="ascii"
    )
    assert "section = 21.5 mm^2  (" in done.stdout
    assert "= 10^2 x 0.2146 = " in done.stdout
    assert signs.spelled(UnicodeEncodeError("ascii", "1½″ ± ∮", 1, 7, "")) == (' 1/2" +/- ?', 7)


@pytest.mark.parametrize("words", [["log"], ["clocks"], ["sheet"], ["mend"]], ids=" ".join)
def test_a_name_that_no_file_can_have_is_one_that_is_not_there(shopmate, words):
    code, out, err = shopmate(*words, "x" * 3000)
    assert (code, out) == (cli.USAGE, "")
    assert re.match(r"shopmate: there is no (project|recipe) 'x", err)


def test_a_log_that_someone_holds_open_is_read(shopmate):
    path = project("Hide")
    with Log(path) as log:
        log.append("part", {"name": "Panel 2"}, LONG_AGO)
        assert "Panel 2" in shopmate("log", "hide")[1]


# pictures and tables


FILLET = ("calc", "fillet", "length=1 m", "radius=12 mm", "--picture")


def test_a_picture_is_drawn_under_the_result_with_its_words(shopmate, monkeypatch):
    monkeypatch.setenv("COLUMNS", "72")
    monkeypatch.setenv("LINES", "30")
    code, out, _ = shopmate(*FILLET)
    assert code == 0
    result, _, drawn = out.partition("\npicture:\n")
    assert "section = " in result
    assert "▒ thickened mix" in drawn
    assert max(map(len, drawn.splitlines())) <= 72
    assert " ".join(drawn.split()).endswith("of mix over the corner.")


def test_a_picture_goes_without_colour_or_signs_where_the_terminal_has_none():
    done = started(*FILLET, env=os.environ | {"PYTHONIOENCODING": "ascii"}, encoding="ascii")
    drawn = done.stdout.partition("\npicture:\n")[2]
    assert "% thickened mix" in drawn
    assert "?" not in drawn
    assert "\x1b" not in drawn


def test_a_result_without_a_picture_is_said_to_have_none(shopmate):
    code, out, err = shopmate("calc", "drill", "diameter=4 mm", "--picture")
    assert code == 0
    assert "picture:" not in out
    assert "there is no picture of this result of drill" in err


def test_a_picture_is_no_part_of_json(shopmate):
    code, out, err = shopmate(*FILLET, "--json")
    assert (code, out) == (cli.USAGE, "")
    assert "--json prints one object and no picture" in err


def test_table_lists_every_table(shopmate):
    code, out, err = shopmate("table")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == list(tables.names())
    assert all(tables.load(line.split()[0]).title in line for line in out.splitlines())


@pytest.mark.parametrize("name", tables.names())
def test_table_prints_every_cell_and_source_as_markdown(shopmate, name):
    code, out, err = shopmate("table", name)
    assert (code, err) == (0, "")
    table = tables.load(name)
    lines = out.splitlines()
    assert lines[0] == f"# {table.title}"
    body = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines if line.startswith("| ")]
    assert body[0] == [tables.heading(column) for column in table.columns]
    assert set(body[1]) == {cell for cell in body[1] if not cell.strip("-")}
    assert body[2:] == [list(row.values()) for row in table.rows]
    assert len({len(line) for line in lines if line.startswith("| ")}) == 1
    assert lines[-len(table.sources) :] == [f"- {key}: {source}" for key, source in table.sources.items()]


@pytest.mark.parametrize("name", tables.names())
def test_table_as_csv_has_the_sources_written_out(shopmate, name):
    code, out, err = shopmate("table", name, "--csv")
    assert (code, err) == (0, "")
    table = tables.load(name)
    rows = list(csv.DictReader(io.StringIO(out)))
    assert rows == [{**row, "source": table.source_of(row)} for row in table.rows]


@pytest.mark.parametrize(
    ("words", "said"),
    [(["table", "screws"], "there is no table 'screws'; tables: "), (["table", "--csv"], "name it: shopmate table")],
)
def test_table_says_what_is_wrong(shopmate, words, said):
    code, out, err = shopmate(*words)
    assert (code, out) == (cli.USAGE, "")
    assert said in err


@pytest.mark.parametrize("name", tables.names())
def test_table_fits_the_terminal_it_is_printed_on(shopmate, monkeypatch, name):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "60")
    out = shopmate("table", name)[1]
    body, _, sources = out.partition("\nSources:\n")
    assert all(len(line) <= 60 for line in body.splitlines()[1:])
    assert sources
