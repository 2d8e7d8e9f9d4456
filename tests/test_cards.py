"""What a calculator takes, gives, says and draws is what its card says; a change of it is read before it is kept."""

import cards
import pytest

CARDS = sorted(path.stem for path in cards.FOLDER.glob("*.txt"))


@pytest.mark.parametrize("name", CARDS)
def test_the_calculator_is_as_on_its_card(name):
    kept = (cards.FOLDER / f"{name}.txt").read_text(encoding="utf-8")
    assert cards.made(name) == kept, "read what changed; if it is meant: python tests/cards.py --write"


def test_there_are_cards():
    assert len(CARDS) >= 27
