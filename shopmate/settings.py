"""What a user sets once for the own keyboard, ears and terminal: read from and written to one small JSON file."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping
from typing import Any

from shopmate import characters, paths
from shopmate.errors import FileProblems, Problem
from shopmate.records import dataclass, fields
from shopmate.text_file import Lines, gathered, read_text, refuse_unfit

_FIX = "fix it, or remove the file to go back to the default settings"


@dataclass(frozen=True, slots=True)
class Settings:
    """Settings of the user on this machine; those of a project (units, theme) are in its log."""

    hold_ms: int = 700
    """How long Enter and * are not taken again after they were, in ms (0 to 3000)."""
    repeat_ms: int = 120
    """Gap in ms under which presses of one key count as the repeats of a key held down (0 to 1000)."""
    bounce_ms: int = 80
    """Gap in ms under which the same digit twice counts as one press that bounced (0 to 300)."""
    settle_ms: int = 500
    """How long no key is taken after the screen has changed by itself or an alarm has come, in ms (0 to 3000)."""
    alarm_command: tuple[str, ...] = ()
    """Program and arguments run for an alarm, without a shell; '{words}' in an argument stands for the alarm's words."""
    notify: bool = False
    """Whether the terminal is asked to show a notification at an alarm."""
    plain_signs: bool = False
    """Whether only 7-bit signs are drawn, also where the terminal says it knows more."""
    decimal_mark: str = "."
    """The decimal mark shown: '.' or ','; both are understood when typed."""


MOST = {"hold_ms": 3000, "repeat_ms": 1000, "bounce_ms": 300, "settle_ms": 3000}
"""The most each time can be set to, in ms."""


def load() -> Settings:
    """Return the user's settings; those not in the file, or without a file all, as they come.

    Raises FileProblems with everything in the file that cannot be used.
    """
    path = paths.settings()
    try:
        text = read_text(path, _FIX)
    except FileNotFoundError:
        return Settings()
    data = _object(text, str(path))
    _refuse_unfit(text, str(path))
    lines = text.splitlines()
    problems = [Problem(str(path), _line(name, lines), 1, what, _FIX) for name, what in _wrong(data)]
    if problems:
        raise FileProblems(gathered(problems))
    if "alarm_command" in data:
        data["alarm_command"] = tuple(data["alarm_command"])
    return Settings(**data)


def _object(text: str, file: str) -> dict[str, Any]:
    """Return the JSON object that a text is; FileProblems where it is none."""
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        raise FileProblems([Problem(file, error.lineno, error.colno, f"not JSON: {error.msg}", _FIX)]) from None
    except RecursionError:
        raise FileProblems([Problem(file, 1, 1, "lists or objects are nested too deeply", _FIX)]) from None
    except ValueError:  # of the interpreter, which reads no whole number of more than 4300 digits
        raise FileProblems([Problem(file, 1, 1, "a number has too many digits", _FIX)]) from None
    if not isinstance(data, dict):
        raise FileProblems([Problem(file, 1, 1, "the file must be one object {...}", _FIX)])
    return data


def _refuse_unfit(text: str, file: str) -> None:
    """Raise FileProblems for characters that are not allowed in a text, as they stand or escaped, each at the text it is in."""
    refuse_unfit(text, file)
    lines, problems = Lines(text), []
    for match in re.finditer(r'"(?:[^"\\]|\\.)*"', text):
        for name in dict.fromkeys(name for _, name in characters.unfit(json.loads(match[0]))):
            line, column = lines.place(match.start())
            problems.append(
                Problem(file, line, column, f"the text has the character {name} in it", "remove it, also where it is escaped")
            )
    if problems:
        raise FileProblems(gathered(problems))


def save(settings: Settings) -> None:
    """Write the settings in place of those of before: whole or not at all; raises FileProblems where it cannot."""
    path = paths.settings()
    beside = path.with_suffix(".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("w", encoding="utf-8") as file:
            json.dump({item.name: getattr(settings, item.name) for item in fields(settings)}, file, ensure_ascii=False, indent=2)
            file.write("\n")
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        fix = "free some disk space, or check the permissions of its folder"
        raise FileProblems([Problem(str(path), 1, 1, f"it cannot be written ({error.strerror})", fix)]) from None


def _wrong(data: Mapping[str, object]) -> list[tuple[str, str]]:
    """Return name and fault of each setting that cannot be used."""
    known = {field.name for field in fields(Settings)}
    wrong = []
    for name, value in data.items():
        if name not in known:
            wrong.append((name, f"there is no setting '{name}'; settings: {', '.join(sorted(known))}"))
        elif name in MOST:
            if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= MOST[name]:
                wrong.append((name, f"{name} must be a whole number from 0 to {MOST[name]}"))
        elif name == "alarm_command":
            if not isinstance(value, list) or not all(isinstance(word, str) and "\0" not in word for word in value):
                wrong.append((name, 'alarm_command must be a list of texts, such as ["program", "argument"]'))
        elif name == "decimal_mark":
            if value not in (".", ","):
                wrong.append((name, 'decimal_mark must be "." or ","'))
        elif not isinstance(value, bool):
            wrong.append((name, f"{name} must be true or false"))
    return wrong


def _line(name: str, lines: list[str]) -> int:
    return next((number for number, line in enumerate(lines, 1) if f'"{name}"' in line), 1)
