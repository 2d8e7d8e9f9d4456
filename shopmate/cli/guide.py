"""The guide: its topics, or one of them."""

from __future__ import annotations

from argparse import Namespace

from shopmate import guide
from shopmate.cli.parser import columns
from shopmate.guide import Row


def run(arguments: Namespace) -> None:
    """List the topics, or print one in lines that fit the terminal."""
    width = columns()
    if arguments.topic is None:
        room = max(map(len, guide.names())) + 2
        topics = map(guide.load, guide.names())
        lines = [line for topic in topics for line in Row(topic.about, topic.name.ljust(room), " " * room).lines(width)]
    else:
        topic = guide.load(arguments.topic)
        lines = [topic.title, "", *topic.lines(width)]
    print("\n".join(lines))
