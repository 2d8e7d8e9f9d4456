"""The nodes of a YAML text, built from the events of its parser: the only home of yaml."""

from __future__ import annotations

from collections.abc import Callable

import yaml

from shopmate import characters
from shopmate.recipe.reader import Node, Reader, refuse

DEEPEST = 12
"""Levels of lists and mappings; a recipe needs eight, and walking a much deeper one would exhaust the stack."""

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def tree(text: str, reader: Reader) -> Node | None:
    """Return the root of a YAML text, None of an empty one, noting what is refused; raises FileProblems for what is not YAML."""
    try:
        return _build(text, reader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        if mark is not None and text[mark.index : mark.index + 1] == "\t":
            raise refuse(reader.file, line, column, "not YAML: a tab where there must be spaces", "indent with spaces") from None
        began = error.context_mark.line + 1 if error.context_mark else line
        since = f" ({error.context} from line {began})" if began != line else ""
        fix = "mend the line (quote texts that hold ': ' or start with a sign)"
        raise refuse(reader.file, line, column, f"not YAML: {error.problem}{since}", fix) from None
    except yaml.YAMLError:  # of its reader, which gives no place
        raise refuse(reader.file, 1, 1, "not YAML: it has characters that are not allowed in a text", "remove them") from None


def _build(text: str, reader: Reader) -> Node | None:
    """Return the root of a YAML text, None of an empty one, noting what is refused; raises MarkedYAMLError.

    Built from the parser's events, in one pass: a composed tree no longer knows its anchors and tags.
    """
    root: Node | None = None
    # The library's own loop over the events asks twice for each, which takes a fifth of the time.
    take = _Loader(text).get_event
    while (event := take()) is not None:
        if isinstance(event, yaml.NodeEvent):
            root = _node(event, take, reader, 0)
        elif isinstance(event, yaml.DocumentStartEvent) and root is not None:
            reader.wrong(Node(*_begins(event)), "a second document starts here", "keep one document per file")
            break
    return root


def _node(event: yaml.Event, take: Callable[[], yaml.Event], reader: Reader, depth: int) -> Node:
    """Return the node that begins with `event`, taking the events that belong to it."""
    line, column = _begins(event)
    if getattr(event, "anchor", None) is not None or getattr(event, "tag", None) is not None:
        reader.wrong(Node(line, column), "anchors, aliases and tags are not supported", "write the text out")
    if isinstance(event, yaml.ScalarEvent):
        if not (reader.kept or characters.is_fit(event.value)):
            for name in dict.fromkeys(name for _, name in characters.unfit(event.value)):
                reader.wrong(
                    Node(line, column), f"the text has the character {name} in it", "remove it, also where it is escaped"
                )
        return Node(line, column, event.value)
    if isinstance(event, yaml.CollectionStartEvent) and depth >= DEEPEST:
        reader.wrong(Node(line, column), f"is nested more than {DEEPEST} levels deep", "a recipe needs no more than eight")
        reader.done()
    if isinstance(event, yaml.SequenceStartEvent):
        items = []
        while not isinstance(item := take(), yaml.SequenceEndEvent):
            items.append(_node(item, take, reader, depth + 1))
        return Node(line, column, items=tuple(items))
    if isinstance(event, yaml.MappingStartEvent):
        return Node(line, column, entries=_entries(take, reader, depth + 1))
    return Node(line, column, "")


def _entries(take: Callable[[], yaml.Event], reader: Reader, depth: int) -> dict[str, tuple[Node, Node]]:
    """Return the entries of a mapping that has begun."""
    entries: dict[str, tuple[Node, Node]] = {}
    while not isinstance(event := take(), yaml.MappingEndEvent):
        key = _node(event, take, reader, depth)
        value = _node(take(), take, reader, depth)
        if key.text is None:
            reader.wrong(key, f"a key is {key.shape}", "write the key as one word")
        elif key.text in entries:
            first = entries[key.text][0].line
            reader.wrong(key, f"the key '{key.text}' is there twice", f"remove one (the first is on line {first})")
        else:
            entries[key.text] = (key, value)
    return entries


def _begins(event: yaml.Event) -> tuple[int, int]:
    """Return line and column, from 1, at which an event begins."""
    mark = event.start_mark
    assert mark is not None
    return mark.line + 1, mark.column + 1
