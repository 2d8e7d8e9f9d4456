"""A YAML text as nodes with their places, guessing nothing."""

from __future__ import annotations

from shopmate.recipe.reader import Node, Reader, refuse
from shopmate.text_file import refuse_unfit


def compose(text: str, file: str, *, kept: bool = False) -> Node:
    """Return the root node of a YAML text; FileProblems with all places of what is refused.

    Aliases, anchors, tags, repeated keys and more than one document are refused: each makes a file mean
    something its reader does not see. So are characters that are not allowed in a text, except in a text `kept` in the log: what
    was recorded can be opened, and they are made visible wherever it is shown.
    """
    from shopmate.recipe.tree import tree  # brings yaml, which a log is shown without

    if not kept:
        refuse_unfit(text, file)
    reader = Reader(file, kept=kept)
    root = tree(text, reader)
    reader.done()
    if root is None:
        raise refuse(file, 1, 1, "the file is empty", "start with 'recipe: name', a shelf with 'shelf: name'")
    return root
