"""The command line: results on stdout, words about them on stderr, exit codes 0 to 4, 130, and 128 + n by a signal."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from importlib import import_module
from typing import TextIO

from shopmate.cli import bench
from shopmate.cli.signs import spell_out, visible_output
from shopmate.errors import FileProblems, ShopmateError, UsageError

DONE, PROBLEMS, USAGE, FAULT, NO_FIGURE, INTERRUPTED = 0, 1, 2, 3, 4, 130


def read_time() -> datetime:
    """Return the time now, aware, in UTC."""
    return datetime.now(UTC)


def main(words: Sequence[str] | None = None, now: Callable[[], datetime] = read_time) -> int:
    """Run the command `words` (by default those of the process) and return its exit code."""
    spell_out()
    try:
        with visible_output():
            return _main(sys.argv[1:] if words is None else words, now)
    finally:
        _drop_unsaid()


def _main(words: Sequence[str], now: Callable[[], datetime]) -> int:
    """Run the command `words` and return its exit code, whatever happens."""
    # Nothing that a start makes is garbage yet, and looking for it took a tenth of the time; a bench turns it on again.
    gc.disable()
    try:
        try:
            return _run(words, now)
        finally:
            if sys.stdout is not None:  # as when it was closed before we began
                sys.stdout.flush()  # what is wrong with the output is known here and not when the interpreter ends
    except UsageError as error:
        _say(f"shopmate: {error}")
        return USAGE
    except ShopmateError as error:
        _say(f"shopmate: {error}" if not isinstance(error, FileProblems) else str(error))
        return PROBLEMS
    except KeyboardInterrupt:
        _say("shopmate: interrupted; what was recorded is safe")
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()  # its reader left, having seen enough
        return DONE
    except OSError as error:
        _drop_output()
        _say(f"shopmate: {error}; free the disk, or check the rights of the file and its folder")
        return PROBLEMS
    except Exception:
        import_module(f"{__name__}.fault").report(now())  # with what reads source code, which nothing else here needs
        return FAULT
    finally:
        gc.enable()


def _run(words: Sequence[str], now: Callable[[], datetime]) -> int:
    """Run a command and return its exit code; each is a file of this folder, brought when it is asked for."""
    if not words:
        return bench.open_bench(None, now)
    from shopmate.cli.parser import parser  # which the bench by itself does not wait for

    arguments = parser(words[0]).parse_args(words)
    arguments.now = now
    if arguments.command is None:
        return bench.open_bench(None, now, plain=arguments.plain)
    return int(import_module(f"{__name__}.{arguments.command.replace('-', '_')}").run(arguments) or DONE)


def _say(words: str) -> None:
    """Print words about a result to stderr; where nobody can be told, the exit code says it alone."""
    with suppress(OSError):
        print(words, file=sys.stderr)


def _drop_unsaid() -> None:
    """Drop what a terminal that is gone took no more, which the interpreter would try again as it ends."""
    if sys.stderr is not None:  # as when it was closed before we began
        try:
            sys.stderr.flush()
        except OSError:
            _drop(sys.stderr)


def _drop_output() -> None:
    """Point stdout at nothing so that the interpreter's last flush is silent."""
    if sys.stdout is not None:
        _drop(sys.stdout)


def _drop(stream: TextIO) -> None:
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
