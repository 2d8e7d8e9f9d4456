"""A damaged project mended."""

from __future__ import annotations

import sys
from argparse import Namespace

from shopmate.cli.project_file import project_file
from shopmate.errors import DamagedFile
from shopmate.project.backups import naming_backup
from shopmate.project.mend import mend


def run(arguments: Namespace) -> None:
    """Put a file of the sound events of a project in its place, and say what is lost."""
    path = project_file(arguments.project)
    try:
        mended = mend(path, arguments.now())
    except DamagedFile as error:
        raise DamagedFile(naming_backup(str(error), path)) from error
    if mended is None:
        print(f"shopmate: nothing is damaged in {path}", file=sys.stderr)
        return
    print(path)
    print(
        f"shopmate: mended, {mended.sound} events are as recorded; lost or damaged: {mended.lost}; "
        f"the damaged file is kept as {mended.aside}",
        file=sys.stderr,
    )
