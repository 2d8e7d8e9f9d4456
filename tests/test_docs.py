"""README.md, DEVELOPERS.md and the guide: what is generated is fresh, commands run, examples work, links lead somewhere."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import docs
import pytest

from shopmate import guide
from shopmate.cli import parser as words

ROOT = Path(__file__).parent.parent
GUIDE = [f"shopmate/guide/{name}.md" for name in guide.names()]
PAGES = {name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md", *GUIDE)}

SHELL = [
    (name, line)
    for name, page in PAGES.items()
    for block in re.findall(r"^```sh\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    for line in block.splitlines()
]
COMMANDS = [line for _, line in SHELL if line.startswith("shopmate")] + re.findall(
    r"`(shopmate (?:calc|sheet|check|where) [^`\n]*\")`", PAGES["shopmate/guide/commands.md"]
)
EXAMPLES = dict(re.findall(r"^<!-- example: (\S+) -->\n```\w+\n(.*?)^```$", PAGES["DEVELOPERS.md"], re.MULTILINE | re.DOTALL))


def run(*words, cwd=ROOT, **more):
    environment = os.environ | {"PYTHONPATH": str(cwd)} | more
    return subprocess.run(words, cwd=cwd, env=environment, capture_output=True, encoding="utf-8", check=False)


def test_generated_parts_are_fresh():
    assert set(docs.PARTS) <= set(PAGES)
    for page in docs.PARTS:
        assert docs.renewed(page, PAGES[page]) == PAGES[page], "run: python tests/docs.py --write"


def test_every_command_has_help():
    assert set(docs.commands()) == {
        "demo",
        "guide",
        "calc",
        "sheet",
        "check",
        "schema",
        "new-recipe",
        "table",
        "log",
        "clocks",
        "keys",
        "copy",
        "mend",
        "where",
        "words",
    }
    for name, parser in docs.commands().items():
        assert parser.description, name
        assert f"`shopmate {name}" in docs.command_reference()
        for action in parser._actions:
            assert action.help, f"{name} {action.dest}"
    listed = words.parser().format_help()
    assert all(re.search(rf"^ +{name}\s+\w", listed, re.MULTILINE) for name in docs.commands())


@pytest.mark.parametrize("line", COMMANDS)
def test_a_command_of_the_pages_runs(tmp_path, line):
    words = shlex.split(line)
    assert words[0] == "shopmate"
    done = run(sys.executable, "-m", "shopmate", *words[1:], SHOPMATE_HOME=str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert done.stdout


@pytest.mark.parametrize("name", GUIDE)
def test_a_command_that_the_guide_names_is_one(name):
    """What has a word to fill in (PROJECT, NAME) is not run; it is still read."""
    fenced = re.findall(r"^(shopmate .*?)(?: > .*)?$", PAGES[name], re.MULTILINE)
    inline = re.findall(r"`(shopmate [^`\[]+)`(?!\*\*)", PAGES[name])
    for line in fenced + inline:
        arguments = words.parser().parse_args(shlex.split(line)[1:])
        assert arguments.command or arguments.plain, line


def test_commands_to_install_name_what_there_is():
    import tomllib

    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    (start, tests) = [line for _, line in SHELL if line.startswith("python3 -m venv")]
    assert start.endswith("/shopmate")
    assert set(settings["project"]["scripts"]) == {"shopmate"}
    assert set(re.findall(r"\.\[(\w+)\]", tests)) <= set(settings["project"]["optional-dependencies"])
    assert "'^python3 -m venv .*/pytest -n 3$'" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_links_lead_somewhere(name):
    for link in links(name):
        assert (ROOT / name).parent.joinpath(link).is_file(), link


def links(name):
    return re.findall(r"\]\(([^)]+)\)", PAGES[name])


def test_the_readme_leads_to_each_topic_of_the_guide():
    assert set(GUIDE) < set(links("README.md"))


MOST_LINES, MOST_WORDS = 160, 800
"""Lines of the README outside generated parts, and words before its changelog: read in three minutes."""


def test_the_readme_is_read_in_three_minutes():
    own = re.sub(r"<!-- generated: (\S+) -->.*?<!-- end of \1 -->\n", "", PAGES["README.md"], flags=re.DOTALL)
    assert len(own.splitlines()) <= MOST_LINES
    read, changelog, _ = own.partition("\n## Changelog\n")
    assert changelog
    assert len(read.split()) <= MOST_WORDS


def test_no_sentence_stands_in_the_readme_and_in_the_guide():
    told = {page: sentences(PAGES[page]) for page in ("README.md", *GUIDE)}
    assert len(told["README.md"]) > 30
    for topic in GUIDE:
        assert not told["README.md"] & told[topic], topic


def sentences(text):
    """Return the sentences of a page that are long enough to say something by themselves."""
    text = re.sub(r"^```.*?^```$|^<!--.*?-->$", "", text, flags=re.MULTILINE | re.DOTALL)
    found = (" ".join(sentence.split()).strip("-*` ") for sentence in re.split(r"(?<=[.:;])\s+|\n\n|\n- ", text))
    return {sentence for sentence in found if len(sentence.split()) >= 4}


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_files_named_are_there(name):
    named = re.findall(r"(?<![\w/])((?:\.ci|tests|shopmate|tui|screenshots)/[\w./-]+\w)(?![\w.]*[*<N])", PAGES[name])
    named = [path for path in named if "NAME" not in path and path not in EXAMPLES]
    assert named
    for path in named:
        assert (ROOT / path).exists() or (ROOT / "shopmate" / path).exists(), path


OF_EVERY_CALCULATOR = ("test_calc", "test_look_up", "test_sources", "test_sweep", "test_thresholds", "test_said_figures")
"""The files that test each calculator by its name."""


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A copy of the program with the examples of DEVELOPERS.md put in."""
    folder = tmp_path_factory.mktemp("house")
    for name in ("shopmate", "recipes", "tests"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, folder)
    for path, text in EXAMPLES.items():
        assert not (folder / path).exists()
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def test_the_example_calculator_is_found_and_right(house):
    listed = run(sys.executable, "-m", "shopmate", "calc", cwd=house)
    assert "strip" in listed.stdout, listed.stderr
    named, bare = re.findall(r"`shopmate (calc strip [^`]*)`", PAGES["DEVELOPERS.md"])
    for line in (named, bare):
        done = run(sys.executable, "-m", "shopmate", *shlex.split(line), cwd=house)
        # 8 ft is 2438.4 mm.
        assert "left = 435.4 mm" in done.stdout, done.stderr
    code = "from shopmate import calc; c = calc.find('strip'); print(*(e.holds(n, float(calc.run('strip', e.inputs).outputs[n].value)) for e in c.examples for n in e.outputs))"  # noqa: E501
    assert run(sys.executable, "-c", code, cwd=house).stdout.split() == ["True", "True"]


