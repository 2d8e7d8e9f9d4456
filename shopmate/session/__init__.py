"""A project being worked on: recipe, calculators, clocks and log behind one door that screens and commands use."""

from shopmate.errors import Doubt
from shopmate.project import (
    Project,
    Run,
    events_of,
    free_project_name,
    last_project,
    project_path,
    projects,
    running_clocks,
)
from shopmate.project.place import Place
from shopmate.result import Figure
from shopmate.session.files import RecipeFile, find_recipe, recipe_file, recipe_files, recipe_paths, shelf, typical_materials
from shopmate.session.judging import CLOCK_LENGTH, NOT_NEEDED, Judge, Option
from shopmate.session.recorder import NotNow
from shopmate.session.session import PARTS, READING_HOLDS, WHERE, Session
from shopmate.session.timekeeper import PUT_OFF, SHOP_TEMPERATURE
from shopmate.session.view import (
    CautionView,
    ChooseView,
    DoView,
    EndView,
    EnterView,
    FinishedView,
    Frame,
    GateView,
    Line,
    Row,
    RowsView,
    SectionEndView,
    StartView,
    View,
    WaitView,
    WhereLeft,
    WorkOutView,
)

__all__ = [
    "CLOCK_LENGTH",
    "NOT_NEEDED",
    "PARTS",
    "PUT_OFF",
    "READING_HOLDS",
    "SHOP_TEMPERATURE",
    "WHERE",
    "CautionView",
    "ChooseView",
    "DoView",
    "Doubt",
    "EndView",
    "EnterView",
    "Figure",
    "FinishedView",
    "Frame",
    "GateView",
    "Judge",
    "Line",
    "NotNow",
    "Option",
    "Place",
    "Project",
    "RecipeFile",
    "Row",
    "RowsView",
    "Run",
    "SectionEndView",
    "Session",
    "StartView",
    "View",
    "WaitView",
    "WhereLeft",
    "WorkOutView",
    "events_of",
    "find_recipe",
    "free_project_name",
    "last_project",
    "project_path",
    "projects",
    "recipe_file",
    "recipe_files",
    "recipe_paths",
    "running_clocks",
    "shelf",
    "typical_materials",
]
