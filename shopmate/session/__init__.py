"""A project being worked on: recipe, calculators, clocks and log behind one door that screens and commands use."""

from shopmate.errors import Doubt
from shopmate.result import Figure
from shopmate.session.files import (
    RecipeFile,
    events_of,
    find_recipe,
    free_project_name,
    last_project,
    project_path,
    projects,
    recipe_files,
    running_clocks,
    shelf,
)
from shopmate.session.project import Project
from shopmate.session.run import Run
from shopmate.session.session import PARTS, READING_HOLDS, SHOP_TEMPERATURE, NotNow, Session
from shopmate.session.view import CLOCK_LENGTH, PUT_OFF, Here, Line, Option, View

__all__ = [
    "CLOCK_LENGTH",
    "PARTS",
    "PUT_OFF",
    "READING_HOLDS",
    "SHOP_TEMPERATURE",
    "Doubt",
    "Figure",
    "Here",
    "Line",
    "NotNow",
    "Option",
    "Project",
    "RecipeFile",
    "Run",
    "Session",
    "View",
    "events_of",
    "find_recipe",
    "free_project_name",
    "last_project",
    "project_path",
    "projects",
    "recipe_files",
    "running_clocks",
    "shelf",
]