def test_the_example_calculator_goes_through_the_tests_of_every_calculator(house):
    written = run(sys.executable, "tests/docs.py", "--write", cwd=house)
    assert written.returncode == 0, written.stderr
    tests = [f"tests/{name}.py" for name in OF_EVERY_CALCULATOR]
    fresh = "tests/test_docs.py::test_generated_parts_are_fresh"
    words = ("-m", "pytest", "-p", "no:cacheprovider", "-vv", "-k", "strip or fresh", *tests, "tests/calc/test_strip.py", fresh)
    done = run(sys.executable, *words, cwd=house)
    assert done.returncode == 0, done.stdout
    for test in (*tests, "tests/calc/test_strip.py", fresh):
        assert re.search(rf"^{test}.* PASSED", done.stdout, re.MULTILINE), test


def test_the_example_recipe_has_no_problem(house):
    done = run(sys.executable, "-m", "shopmate", "check", "recipes/square-cut.yaml", cwd=house)
    assert done.returncode == 0, done.stdout
    done = run(sys.executable, "-m", "shopmate", "sheet", "square-cut", "length=25 cm", "--working", cwd=house)
    assert "250 mm from the squared end." in done.stdout, done.stderr
    assert "Piece 1 of 2. No nail, no staple, no split." in done.stdout
    assert "2 times, once each piece." in done.stdout


def test_the_example_table_is_found(house):
    code = "from shopmate import tables; t = tables.load('saws'); print(t.source_of(t.row('saw', 'hand saw')))"
    assert run(sys.executable, "-c", code, cwd=house).stdout.endswith("measure your own [common practice]\n")


SCREEN = """
import asyncio
from shopmate.tui.screens.about import AboutScreen
from shopmate.tui.stage import Stage
class Bare(Stage):
    def on_mount(self):
        self.push_screen(AboutScreen(), lambda _: self.exit(7))
async def main():
    app = Bare()
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.press("e", "enter")
    print(app.return_value)
asyncio.run(main())
"""


def test_the_example_screen_answers_its_key(house):
    done = run(sys.executable, "-c", SCREEN, cwd=house)
    assert done.stdout == "7\n", done.stderr


DIALOGUE = """
from held import Held, Place
from shopmate.dialogue.part import add
desk = Place().begin()
held = Held(add(desk), "Long roof")
print(held.said, Held(add(desk), None).said, *desk.session.project.parts)
"""


def test_the_example_dialogue_is_held_without_a_face(house, tmp_path):
    paths = os.pathsep.join(map(str, (house, house / "tests")))
    done = run(sys.executable, "-c", DIALOGUE, cwd=house, PYTHONPATH=paths, SHOPMATE_HOME=str(tmp_path))
    assert done.stdout == "['Long roof'] [] Long roof\n", done.stderr


def test_the_examples_keep_the_rules_of_the_house(house):
    tools = Path(sys.executable).parent
    for command in (["ruff", "check", "."], ["ruff", "format", "--check", "."], ["lint-imports", "--no-cache"]):
        done = run(tools / command[0], *command[1:], cwd=house)
        assert done.returncode == 0, done.stdout
