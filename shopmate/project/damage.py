"""What is wrong with the events of a project file, in words, and what helps against it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from shopmate import paths
from shopmate.log import Damage, named
from shopmate.phrases import phrase
from shopmate.project.backups import naming_backup
from shopmate.project.project import REFERS, UNFIT


def trouble(path: Path, damages: Sequence[Damage], left_out: Mapping[int, str]) -> str:
    """Return what is damaged in a project file, or not understood, and what to do; '' where it can be worked on.

    `left_out` are the events that the project was folded without. Those of a run that is lost are none of it by themselves:
    in a file that was mended that is known and over.
    """
    what = named([*damages, *(Damage(number, phrase(why)) for number, why in left_out.items())])
    if damages or UNFIT in left_out.values():
        project = path.stem if path.parent == paths.projects() else path
        words = phrase("{path} is damaged: {what}; leave, then run 'shopmate mend {project}'", path, what, project)
        return naming_backup(words, path)
    if any(why != REFERS for why in left_out.values()):
        return phrase("{path} has entries this version cannot read: {what}; update shopmate", path, what)
    return ""
