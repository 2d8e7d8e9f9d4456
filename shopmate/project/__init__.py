"""A project as its log tells it: the kinds of events, the fold over them, and the files that hold them."""

from shopmate.project.files import (
    events_of,
    free_project_name,
    last_project,
    project_path,
    projects,
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
    "project_path",
    "projects",
    "running_clocks",
]
