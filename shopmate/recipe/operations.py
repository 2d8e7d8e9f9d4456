"""Operations: stretches of work that recipes share, put in place of `use:` before a recipe is read.

A recipe is expanded as nodes: every node keeps the file and place it stands at, so that what is wrong in an operation is told
there. Names that an operation gives its own values, clocks and sums stay apart from those of the recipe by a prefix.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from shopmate import paths
from shopmate.errors import Problem
from shopmate.recipe import form
from shopmate.recipe.compose import compose
from shopmate.recipe.keys import DASHED
from shopmate.recipe.model import SIGNALS
from shopmate.recipe.reader import Node, Reader, read_file
from shopmate.records import dataclass

Find = Callable[[str], Node | None]
"""Returns the root node of the operation of that name, which knows its file; None where there is none; raises FileProblems."""

_REFERENCE = re.compile(r"\{([a-z][a-z0-9_]*)((?:\.[a-z][a-z0-9_]*)*)\}")
_LONE = re.compile(r"\{([a-z][a-z0-9_.]*)\}")
_NAME = re.compile(r"[a-z][a-z0-9_]*")

_GIVES = ("into", "clock", "adds_to", "id")
"""Keys of a step whose text is a name that the step gives."""

_REFERS = ("clock", "ends", "pace_of")
"""Keys of a step or a condition whose text is a name given elsewhere."""

MOST = 60
"""Operations that one recipe may use, those of operations counted (our choice). It limits what a file can ask for."""


@dataclass(frozen=True, slots=True)
class Used:
    """An operation where it is used: what it is given, and the prefix of the names it gives."""

    name: str
    prefix: str
    given: Mapping[str, Node]


def expanded(root: Node, reader: Reader, find: Find) -> Node:
    """Return the root of a recipe with each `use:` replaced by the sections of its operation, noting every problem."""
    if root.entries is None or "sections" not in root.entries:
        return root
    key, sections = root.entries["sections"]
    if sections.items is None or not any(_uses(item) for item in sections.items):
        return root
    made = _Expansion(reader, find)
    items = tuple(made.sections(sections.items, ()))
    entries = {
        name: (own, sections._replace(items=items) if own is key else made.outside(value))
        for name, (own, value) in root.entries.items()
    }
    if made.uses:
        own, uses = entries.get("uses", (key, key._replace(text=None, items=())))
        if uses.items is not None:  # else it is noted as no list
            entries["uses"] = own, uses._replace(items=(*uses.items, *map(made.outside, made.uses)))
    return root._replace(entries=entries)


def _uses(node: Node) -> bool:
    return node.entries is not None and "use" in node.entries


class _Expansion:
    """One recipe as it is expanded."""

    def __init__(self, reader: Reader, find: Find) -> None:
        self.reader, self.find = reader, find
        self.given: dict[str, str] = {}
        """What an operation gave under its prefix -> the name it has in the recipe: 'seal.mixed' -> 'seal_mixed'."""
        self.prefixes: set[str] = set()
        self.uses: list[Node] = []
        """What the operations consume."""
        self.count = 0

    def sections(self, nodes: Sequence[Node], within: tuple[str, ...]) -> Iterator[Node]:
        """Yield the sections, those of operations in place of their use; `within` names the operations being expanded."""
        for node in nodes:
            if _uses(node):
                yield from self.operation(node, within)
            else:
                yield self.outside(node)

    def outside(self, node: Node) -> Node:
        """Return a node of the recipe with what operations gave before it under its own name."""
        if not self.given:
            return node
        return _renamed(node, lambda text: _REFERENCE.sub(self._known, text))

    def _known(self, match: re.Match[str]) -> str:
        name, parts = match[1], match[2]
        first, _, rest = parts.removeprefix(".").partition(".")
        known = self.given.get(f"{name}.{first}")
        if known is None:
            return match[0]
        return f"{{{known}{'.' + rest if rest else ''}}}"

    def operation(self, node: Node, within: tuple[str, ...]) -> Iterator[Node]:
        """Yield the sections of the operation that is used here."""
        read = self.reader
        entries = read.mapping(node, form.USE)
        name = read.name(entries.get("use"), "use", DASHED)
        self.count += 1
        if not name or "use" not in entries:
            return
        if name in within:
            read.wrong(entries["use"], f"the operation '{name}' uses itself", "take it out of the operations it uses")
            return
        if self.count > MOST:
            read.wrong(entries["use"], f"more than {MOST} operations in one recipe", "write it in fewer")
            return
        found = self.find(name)
        if found is None:
            read.wrong(entries["use"], f"there is no operation '{name}'", f"write it as operations/{name}.yaml, or use another")
            return
        made = _Operation(self, self.used(name, entries), found, entries, node)
        when = node.entries["when"] if node.entries is not None and "when" in entries else None
        self.uses += (_hung(use, when) if when is not None else use for use in made.uses)
        for section in made.sections((*within, name)):
            yield self.all_hung(section, when) if when is not None else section

    def all_hung(self, section: Node, when: tuple[Node, Node]) -> Node:
        """Return a section whose steps all hang on the condition that the use of its operation hangs on."""
        steps = (section.entries or {}).get("steps")
        if section.entries is None or steps is None or steps[1].items is None:
            return section
        items = tuple(
            step if any(word in (step.entries or {}) for word in SIGNALS) else _hung(step, when) for step in steps[1].items
        )
        return section._replace(entries={**section.entries, "steps": (steps[0], steps[1]._replace(items=items))})

    def used(self, name: str, entries: Mapping[str, Node]) -> Used:
        """Return how an operation is used, noting a prefix that is taken."""
        read = self.reader
        prefix = read.name(entries["as"], "as") if "as" in entries else self.free(name.replace("-", "_"))
        if prefix in self.prefixes and "as" in entries:
            read.wrong(entries["as"], f"'{prefix}' is the name of an operation used before", "give each use its own name")
        self.prefixes.add(prefix)
        given = entries["with"].entries if "with" in entries else {}
        if given is None:
            read.wrong(entries["with"], f"with is {entries['with'].shape}", "write a mapping of what the operation takes")
            given = {}
        return Used(name, prefix, {key: self.outside(value) for key, (_, value) in given.items()})

    def free(self, name: str) -> str:
        number = 1
        while (prefix := name if number == 1 else f"{name}_{number}") in self.prefixes:
            number += 1
        return prefix


class _Operation:
    """One use of an operation: its nodes with what it is given put in and its own names apart."""

    def __init__(self, recipe: _Expansion, used: Used, root: Node, use: Mapping[str, Node], place: Node) -> None:
        self.recipe, self.used, self.place = recipe, used, place
        frame = _read_frame(root, recipe.reader, used.name)
        self.nodes, self.names = frame.nodes, frame.names
        self.takes = self._takes(frame.takes)
        self.uses = tuple(self._inner(item) for item in frame.uses if self._applies(item))
        self.added = {key: recipe.reader.items(use[key], key) for key in _PLACES if key in use}
        """What the use puts into the operation: sections before and after its work, steps between it."""
        self.places_used: set[str] = set()
        for name, inner in frame.gives.items():
            recipe.given[f"{used.prefix}.{name}"] = f"{used.prefix}_{inner}"

    def _takes(self, declared: Mapping[str, Node]) -> dict[str, str]:
        """Return what the operation is given: from the use, else its default; '' where it lacks, which is noted."""
        read = self.recipe.reader
        texts: dict[str, str] = {}
        for name, default in declared.items():
            given = self.used.given.get(name)
            texts[name] = read.text(default if given is None else given, name)
            if given is None and texts[name] == _NEEDED:
                read.wrong(self.place, f"the operation '{self.used.name}' is not given '{name}'", f"add 'with: {{{name}: ...}}'")
                texts[name] = ""
        for name, value in self.used.given.items():
            if name not in declared:
                read.wrong(value, f"the operation '{self.used.name}' has no '{name}'", f"use: {', '.join(declared) or 'nothing'}")
        return texts

    def sections(self, within: tuple[str, ...]) -> Iterator[Node]:
        """Yield the sections with everything put in."""
        yield from self.recipe.sections(tuple(self._items(self.nodes)), within)
        for key in self.added.keys() - self.places_used:
            self.recipe.reader.wrong(self.place, f"the operation '{self.used.name}' has no place for '{key}'", "leave it out")

    def _applies(self, node: Node) -> bool:
        """Return whether a node with `only:` is wanted: what the operation is given is among the texts it names."""
        if node.entries is None or "only" not in node.entries:
            return True
        read, only = self.recipe.reader, node.entries["only"][1]
        wanted = True
        for name, (key, value) in (only.entries or {}).items():
            if name not in self.takes:
                read.wrong(key, f"the operation has no '{name}'", f"use one of: {', '.join(self.takes)}")
                continue
            among = read.texts(value, name) if value.items is not None else (read.text(value, name),)
            wanted = wanted and self.takes[name] in among
        return wanted

    def _inner(self, node: Node) -> Node:
        """Return a node of the operation as it stands in the recipe."""
        if node.text is not None:
            return node._replace(text=_REFERENCE.sub(self._put_in, node.text))
        if node.items is not None:
            return node._replace(items=tuple(self._items(node.items)))
        entries = {}
        for name, (key, value) in (node.entries or {}).items():
            if name == "only" or self._lacks(value):
                continue
            inner = self._inner(value)
            if inner.text is not None and (name in _GIVES or name in _REFERS) and inner.text in self.names:
                own = f"{self.used.prefix}_{inner.text}"
                inner = inner._replace(text=own.replace("_", "-") if name == "id" else own)
            if name == "when":
                inner = self._when(inner)
            entries[name] = key, inner
        return node._replace(entries=entries)

    def _lacks(self, node: Node) -> bool:
        """Return whether a key stands for nothing but what the operation may be given and is not: then it is left out."""
        lone = _LONE.fullmatch(node.text) if node.text is not None else None
        return lone is not None and lone[1] not in self.names and self.takes.get(lone[1]) == _NOTHING

    def _when(self, node: Node) -> Node:
        """Return conditions that name what the operation gives under its names in the recipe."""
        if node.items is not None:
            return node._replace(items=tuple(map(self._when, node.items)))
        return node._replace(entries={self._own(name): pair for name, pair in (node.entries or {}).items()})

    def _own(self, name: str) -> str:
        """Return the name of a value in the recipe; `{name}` is that of what the operation is given."""
        given = _LONE.fullmatch(self._put_in(found)) if (found := _REFERENCE.fullmatch(name)) else None
        if given is not None:
            return given[1]
        return f"{self.used.prefix}_{name}" if name.partition(".")[0] in self.names else name

    def _items(self, nodes: Sequence[Node]) -> Iterator[Node]:
        for node in nodes:
            if not self._applies(node):
                continue
            place = next((key for key in _PLACES if node.entries is not None and key in node.entries), None)
            if place is not None:
                self.places_used.add(place)
                yield from self.added.get(place, ())
            else:
                yield self._inner(node)

    def _put_in(self, match: re.Match[str]) -> str:
        name, parts = match[1], match[2]
        if name in self.names:
            return f"{{{self.used.prefix}_{name}{parts}}}"
        given = self.takes.get(name)
        if given is None:
            return match[0]
        lone = _LONE.fullmatch(given)
        if not parts:
            return given
        return f"{{{lone[1]}{parts}}}" if lone else match[0]


def _hung(node: Node, when: tuple[Node, Node]) -> Node:
    """Return a step of an operation, or what it consumes, that hangs on a condition beside its own."""
    entries = node.entries or {}
    hangs = (when[0], _both(when[1], entries["when"][1])) if "when" in entries else when
    return node._replace(entries={**entries, "when": hangs})


def _both(first: Node, second: Node) -> Node:
    """Return two conditions, or lists of them, as one list."""
    return second._replace(entries=None, items=(*(first.items or (first,)), *(second.items or (second,))))


FOLDER = "operations"
"""The folder of operations beside recipes."""

_PLACES = ("before", "between", "after")
"""Keys of a use that put something into the operation, where a node with that key holds its place."""

_NEEDED = "needed"
"""The text of `takes` that says that there is no default."""

_NOTHING = "none"
"""The text of `takes` that says that it may be left away; a key that stands for it alone is left out then."""


def _given_names(nodes: Sequence[Node]) -> Iterator[str]:
    """Yield the names that steps give."""
    for node in nodes:
        if node.items is not None:
            yield from _given_names(node.items)
        for name, (_, value) in (node.entries or {}).items():
            # A clock is given where it is started, and named where it is waited for.
            if name in _GIVES and value.text and (name != "clock" or "start" in (node.entries or {})):
                yield value.text
            yield from _given_names((value,))


def _in_file(node: Node, file: str) -> Node:
    """Return a node that knows the file it stands in, with all beneath it."""
    if node.text is not None:
        return node._replace(file=file)
    if node.items is not None:
        return node._replace(file=file, items=tuple(_in_file(item, file) for item in node.items))
    entries = {name: (_in_file(key, file), _in_file(value, file)) for name, (key, value) in (node.entries or {}).items()}
    return node._replace(file=file, entries=entries)


def _renamed(node: Node, change: Callable[[str], str]) -> Node:
    """Return a node with all its texts changed."""
    if node.text is not None:
        return node._replace(text=change(node.text))
    if node.items is not None:
        return node._replace(items=tuple(_renamed(item, change) for item in node.items))
    return node._replace(entries={name: (key, _renamed(value, change)) for name, (key, value) in (node.entries or {}).items()})


def operation_paths() -> dict[str, Path]:
    """Return the files of all operations by name, the user's own in place of shipped ones of the same name."""
    found: dict[str, Path] = {}
    for folder in (paths.shipped_recipes(), paths.user_recipes()):
        for path in sorted((folder / FOLDER).glob("*.yaml")) if (folder / FOLDER).is_dir() else ():
            found[path.stem] = path
    return found


