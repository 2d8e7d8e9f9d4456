"""The log of a project as Markdown to read, lines to hear, CSV for a sheet, or JSON for other programs."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from datetime import datetime

from shopmate.characters import visible
from shopmate.log import Event
from shopmate.project.events import Happened, Recorded, read
from shopmate.project.events.event import Move
from shopmate.project.events.work import RunBegun, TakenBack
from shopmate.written import cell, csv_cell, json_text, markdown

FORMATS = ("md", "lines", "csv", "json")
"""Forms in which a log can be exported."""

_COLUMNS = ("event", "at", "kind", "part", "recipe", "begun", "place", "what", "value", "typed", "reason", "taken_back")


def export(events: Sequence[Event], name: str, form: str) -> str:
    """Return the log in one of FORMATS, what was taken back marked as such; Markdown leaves out what forms were filled with."""
    if form == "json":
        return json_text(
            json.dumps(
                {
                    "project": name,
                    "events": [{"id": e.id, "at": e.at.isoformat(), "kind": e.kind, "data": e.data} for e in events],
                },
                ensure_ascii=False,
                indent=2,
            )
        )
    if form == "csv":
        out = io.StringIO()
        writer = csv.DictWriter(out, _COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows({name: csv_cell(text) for name, text in row.items()} for row in _rows(events, with_asides=True))
        return out.getvalue().rstrip("\n")
    rows, name = _rows(events, with_asides=False), visible(name)
    return _lines(rows, name) if form == "lines" else _markdown(rows, name)


def _rows(events: Sequence[Event], *, with_asides: bool) -> list[dict[str, str]]:
    recorded = [read(event) for event in events]
    undone = {number for event in recorded if isinstance(event.what, TakenBack) for number in event.what.all}
    names = {event.id: event.what.said().shown or event.what.title for event in recorded if event.id in undone}
    runs = {event.key: event for event in recorded if isinstance(event.what, RunBegun)}
    rows = (
        {"event": str(row.id), "at": row.at.astimezone().strftime("%Y-%m-%d %H:%M:%S%z"), "kind": event.kind}
        | _run_of(runs.get(row.key) or runs.get(row.what.of_run or ""))
        | _said(row.what, names)
        | {"taken_back": "yes" if row.id in undone else ""}
        for event, row in zip(events, recorded, strict=True)
        if with_asides or not row.what.said().is_aside
    )
    return [{column: visible(text) for column, text in row.items()} for row in rows]


def _run_of(begun: Recorded | None) -> dict[str, str]:
    """Return the part and the recipe of a run, and when it was begun; nothing of what is of no run."""
    if begun is None or not isinstance(begun.what, RunBegun):
        return {"part": "", "recipe": "", "begun": ""}
    return {"part": begun.what.part, "recipe": begun.what.edition, "begun": _second(begun.at)}


def _headings(rows: Sequence[Mapping[str, str]]) -> list[str]:
    """Return for each row the run that it is of, with its beginning where there are others of its recipe on its part."""
    begun: dict[tuple[str, str], set[str]] = {}
    for row in rows:
        begun.setdefault((row["recipe"], row["part"]), set()).add(row["begun"])
    found = []
    for row in rows:
        named = f"{row['recipe']} on {row['part']}" if row["part"] else "Project"
        alike = len(begun[row["recipe"], row["part"]]) > 1
        found.append(f"{named}, begun {row['begun']}" if alike else named)
    return found


def _said(what: Happened, names: Mapping[int, str]) -> dict[str, str]:
    """Return what is said of an event; `names` are those of the events taken back, by number."""
    said = what.said()
    return {
        "place": str(said.place),
        "what": f"{said.what} {names.get(what.event, '')}" if isinstance(what, TakenBack) else said.what,
        "value": said.shown + "".join(map(_moved, said.moved)),
        "typed": said.typed,
        "reason": said.reason,
    }


def _moved(move: Move) -> str:
    """Return a limit that a reading of the shop temperature moved, with both times."""
    return f"; {move.title} {_local(move.now)}, was {_local(move.was)}"


def _local(moment: datetime) -> str:
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def _second(moment: datetime) -> str:
    """Return a time as the rows begin with, by which the row of it is found."""
    return f"{moment.astimezone():%Y-%m-%d %H:%M:%S}"


def _lines(rows: Sequence[dict[str, str]], name: str) -> str:
    """Return an event a line, as it reads aloud: when, what, its value, and what else was noted."""
    lines, subject = [f"Log of {name}"], None
    for row, heading in zip(rows, _headings(rows), strict=True):
        if heading != subject:
            lines.append(f"{heading}:")
            subject = heading
        said = ", ".join(filter(None, (row["what"], row["value"], *_notes(row))))
        lines.append(f"{row['at'][:19]} {' '.join(said.split())}")
    return "\n".join(lines)


def _notes(row: Mapping[str, str]) -> list[str]:
    """Return what else was noted of an event: that it was taken back, the reason, what was given where the value says it not."""
    notes = ["taken back"] if row["taken_back"] else []
    notes += [f"reason: {row['reason']}"] if row["reason"] else []
    given = row["typed"].casefold()
    is_said = not given or given == row["value"].casefold() or row["value"].casefold().startswith(f"{given} ")
    return notes + ([] if is_said else [f"given as {row['typed']}"])


def _markdown(rows: Sequence[dict[str, str]], name: str) -> str:
    lines = [f"# Log of {markdown(name)}", ""]
    subject = None
    for row, heading in zip(rows, _headings(rows), strict=True):
        if heading != subject:
            if subject is not None:
                lines.append("")
            lines += [f"## {markdown(heading)}", "", "| time | step | value | note |", "|---|---|---|---|"]
            subject = heading
        cells = (row["at"][:19], row["what"], row["value"], "; ".join(_notes(row)))
        lines.append("| " + " | ".join(map(cell, cells)) + " |")
    return "\n".join(lines)
