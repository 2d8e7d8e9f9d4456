"""The installed program in lines: a bond through a pipe from nothing to its end, and a terminal that can do nothing else."""

from __future__ import annotations

import re
import signal
import subprocess
from pathlib import Path

import pexpect
import pytest
from plain_talk import NEW_PROJECT, PROMPT, Answering

from shopmate import recipe as recipes
from terminal.builder import deeds, log
from terminal.screen import environment
from terminal.test_bonding import ANSWERS, RECIPE, check_values

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]


def test_a_whole_bond_through_a_pipe_is_recorded_as_it_was_sent(installed: Path, home: Path) -> None:
    home.mkdir()
    answering = Answering(ANSWERS, recipes.load(RECIPE), *NEW_PROJECT, "3", "3", "Bond a bar or a skin", "")
    with subprocess.Popen(
        [installed], env=environment(home), cwd=home, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
    ) as bench:
        assert bench.stdin is not None
        assert bench.stdout is not None
        heard = ""
        while True:
            part = ""
            while not part.endswith(PROMPT):
                sign = bench.stdout.read(1)
                assert sign, f"the program ended after\n{heard}{part}"
                part += sign
            heard += part
            line = answering(part)
            if line is None:
                break
            bench.stdin.write(f"{line}\n")
            bench.stdin.flush()
        bench.stdin.close()
        heard += bench.stdout.read()
    assert bench.returncode == 0
    assert "FINISHED: Recipe complete.\n" in heard
    assert heard.endswith("Closed. Everything is recorded.\n")
    assert "\x1b" not in heard
    assert max(map(len, heard.splitlines())) <= 80

    exported = log([str(installed)], home, "json")
    began = [("project", "", "Project 1"), ("part", "", "Bar 1"), ("run", "", "Bar 1")]
    assert deeds(exported) == began + answering.did
    check_values(exported)

    # The lines that were sent, all at once from a file, leave the same record.
    again = home / "again"
    again.mkdir()
    sent = "\n".join(answering.typed) + "\n"
    done = subprocess.run(
        [installed], env=environment(again), cwd=home, input=sent, check=True, capture_output=True, timeout=120, encoding="utf-8"
    )
    assert "FINISHED: Recipe complete.\n" in done.stdout
    assert deeds(log([str(installed)], again, "json")) == deeds(exported)


def test_a_dumb_terminal_gets_lines_without_any_control(installed: Path, home: Path) -> None:
    home.mkdir()
    bench = pexpect.spawn(
        str(installed),
        ["demo"],
        env=environment(home, TERM="dumb"),
        cwd=str(home),
        dimensions=(24, 80),
        encoding="utf-8",
        timeout=20,
    )
    bench.expect(PROMPT.strip())
    heard = bench.before or ""
    bench.sendline("1")  # what the demo says first is left for its step
    bench.expect(PROMPT.strip())
    heard += bench.before or ""
    bench.sendline("help")
    bench.expect("Everything is recorded as it is done")
    bench.expect(PROMPT.strip())
    bench.kill(signal.SIGINT)
    bench.expect(pexpect.EOF)
    heard += bench.before or ""
    bench.close()
    assert bench.exitstatus == 130
    assert "YOU WERE HERE" in heard
    assert "\a" in heard
    assert "SOUND NOT TESTED" in heard
    # The bell, which moves nothing, is all there is besides text.
    assert not re.search(r"[\x00-\x09\x0b\x0c\x0e-\x1f]", heard.replace("^C", "").replace("\a", ""))
