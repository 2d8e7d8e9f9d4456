"""A topic of the guide in lines, a few paragraphs at a time."""

from __future__ import annotations

from shopmate.guide import Topic
from shopmate.phrases import phrase
from shopmate.plain.lines import Lines

_ROWS = 6
"""Paragraphs said at once."""


def say_topic(lines: Lines, topic: Topic) -> None:
    """Say a topic until it ends or there is enough of it."""
    rows = [row for block in topic.blocks for row in block]
    lines.say(topic.title)
    for number, row in enumerate(rows, 1):
        lines.say(row.lead + row.text, as_written=True)
        if number % _ROWS == 0 and number < len(rows):
            keys = phrase("Paragraph {number} of {count}. [Enter] more, [/] stop", number, len(rows))
            if not lines.wants_more(keys):
                return