def operation_state() -> tuple[int, ...]:
    """Return the state of the files of all operations, any of which a recipe may use."""
    return tuple(number for path in operation_paths().values() for number in _state(path))


def _state(path: Path) -> tuple[int, int]:
    """Return when a file was changed and its size, 0 and 0 where that cannot be told: reading it says why."""
    try:
        state = path.stat()
    except OSError:
        return 0, 0
    return state.st_mtime_ns, state.st_size


def find_operation(name: str) -> Node | None:
    """Return the root node of an operation, None where there is none; raises FileProblems for what is not YAML."""
    path = operation_paths().get(name)
    return _composed(path, _state(path)) if path is not None else None


@lru_cache(maxsize=64)  # an operation is used several times by a recipe, and by several recipes
def _composed(path: Path, _state_of_it: tuple[int, int]) -> Node:
    return _in_file(compose(read_file(path), str(path)), str(path))


def is_operation(text: str, file: str) -> bool:
    """Return whether a text is that of an operation."""
    return "operation" in (compose(text, file).entries or {})


@dataclass(frozen=True, slots=True)
class _Frame:
    """What an operation is made of, before it is used."""

    nodes: tuple[Node, ...]
    """Its sections."""
    names: frozenset[str]
    """What its steps give."""
    takes: Mapping[str, Node]
    """What it is given, with the default of each."""
    gives: Mapping[str, str]
    """What it gives, by the name outside."""
    uses: tuple[Node, ...]
    """What it consumes."""


