"""Save a material in the user's shelf file: only its lines are changed, at once and whole, or not at all."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Mapping
from pathlib import Path

from shopmate.errors import Doubt, EntryError, FileProblems, ShopmateError
from shopmate.recipe.compose import compose
from shopmate.recipe.model import Material
from shopmate.recipe.reader import Node, read_file
from shopmate.recipe.shelf import is_blank, read_shelf


def save_material(path: Path, material: Material, *, sure: bool = False) -> None:
    """Put a material into the user's shelf file, in place of one of its name: at once and whole, or not at all.

    Only its lines are changed. Where the file is written in a form that does not allow that, it is written anew; if that
    loses comments, Doubt says so first, and with `sure` the file as it was stays beside it. Raises FileProblems for a file
    that has problems already, EntryError for a material that would be one, ShopmateError when it cannot be written.
    """
    _check(material)
    before = read_file(path) if path.exists() else ""
    materials = read_shelf(before, str(path))
    wanted = {**materials, material.name: material}
    text = _patched(before, material) if materials else _begun(before, material) if is_blank(before) else None
    copy = False
    if text is None or not _means(text, wanted):
        text = "shelf: own\nmaterials:\n" + "".join(_block(item, "  ") for item in wanted.values())
        copy = re.search(r"(?m)(^|\s)#", before) is not None
        if copy and not sure:
            name = path.name
            raise Doubt(f"{name} has to be written anew and loses its comments; as it was, it stays beside it as {name}.before")
    _write(path, text, wanted, before if copy else None)


def _check(material: Material) -> None:
    """Raise EntryError for what a shelf with this material would be refused for."""
    try:
        (read,) = read_shelf(f"shelf: own\nmaterials:\n{_block(material, '  ')}", "the shelf").values()
    except FileProblems as error:
        problem = error.problems[0]
        raise EntryError(problem.what, problem.fix) from None
    if read != material:
        raise EntryError(f"'{material.title}' holds signs or blanks a shelf cannot keep", "leave them out")


def _means(text: str, wanted: Mapping[str, Material]) -> bool:
    """Return whether a text is a shelf of just these materials."""
    try:
        return read_shelf(text, "") == wanted
    except FileProblems:
        return False


def _block(material: Material, indent: str) -> str:
    """Return the lines of a material in a shelf file."""
    inner = indent + "  "
    lines = [f"{indent}- material: {_scalar(material.name)}", f"{inner}kind: {_scalar(material.kind)}"]
    lines += [f"{inner}title: {_scalar(material.title)}", f"{inner}sheet: {_scalar(material.sheet)}"]
    lines += [f"{inner}left: {_scalar(material.left)}"] if material.left else []
    lines += [f"{inner}figures:"]
    lines += [f"{inner}  {name}: {_scalar(figure)}" for name, figure in material.figures.items()]
    lines += [f"{inner}borrowed:"] if material.borrowed else []
    lines += [f"{inner}  {name}: {_scalar(other)}" for name, other in material.borrowed.items()]
    return "\n".join(lines) + "\n"


def _scalar(text: str) -> str:
    """Return a text as YAML, in quotes unless it can do without."""
    plain = re.fullmatch(r"[^\W_](?:[\w ./°²³%×±-]|:(?=\w))*", text) and text == text.strip()
    return text if plain else json.dumps(text, ensure_ascii=False)


def _patched(before: str, material: Material) -> str | None:
    """Return the text of a shelf file with only the lines of one material changed; None where its form is another.

    Whether the text says what it should is for the caller to see: not every form that YAML allows is thought of here.
    """
    root = compose(before, "")
    if root.entries is None:
        return None
    items = root.entries["materials"][1].items or ()
    lines = before.splitlines(keepends=True)
    ending = "\r\n" if "\r\n" in before else "\n"
    if not lines[-1].endswith(("\n", "\r")):
        lines[-1] += ending
    for item in items:
        entries = item.entries or {}
        if entries["material"][1].text == material.name:
            figures = entries["figures"][1].entries
            if not figures:
                return None
            break
    else:
        indent = " " * (items[0].column - 3)
        return "".join(lines) + _block(material, indent).replace("\n", ending)
    values = {"kind": material.kind, "title": material.title, "sheet": material.sheet}
    for name, text in values.items():
        _put(lines, entries[name][1], text)
    if "borrowed" in entries:
        _give_back(lines, entries["borrowed"], material)
    last = max(value.line for _, value in figures.values())
    first = next(key for key, _ in figures.values())
    added = [
        f"{' ' * (first.column - 1)}{name}: {_scalar(text)}{ending}"
        for name, text in material.figures.items()
        if name not in figures
    ]
    for name, (_, value) in figures.items():
        if name in material.figures:
            _put(lines, value, material.figures[name])
        else:
            lines[value.line - 1] = ""
    lines[last:last] = added
    _put_left(lines, entries, material.left, ending)
    return "".join(lines)


def _put_left(lines: list[str], entries: Mapping[str, tuple[Node, Node]], left: str, ending: str) -> None:
    """Write how much is left of a material, in its place or on a line of its own before the figures, or take the line out."""
    if "left" in entries:
        key, value = entries["left"]
        if left:
            _put(lines, value, left)
        else:
            lines[key.line - 1] = ""
    elif left:
        figures = entries["figures"][0]
        lines.insert(figures.line - 1, f"{' ' * (figures.column - 1)}left: {_scalar(left)}{ending}")


def _give_back(lines: list[str], borrowed: tuple[Node, Node], material: Material) -> None:
    """Empty the lines of what a material does not borrow any more."""
    key, values = borrowed
    for name, (at, _) in (values.entries or {}).items():
        if name not in material.borrowed:
            lines[at.line - 1] = ""
    if not material.borrowed:
        lines[key.line - 1] = ""


def _begun(before: str, material: Material) -> str:
    """Return the text of a shelf file with its first material under what comments stand there."""
    ending = "\r\n" if "\r\n" in before else "\n"
    head = before if not before or before.endswith(("\n", "\r")) else before + ending
    return head + f"shelf: own\nmaterials:\n{_block(material, '  ')}".replace("\n", ending)


def _put(lines: list[str], node: Node, text: str) -> None:
    """Write a text in place of that of `node`, what follows it on its line left as it is."""
    if " ".join((node.text or "").split()) == text:
        return
    line = lines[node.line - 1]
    start = node.column - 1
    old = re.match(r"""\"(?:[^"\\]|\\.)*\"|'(?:[^']|'')*'|.*?(?=\s+\#|\s*$)""", line[start:])
    if old is not None:
        lines[node.line - 1] = line[:start] + _scalar(text) + line[start + old.end() :]


