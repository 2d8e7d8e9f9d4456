"""Keeping the computer awake: asked once, released, refused; a real child ends with its parent however that ends."""

import subprocess
import sys

import pytest

from shopmate import awake
from shopmate.awake import Awake


class Child:
    """A program that runs until it is told to end."""

    stdin = None

    def __init__(self) -> None:
        self.code = None

    def poll(self):
        return self.code

    def terminate(self) -> None:
        self.code = -15

    def wait(self) -> int:
        return self.code


@pytest.fixture
def started():
    return []


@pytest.fixture
def start(started):
    def start(words):
        started.append((list(words), Child()))
        return started[-1][1]

    return start


def test_it_is_asked_once_until_it_is_let_go(started, start):
    keep = Awake(["inhibit", "cat"], start)
    for _ in range(3):
        keep.ask()
    assert [words for words, _ in started] == [["inhibit", "cat"]]
    assert not keep.refused
    keep.release()
    keep.release()
    assert started[0][1].code == -15
    keep.ask()
    assert len(started) == 2


def test_a_child_that_ends_by_itself_is_a_refusal_and_is_not_asked_again(started, start):
    keep = Awake(["inhibit", "cat"], start)
    keep.ask()
    started[0][1].code = 1
    for _ in range(3):
        keep.ask()
    assert keep.refused
    assert len(started) == 1


def test_no_program_or_one_that_cannot_be_started_is_a_refusal(tmp_path):
    assert Awake(None).refused
    keep = Awake([str(tmp_path / "none")])
    assert not keep.refused
    keep.ask()
    assert keep.refused


@pytest.mark.parametrize(
    ("system", "words"),
    [
        ("linux", ["systemd-inhibit", "--what=idle:sleep", "--who=shopmate", None, "--mode=block", "cat"]),
        ("darwin", ["caffeinate", "-i", "cat"]),
        ("win32", None),
    ],
)
def test_the_program_of_each_system(monkeypatch, system, words):
    monkeypatch.setattr(sys, "platform", system)
    monkeypatch.setattr(awake.shutil, "which", lambda name: f"/usr/bin/{name}")
    found = awake.command()
    if words is None:
        assert found is None
        return
    assert [word for word, known in zip(found, words, strict=True) if known is not None and word != known] == []
    monkeypatch.setattr(awake.shutil, "which", lambda name: None)
    assert awake.command() is None


READS = [sys.executable, "-c", "import sys; sys.stdin.read(); print('ended')"]

PARENT = f"""
import subprocess, sys
from shopmate.awake import Awake, start
def speaking(words):
    # Its output is ours, so that whoever reads it learns when the child has ended: it is closed by then.
    return subprocess.Popen(words, stdin=subprocess.PIPE, start_new_session=True)
keep = Awake({READS!r}, speaking)
keep.ask()
print("asked", flush=True)
sys.stdin.read()
"""


def test_the_child_ends_with_a_parent_that_is_killed():
    with subprocess.Popen([sys.executable, "-c", PARENT], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout.readline() == "asked\n"
        parent.kill()
        # The end of the output comes when the last that holds it, the child, has ended.
        assert parent.stdout.read() == "ended\n"


def test_a_real_child_is_ended_by_letting_go():
    keep = Awake(READS)
    keep.ask()
    child = keep._child
    assert child.poll() is None
    keep.release()
    assert child.returncode is not None
    assert not keep.refused