def _read_frame(root: Node, read: Reader, stem: str) -> _Frame:
    """Return what an operation is made of, noting what is wrong with it; its steps are read where a recipe uses it."""
    entries = read.mapping(root, form.OPERATION)
    own = read.name(entries.get("operation"), "operation", DASHED)
    if own and own != stem:
        read.wrong(
            entries["operation"], f"the operation is named '{own}' but its file is named '{stem}'", "use one name for both"
        )
    read.text(entries.get("about"), "about")
    nodes = read.items(entries.get("sections"), "sections")
    names = frozenset(_given_names(nodes))
    gives: dict[str, str] = {}
    for name, (key, value) in _pairs(entries.get("gives")).items():
        gives[name] = inner = read.name(value, f"gives {name}")
        if inner and inner not in names:
            read.wrong(value, f"no step of the operation gives '{inner}'", "name what a step gives: its into, adds_to or clock")
        if not _NAME.fullmatch(name):
            read.wrong(key, f"'{name}' is not a name", "use lower-case letters, digits and _, a letter first")
    takes = {name: value for name, (_, value) in _pairs(entries.get("takes")).items()}
    return _Frame(nodes, names, takes, gives, read.items(entries.get("uses"), "uses"))


def _pairs(node: Node | None) -> Mapping[str, tuple[Node, Node]]:
    """Return the entries of a mapping that may be left out."""
    return (node.entries or {}) if node is not None else {}


