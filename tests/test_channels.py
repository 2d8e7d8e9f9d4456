"""The ways out of the screen for an alarm: the user's command, run for real, and the terminal's notification."""

import os
import select
import sys

import pytest

from shopmate.channels import notification, run_command

WORDS = 'NOW · Pot "life" +3:00; $HOME `x` · Spread it'


def test_a_command_gets_the_words_as_they_are_and_the_environment(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCH_SPEAKER", "left")
    note = tmp_path / "note"
    script = "import os, sys; open(sys.argv[1], 'w').write('|'.join([*sys.argv[2:], os.environ['BENCH_SPEAKER']]))"
    assert run_command([sys.executable, "-c", script, str(note), "say: {words}", "; exit 1"], WORDS) == ""
    assert note.read_text() == f"say: {WORDS}|; exit 1|left"


def test_control_characters_do_not_reach_a_command(tmp_path):
    note = tmp_path / "note"
    script = "import sys; open(sys.argv[1], 'w').write(sys.argv[2])"
    assert run_command([sys.executable, "-c", script, str(note), "{words}"], "a\x1b]0;b\x07\x00\nc") == ""
    assert note.read_text() == "a[U+001B]]0;b[U+0007][U+0000] c"


def test_each_failure_says_why(tmp_path):
    plain = tmp_path / "plain"
    plain.write_text("no program")
    assert run_command([str(tmp_path / "gone")], WORDS) == f"{tmp_path / 'gone'} was not found"
    assert run_command([str(plain)], WORDS) == f"no permission to run {plain}"
    assert run_command([sys.executable, "-c", "raise SystemExit(3)"], WORDS) == f"{sys.executable} ended with exit code 3"
    plain.chmod(0o755)
    assert run_command([str(plain)], WORDS).startswith(f"{plain} cannot be run: ")


def test_what_takes_too_long_is_ended_with_all_it_started(tmp_path):
    """The shell and what it starts hold a pipe open: its end is read once both are gone."""
    held, never = tmp_path / "held", tmp_path / "never"
    os.mkfifo(held)
    os.mkfifo(never)
    reader = os.open(held, os.O_RDONLY | os.O_NONBLOCK)
    script = 'exec 3>"$0"; echo ready >&3; cat "$1" & cat "$1"'  # nobody writes into the second pipe
    said = run_command(["/bin/sh", "-c", script, str(held), str(never)], WORDS, limit=1.0)
    assert said == "/bin/sh took more than 1 s"
    os.set_blocking(reader, True)
    assert os.read(reader, 100) == b"ready\n"
    assert select.select([reader], [], [], 5)[0], "something still holds the pipe"
    assert os.read(reader, 1) == b""
    os.close(reader)


@pytest.mark.parametrize(
    ("in_multiplexer", "sequence"),
    [(False, "\x1b]9;NOW · Pot\x07"), (True, "\x1bPtmux;\x1b\x1b]9;NOW · Pot\x07\x1b\\")],
)
def test_a_notification_is_wrapped_in_a_multiplexer(in_multiplexer, sequence):
    assert notification("NOW · Pot", in_multiplexer) == sequence


def test_words_cannot_end_a_notification_early():
    sequence = notification("a\x07b\x1b\\c\x9cd\ne" + "x" * 500, False)
    assert sequence.startswith("\x1b]9;a[U+0007]b[U+001B]\\c[U+009C]d e")
    assert sum(not sign.isprintable() for sign in sequence) == 2
    assert len(sequence) < 220
