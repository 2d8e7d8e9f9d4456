"""A project as its log tells it: the kinds of events, the fold over them, and the files that hold them."""

from shopmate.project.damage import trouble
from shopmate.project.files import (
    events_of,
    free_project_name,
    last_project,
    project_of,
    project_path,
    projects,
    recorded_in,
    running_clocks,
)
from shopmate.project.project import Project
from shopmate.project.run import Run

__all__ = [
    "Project",
    "Run",
    "events_of",
    "free_project_name",
    "last_project",
    "project_of",
    "project_path",
    "projects",
    "recorded_in",
    "running_clocks",
    "trouble",
]