def read_operation(text: str, file: str) -> tuple[Problem, ...]:
    """Return what is wrong with the frame of an operation. Raises FileProblems for what is not YAML."""
    reader = Reader(file)
    _read_frame(compose(text, file), reader, Path(file).stem)
    return tuple(reader.problems)


def written(root: Node, *, plain: bool = False) -> str:
    """Return the nodes as YAML: what a run keeps, so that editing an operation changes no run under way.

    Texts stand in quotes; `plain` ones, for who edits them, only where they need to.
    """
    return "\n".join(_lines(root, 0, _plain if plain else _quoted)) + "\n"


def _lines(node: Node, depth: int, quoted: Callable[[str], str]) -> Iterator[str]:
    space = "  " * depth
    if node.items is not None:
        for item in node.items:
            if item.text is not None:
                yield f"{space}- {quoted(item.text)}"
            else:
                first, *rest = list(_lines(item, depth + 1, quoted)) or [f"{space}  {'[]' if item.items is not None else '{}'}"]
                yield f"{space}- {first[len(space) + 2 :]}"
                yield from rest
        return
    for name, (_, value) in (node.entries or {}).items():
        if value.text is not None:
            yield f"{space}{quoted(name)}: {quoted(value.text)}"
        elif not (value.items or value.entries):
            yield f"{space}{quoted(name)}: {'[]' if value.items is not None else '{}'}"
        else:
            yield f"{space}{quoted(name)}:"
            yield from _lines(value, depth + 1, quoted)


def _quoted(text: str) -> str:
    """Return a text in double quotes, as JSON and YAML both read it."""
    return _JSON.encode(text)


_NEEDS_NO_QUOTES = re.compile(
    r"(?!(?:true|false|null|yes|no|on|off|y|n)$)[A-Za-z](?:[^:#{}\[\],&*?|<>=!%@`\"\\]*[^\s:#{}\[\],&*?|<>=!%@`\"\\])?", re.I
)


def _plain(text: str) -> str:
    """Return a text as it stands where every parser of YAML takes it for that text, else in quotes."""
    return text if _NEEDS_NO_QUOTES.fullmatch(text) and text.isprintable() else _quoted(text)


_JSON = json.JSONEncoder(ensure_ascii=False)
"""Made once: a recipe has thousands of texts."""
