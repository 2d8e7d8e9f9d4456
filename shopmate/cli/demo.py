"""Open the demo project."""

from __future__ import annotations

from argparse import Namespace

from shopmate.cli.bench import need_streams, open_bench
from shopmate.session.demo import demo_project


def run(arguments: Namespace) -> int:
    """Open the demo project, in a folder of its own."""
    need_streams()
    return open_bench(demo_project(arguments.now(), fresh=arguments.fresh), arguments.now, plain=arguments.plain)