def _write(path: Path, text: str, wanted: Mapping[str, Material], copy: str | None) -> None:
    """Write a shelf file in place of the one there, which stays until the new one is on the disk and has been read back."""
    target = path.resolve()
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        if copy is not None:
            _write_whole(_free(target.with_name(f"{target.name}.before")), copy)
        temporary = target.with_name(f".{target.name}.{os.getpid()}")
        try:
            _write_whole(temporary, text)
            if not _means(read_file(temporary), wanted):
                raise ShopmateError(
                    f"{path} did not come back from the disk as it was written; the old file is unchanged; check the disk"
                )
            if target.exists():
                shutil.copymode(target, temporary)
            temporary.replace(target)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise ShopmateError(
            f"{path} cannot be written: {error.strerror}; the old file is unchanged; "
            "free some disk space, or check the permissions of its folder"
        ) from None


def _free(path: Path) -> Path:
    """Return the path, numbered if it is taken: an older copy is never written over."""
    free, number = path, 2
    while free.exists():
        free, number = path.with_name(f"{path.name}-{number}"), number + 1
    return free


def _write_whole(path: Path, text: str) -> None:
    """Write a file and wait until it is on the disk."""
    with path.open("wb") as file:
        file.write(text.encode())
        file.flush()
        os.fsync(file.fileno())
