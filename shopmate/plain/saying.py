"""What is said at a step in lines: the step, its section, where the work was left, the last of the log, what can be typed."""

from __future__ import annotations

from datetime import datetime

from shopmate import clock as clocks_
from shopmate import times
from shopmate.dialogue.asking import Item
from shopmate.dialogue.step import Said, alone, answers, said
from shopmate.phrases import blanks, phrase
from shopmate.plain.lines import Lines
from shopmate.session import CautionView, ChooseView, Line, RowsView, Session, View

HELP = (
    "Enter on an empty line does the step, or uses what is offered.",
    "Type a number to choose, or the value asked for: 12, 1.5, 3/4, 1-1/2, with a unit (12 mm) or without.",
    "- undoes the last thing done. * acknowledges an alarm or a caution, nothing else.",
    ". snoozes an alarm. + lists the clocks. / opens the calculators and everything else.",
    "At a hold point that says NO GO, 0 overrides with a reason, 1 measures again. Where a step can wait, 0 leaves it.",
    "{quiet} pauses the sound of an alarm for 2 minutes; a new alarm still sounds.",
    "Words work too: {again} (says the step again), {where} (this section), {clocks}, {more}, {back}, {leave}, {help}.",
    "Everything is recorded as it is done.",
)
"""What can be typed at a step."""


def say_step(lines: Lines, session: Session, view: View, now: datetime) -> None:
    """Say the step in hand with its place, its words, figures and answers, and the clock that rules."""
    frame = view.frame
    later = phrase("{count} for later", frame.for_later) if frame.for_later else ""
    place = ", ".join(filter(None, (frame.section, frame.where, later)))
    if isinstance(view, CautionView):
        lines.say(phrase("{place}. Read this before the step:", place))
        lines.say(f"{phrase(view.signal)}: {' '.join(frame.detail)}")
        return
    lines.say(f"{place}: {view.headline}" if frame.section else f"{view.headline}: {place}")
    if frame.condition:
        lines.say(phrase("This applies {condition}.", frame.condition), 2)
    for text in frame.detail:
        if text != frame.section:  # said already
            lines.say(text, 2)
    for text in frame.notices:
        lines.say(f"{phrase('NOTICE')}: {text}", 2)
    _say_words(lines, said(view))
    _say_rows(lines, view)
    if alone(view) is None:
        offered = view.offered if isinstance(view, ChooseView) else None
        lines.list([Item(o.key, phrase("{answer} (offered)", o.label) if o is offered else o.label) for o in answers(view)])
    _say_ruling(lines, session, now)


def _say_words(lines: Lines, words: Said) -> None:
    """Say what a step says under its headline and details."""
    if words.late:
        lines.say(f"{phrase('LATE')}: {words.late}")
    for problem in words.problems:
        lines.say(phrase("Missing: {problem}", problem))
    if words.go is not None:
        lines.say(": ".join(filter(None, (phrase("GO" if words.go else "NO GO"), words.judged))))
    for text in (words.if_no, *map(str, words.figures), words.advice):
        if text:
            lines.say(text, 2)
    for warning in words.warnings:
        lines.say(phrase("Caution: {caution}", warning), 2)


def _say_rows(lines: Lines, view: View) -> None:
    """Say the steps that are taken together, each with its number, what it is and how that is judged."""
    for row in view.frame.rows:
        if row.mark == "asked" and not row.note:  # the question follows by itself, but not how old its answer is, nor its limits
            continue
        head = f"{row.number} {row.label}" if row.number and isinstance(view, RowsView) else row.label
        done = phrase("done") if row.mark == "done" and not row.value else ""
        told = ", ".join(filter(None, (row.value, row.note, row.verdict, done)))
        lines.say(f"{head}: {told}" if told else head, 2)
        for text in row.detail:
            lines.say(text, 4)


def _say_ruling(lines: Lines, session: Session, now: datetime) -> None:
    """Say the clock that rules, and how many more there are."""
    ruling, more = clocks_.governing(session.clocks, now), len(session.clocks) - 1
    if ruling is None:
        return
    line = times.line(ruling, now)
    if more > 1:
        line = phrase("{clock}; {count} more clocks", line, more)
    elif more:
        line = phrase("{clock}; 1 more clock", line)
    lines.say(line)


def say_section(lines: Lines, view: View | None) -> None:
    """Say the steps of the section in hand with what became of them."""
    if view is None or not view.frame.outline:
        lines.say(phrase("No section is open."))
        return
    lines.say(f"{view.frame.section}, {view.frame.where}:")
    for number, line in enumerate(view.frame.outline, 1):
        lines.say(f"{number} {_outlined(line)}")
    if view.frame.ahead:
        lines.say(f"{view.frame.ahead[0].upper()}{view.frame.ahead[1:]}.")


def _outlined(line: Line) -> str:
    """Return a step of the outline in words."""
    when = f"{line.condition}, " if line.condition else ""
    return f"{when}{line.text}: {phrase(line.mark)}" + (f", {line.shown}" if line.shown else "")


def say_where_left(lines: Lines, session: Session, since: datetime | None, now: datetime) -> None:
    """Say, to somebody who comes back after that time, which step was done last and which is begun."""
    here = session.where_left(since, now) if since is not None else None
    if here is None:
        return
    lines.say(phrase("YOU WERE HERE, {ago}: {recipe} on {part}", here.away, session.run.recipe.title, session.run.part))
    lines.say(phrase("Last done: {step}, {answer}", here.last, here.shown), 2)
    lines.say(phrase("Started: {step}", here.begun), 2)


def say_help(lines: Lines) -> None:
    """Say what can be typed."""
    for text in HELP:
        lines.say(phrase(text, *blanks(text)))  # what is typed is called in every language as it is typed
