"""Records: what the library's dataclasses do, they do too."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from types import SimpleNamespace

import pytest

from shopmate.records import dataclass, field


def classes(make: Callable[..., Callable[[type], type]], field: Callable[..., object]) -> SimpleNamespace:
    """Return classes of several forms as `make` and `field` make them, under the same names."""

    @make(frozen=True, slots=True)
    class Nothing:
        pass

    @make(frozen=True, slots=True)
    class One:
        text: str

    @make(frozen=True, slots=True)
    class Several:
        number: int
        text: str = "none"
        parts: tuple[str, ...] = field(default=())
        named: dict[str, int] = field(default_factory=dict)

        @property
        def both(self) -> str:
            return f"{self.number} {self.text}"

        def __str__(self) -> str:
            return self.both

    @make(frozen=True)
    class Roomy:
        """Has room for more than its fields."""

        number: int
        aside: int = field(default=0, compare=False)

    @make(slots=True)
    class Changing:
        """Has its own words."""

        number: int
        items: list[int] = field(default_factory=list)

    @make(frozen=True, slots=True, order=True)
    class Ordered:
        first: int
        second: int = 0

    @make(frozen=True, slots=True)
    class Alike:
        first: int
        second: int = 0

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Alike)

        def __hash__(self) -> int:
            return 7

    return SimpleNamespace(**locals())


OURS, LIBRARY = classes(dataclass, field), classes(dataclasses.dataclass, dataclasses.field)


def both(act: Callable[[SimpleNamespace], object]) -> object:
    """Return what comes of an act with either, which has to be the same, an error by its kind."""

    def outcome(made: SimpleNamespace) -> object:
        try:
            return act(made)
        except Exception as error:
            return type(error)

    ours = outcome(OURS)
    assert ours == outcome(LIBRARY)
    return ours


MADE: dict[str, Callable[[SimpleNamespace], object]] = {
    "nothing": lambda of: of.Nothing(),
    "one": lambda of: of.One("a"),
    "several": lambda of: of.Several(1),
    "several by name": lambda of: of.Several(text="b", number=2, named={"c": 3}),
    "roomy": lambda of: of.Roomy(1),
    "changing": lambda of: of.Changing(1),
    "ordered": lambda of: of.Ordered(1, 2),
    "alike": lambda of: of.Alike(1, 2),
}

ACTS: dict[str, Callable[[object], object]] = {
    "shown": repr,
    "as a text": str,
    "fields": lambda made: [(item.name, item.type, item.default) for item in dataclasses.fields(made)],
    "as a dictionary": lambda made: dataclasses.asdict(made),
    "hashable": lambda made: hash(made) == hash(copy.deepcopy(made)),
    "equal to its like": lambda made: made == copy.deepcopy(made),
    "equal to nothing else": lambda made: [made == other for other in (None, (), ("a",), 1)],
    "matched": lambda made: type(made).__match_args__,
    "set": lambda made: setattr(made, dataclasses.fields(made)[0].name, 5),
    "removed": lambda made: delattr(made, dataclasses.fields(made)[0].name),
    "without a dictionary": lambda made: hasattr(made, "__dict__"),
    "equal but for what is not compared": lambda made: made == dataclasses.replace(made, aside=1),
    "before itself": lambda made: made < made,
}


@pytest.mark.parametrize("act", ACTS)
@pytest.mark.parametrize("made", MADE)
def test_does_as_the_library(made: str, act: str) -> None:
    assert both(lambda of: ACTS[act](MADE[made](of))) is not NotImplemented


MISMADE: dict[str, Callable[[SimpleNamespace], object]] = {
    "too few": lambda of: of.Several(),
    "too many": lambda of: of.One("a", "b"),
    "an unknown name": lambda of: of.One(words="a"),
}


@pytest.mark.parametrize("made", MISMADE)
def test_refuses_as_the_library(made: str) -> None:
    assert both(MISMADE[made]) is TypeError


def test_the_order_is_that_of_the_library() -> None:
    def order(of: SimpleNamespace) -> object:
        pairs = [of.Ordered(2, 1), of.Ordered(1, 2), of.Ordered(1)]
        compared = [(a < b, a <= b, a > b, a >= b, a == b, a != b) for a in pairs for b in pairs]
        return [str(item) for item in sorted(pairs)], compared

    assert isinstance(both(order), tuple)
    assert both(lambda of: of.Ordered(1) < (1, 0)) is TypeError


def test_a_changed_copy_is_made_by_the_library() -> None:
    before = OURS.Several(1, named={"a": 1})
    after = dataclasses.replace(before, number=2)
    assert (after.number, after.text, after.named is before.named) == (2, "none", True)


def test_each_has_defaults_of_its_own() -> None:
    one, other = OURS.Changing(1), OURS.Changing(1)
    one.items.append(3)
    assert (one.items, other.items) == ([3], [])


def test_a_default_that_changes_is_refused() -> None:
    with pytest.raises(ValueError, match="mutable default"):

        @dataclass(slots=True)
        class Wrong:
            items: list[int] = []  # noqa: RUF012


def test_what_is_frozen_takes_no_other_name_either() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        OURS.One("a").other = 1


@dataclass(frozen=True, slots=True)
class Stored:
    number: int
    text: str = ""


def test_is_stored_and_read_back() -> None:
    assert pickle.loads(pickle.dumps(Stored(1, "a"))) == Stored(1, "a")
