"""The user's settings: as they come, as they are written, and what is said of a file that cannot be used."""

import pytest

from shopmate import paths, settings
from shopmate.errors import FileProblems
from shopmate.settings import Settings


def write(text: str) -> None:
    paths.settings().parent.mkdir(parents=True, exist_ok=True)
    paths.settings().write_text(text, encoding="utf-8")


def problems() -> list[str]:
    with pytest.raises(FileProblems) as raised:
        settings.load()
    return [f"{problem.line}: {problem.what}" for problem in raised.value.problems]


def test_without_a_file_they_are_as_they_come(home):
    assert settings.load() == Settings()
    assert not home.exists()


def test_what_is_saved_is_loaded(home):
    mine = Settings(hold_ms=450, alarm_command=("ring", "a word", "{words}"), notify=True, decimal_mark=",")
    settings.save(Settings())
    settings.save(mine)
    assert settings.load() == mine
    assert [path.name for path in home.iterdir()] == ["settings.json"]


def test_what_a_file_leaves_out_is_as_it_comes(home):
    write('{"settle_ms": 0}')
    assert settings.load() == Settings(settle_ms=0)


def test_every_problem_is_said_at_its_line(home):
    write(
        '{\n"hold_ms": 4000,\n"repeat_ms": true,\n"alarm_command": "ring",\n"decimal_mark": ";",\n'
        '"notify": 1,\n"colour": "green"\n}'
    )
    assert problems() == [
        "2: hold_ms must be a whole number from 0 to 3000",
        "3: repeat_ms must be a whole number from 0 to 1000",
        '4: alarm_command must be a list of texts, such as ["program", "argument"]',
        '5: decimal_mark must be "." or ","',
        "6: notify must be true or false",
        "7: there is no setting 'colour'; settings: alarm_command, bounce_ms, decimal_mark, hold_ms, notify, "
        "plain_signs, repeat_ms, settle_ms",
    ]


HOSTILE = [
    ('{"hold_ms": ' + "[" * 100_000 + "]" * 100_000 + "}", "1: lists or objects are nested too deeply"),
    ('{"hold_ms": ' + "9" * 5000 + "}", "1: a number has too many digits"),
    ('{"hold_ms": ' + "9" * 4000 + "}", "1: hold_ms must be a whole number"),
    ('{"hold_ms": 1e999}', "1: hold_ms must be a whole number"),
    ('{"hold_ms": NaN}', "1: hold_ms must be a whole number"),
    ("[" * 100_000, "1: "),
]
"""Texts that a reader of JSON itself stumbles over."""


@pytest.mark.parametrize(
    ("text", "said"),
    [("{", "1: not JSON"), ("[]", "1: the file must be one object"), ('{"a":\n1,}', "2: not JSON"), *HOSTILE],
)
def test_a_file_that_is_none(home, text, said):
    write(text)
    (found,) = problems()
    assert found.startswith(said)


def test_a_place_that_cannot_be_written(home):
    paths.settings().mkdir(parents=True)
    with pytest.raises(FileProblems, match="cannot be written"):
        settings.save(Settings())
