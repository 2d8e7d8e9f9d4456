"""The log of a project as Markdown to read, lines to hear, CSV for a sheet, or JSON for other programs."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, cast

from shopmate import calc, result
from shopmate.calculator import Output
from shopmate.log import Event
from shopmate.units import Quantity

FORMATS = ("md", "lines", "csv", "json")
"""Forms in which a log can be exported."""

_MAIN_FIGURES = 3
"""Outputs of a kept result that stand in its row; JSON has them all."""

_COLUMNS = ("event", "at", "kind", "part", "recipe", "place", "what", "value", "typed", "reason", "taken_back")


def export(events: Sequence[Event], name: str, form: str) -> str:
    """Return the log in one of FORMATS, what was taken back marked as such; Markdown leaves out what forms were filled with."""
    rows = _rows(events)
    if form == "json":
        return json.dumps(
            {"project": name, "events": [{"id": e.id, "at": e.at.isoformat(), "kind": e.kind, "data": e.data} for e in events]},
            ensure_ascii=False,
            indent=2,
        )
    if form == "csv":
        out = io.StringIO()
        writer = csv.DictWriter(out, _COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        return out.getvalue().rstrip("\n")
    return _lines(rows, name) if form == "lines" else _markdown(rows, name)


_WORDS = {
    "project": "Project {name}",
    "opened": "Opened",
    "wall": "Clock of the computer was set",
    "part": "Part {name}",
    "setting": "{name} = {value}",
    "run": "Began {recipe} on {part}",
    "chosen": "Went to another run",
    "seen": "Read {shown}",
    "finished": "Recipe complete",
    "deferred": "Left for later: {headline}",
    "taken up": "Took up: {shown}",
    "dropped": "Not applicable: {headline}",
    "given up": "Gave the run up",
    "again": "Went back to measure again",
    "refused": "No go",
    "alarm": "Alarm {stage}",
    "acknowledged": "Acknowledged {shown}",
    "shelved": "Put off {shown}",
    "returned": "Back from later: {shown}",
    "ended": "Ended {shown}",
    "clock": "Started own clock {clock[title]}",
    "temperature": "Shop temperature",
    "shelf": "Shelf: {material}",
    "sound": "Sound test",
    "kept": "Kept {calculator}",
    "form": "Entered {calculator}",
}
"""What each kind of event is called; a step is called by its headline."""


def _rows(events: Sequence[Event]) -> list[dict[str, str]]:
    undone = {event.data["event"] for event in events if event.kind == "undone"}
    runs: dict[str, tuple[str, str]] = {}
    headlines = {str(event.id): str(event.data.get("shown") or event.data.get("headline") or event.kind) for event in events}
    rows = []
    for event in events:
        data = cast("dict[str, Any]", event.data)
        if event.kind == "run":
            runs[str(event.id)] = (data["part"], " ".join(filter(None, (data["recipe"], data["version"], data.get("date")))))
        part, recipe = runs.get(str(event.id if event.kind == "run" else data.get("run")), ("", ""))
        rows.append(
            {
                "event": str(event.id),
                "at": event.at.astimezone().strftime("%Y-%m-%d %H:%M:%S%z"),
                "kind": event.kind,
                "part": part,
                "recipe": recipe,
                "place": str(data.get("place", "")),
                "what": _what(event, headlines),
                "value": (str(data.get("shown", "")) or _figures(event)) + _moves(event),
                "typed": str(data.get("typed", "")) or _entered(event),
                "reason": str(data.get("reason", "")),
                "taken_back": "yes" if event.id in undone else "",
            }
        )
    return rows


def _what(event: Event, headlines: Mapping[str, str]) -> str:
    if event.kind == "undone":
        return f"Took back: {headlines.get(str(event.data['event']), '')}"
    words = _WORDS.get(event.kind)
    return words.format_map(event.data) if words is not None else str(event.data.get("headline", event.kind))


def _figures(event: Event) -> str:
    """Return the main figures of a kept result, the first of its outputs, '' for other events."""
    if event.kind != "kept":
        return ""
    data = cast("dict[str, Any]", event.data)
    values = {
        name: Quantity(item["value"], item["unit"] or "") if isinstance(item["value"], float) else item["value"]
        for name, item in data["result"]["outputs"].items()
    }
    return "; ".join(map(str, result.figures(values, _outputs(data["calculator"]), None)[:_MAIN_FIGURES]))


def _entered(event: Event) -> str:
    """Return what was entered for a kept result, '' for other events."""
    texts = cast("dict[str, str]", event.data["texts"]) if event.kind == "kept" else {}
    return "; ".join(f"{name} {text}" for name, text in texts.items())


def _outputs(calculator: str) -> Sequence[Output]:
    """Return what a calculator works out; nothing for one that this program does not have, as of a newer one."""
    return calc.find(calculator).outputs if calculator in calc.names() else ()


def _moves(event: Event) -> str:
    """Return what a reading of the shop temperature moved, with both times."""
    moved = cast("list[dict[str, str]]", event.data.get("moved", []))
    texts = (f"; {move['title']} {_local(move['now'])}, was {_local(move['was'])}" for move in moved)
    return "".join(texts)


def _local(moment: str) -> str:
    return f"{datetime.fromisoformat(moment).astimezone():%Y-%m-%d %H:%M}"


def _lines(rows: Sequence[dict[str, str]], name: str) -> str:
    """Return an event a line, as it reads aloud: when, what, its value, and what else was noted."""
    lines, subject = [f"Log of {name}"], None
    for row in rows:
        if row["kind"] == "form":
            continue
        heading = f"{row['recipe']} on {row['part']}" if row["part"] else "Project"
        if heading != subject:
            lines.append(f"{heading}:")
            subject = heading
        said = ", ".join(filter(None, (row["what"], row["value"], *_notes(row))))
        lines.append(f"{row['at'][:19]} {' '.join(said.split())}")
    return "\n".join(lines)


def _notes(row: Mapping[str, str]) -> list[str]:
    """Return what else was noted of an event: that it was taken back, the reason, what was typed."""
    notes = ["taken back"] if row["taken_back"] else []
    notes += [f"reason: {row['reason']}"] if row["reason"] else []
    return notes + ([f"typed {row['typed']}"] if row["typed"] else [])


def _markdown(rows: Sequence[dict[str, str]], name: str) -> str:
    lines = [f"# Log of {name}", ""]
    subject = None
    for row in rows:
        if row["kind"] == "form":
            continue
        heading = f"{row['recipe']} on {row['part']}" if row["part"] else "Project"
        if heading != subject:
            if subject is not None:
                lines.append("")
            lines += [f"## {heading}", "", "| time | step | value | note |", "|---|---|---|---|"]
            subject = heading
        cells = (row["at"][:19], row["what"], row["value"], "; ".join(_notes(row)))
        lines.append("| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |")
    return "\n".join(lines)
