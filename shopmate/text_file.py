"""A text file of the user's, read whole or refused for what it is: no file, too large, not UTF-8, with unfit characters."""

from __future__ import annotations

import os
import re
import stat
from collections import Counter
from collections.abc import Iterable
from itertools import islice
from pathlib import Path

from shopmate import characters
from shopmate.errors import FileProblems, Problem

LARGEST = 1024 * 1024
"""Bytes; a larger file is refused, since no recipe, shelf or table of words is that long."""

MOST_OF_A_KIND = 20
"""Problems of one kind that are told one by one; of the rest only the number."""

_LONGEST = 300
"""Characters of what a problem says: it may repeat a text of any length."""

_WHAT_IT_IS = (
    (stat.S_ISDIR, "is a folder"),
    (stat.S_ISFIFO, "is a pipe"),
    (stat.S_ISSOCK, "is a socket"),
    (stat.S_ISCHR, "is a device"),
    (stat.S_ISBLK, "is a device"),
)


def read_text(path: Path, fix: str) -> str:
    """Return the text of a file, without a byte order mark; `fix` says what to do where it cannot be read at all.

    What is no file with an end, such as a pipe, is refused without waiting for it. Raises FileNotFoundError, and
    FileProblems for all else; whether all its characters may stand in a text is for `refuse_unfit`.
    """
    return _decoded(_bytes(path, fix), path)


def refuse_unfit(text: str, file: str) -> None:
    """Raise FileProblems, each at its place, for characters that are not allowed in a text."""
    lines = Lines(text)
    found = ((at, name) for at, name in characters.unfit(text) if text[at] != "\r")  # which ends lines in some files
    problems = [
        Problem(file, *lines.place(at), f"the character {name} is not allowed in a text", "remove it")
        for at, name in islice(found, MOST_OF_A_KIND)
    ]
    if problems:
        raise FileProblems([*problems[:-1], problems[-1].and_more(sum(1 for _ in found))])


def gathered(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return problems in the order of their file, with no more than MOST_OF_A_KIND of one kind: the last of them counts the rest.

    Of one kind are those that say the same but for names and numbers.
    """
    told: list[Problem] = []
    kinds: Counter[str] = Counter()
    last: dict[str, int] = {}
    for problem in sorted(problems, key=lambda problem: (problem.line, problem.column)):
        kind = re.sub(r"'[^']*'|U\+[0-9A-F]+|\d+", "", problem.what)
        kinds[kind] += 1
        if kinds[kind] <= MOST_OF_A_KIND:
            last[kind] = len(told)
            told.append(problem)
    for kind, count in kinds.items():
        if count > MOST_OF_A_KIND:
            at = last[kind]
            told[at] = told[at].and_more(count - MOST_OF_A_KIND)
    return tuple(told)


def shortened(what: str) -> str:
    """Return what a problem says in no more than a few lines."""
    return what if len(what) <= _LONGEST else f"{what[:_LONGEST]}…"


class Lines:
    """The lines of a text, to say where in them a character stands."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._line, self._start, self._seen = 1, 0, 0

    def place(self, at: int) -> tuple[int, int]:
        """Return line and column, from 1, of the character at `at`, which is no smaller than the one asked for before."""
        self._line += self._text.count("\n", self._seen, at)
        self._start = max(self._start, self._text.rfind("\n", self._seen, at) + 1)
        self._seen = at
        return self._line, at - self._start + 1


def _bytes(path: Path, fix: str) -> bytes:
    """Return what a file holds; raises FileNotFoundError, and FileProblems for what is no file or too large."""
    try:
        _refuse_kind(path.stat().st_mode, path, fix)
        # Without waiting for a writer, should it have become a pipe since; a file with an end is read as ever.
        descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with open(descriptor, "rb") as file:  # noqa: PTH123 (it is open already)
            _refuse_kind(os.fstat(descriptor).st_mode, path, fix)
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise
    except OSError as error:
        raise _refused(path, f"cannot be read: {error.strerror}", fix) from None
    except ValueError:  # of a path with a null in it
        raise _refused(path, "is no path", fix) from None
    if len(raw) > LARGEST:
        raise _refused(path, "the file is over 1 MiB", "split it: no recipe is that long")
    return raw


def _refuse_kind(mode: int, path: Path, fix: str) -> None:
    """Raise FileProblems for what is no regular file."""
    if not stat.S_ISREG(mode):
        raise _refused(path, next((words for is_one, words in _WHAT_IT_IS if is_one(mode)), "is no file"), fix)


def _decoded(raw: bytes, path: Path) -> str:
    """Return bytes as text; raises FileProblems where they are none in UTF-8."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode("utf-8")
        line, column = Lines(before).place(len(before))
        raise FileProblems([Problem(str(path), line, column, "is not UTF-8 text", "save it as UTF-8")]) from None


def _refused(path: Path, what: str, fix: str) -> FileProblems:
    return FileProblems([Problem(str(path), 1, 1, what, fix)])
