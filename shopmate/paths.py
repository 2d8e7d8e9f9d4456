"""Where shopmate's files live; the only place that knows folders."""

from __future__ import annotations

import os
from pathlib import Path

from shopmate.errors import UsageError

HOME_VARIABLE = "SHOPMATE_HOME"
"""Environment variable that moves all state to one folder."""


def home() -> Path:
    """Return the folder that holds all state: $SHOPMATE_HOME, else the system's place for user data.

    Raises UsageError where the variable names the home of a user whom the system does not know.
    """
    chosen = os.environ.get(HOME_VARIABLE)
    if chosen:
        try:
            return Path(chosen).expanduser()
        except RuntimeError:
            raise UsageError(f"{HOME_VARIABLE} is '{chosen}': no such user has a home here; give the path of a folder") from None
    import platformdirs

    return platformdirs.user_data_path("shopmate", appauthor=False)


def is_file(path: Path) -> bool:
    """Return whether there is a file at a path; at one that no file can have, such as one too long, there is none."""
    try:
        return path.is_file()
    except OSError:
        return False


def projects() -> Path:
    """Return the folder of project files, one file a project."""
    return home() / "projects"


def demo() -> Path:
    """Return the folder of the demo project, apart from the user's own."""
    return home() / "demo"


def shelf() -> Path:
    """Return the user's shelf file."""
    return home() / "shelf.yaml"


def settings() -> Path:
    """Return the file of the user's settings."""
    return home() / "settings.json"


def words() -> Path:
    """Return the user's own words for what the bench shows."""
    return home() / "words.csv"


def reports() -> Path:
    """Return the folder of fault reports."""
    return home() / "reports"


def backups() -> Path:
    """Return the folder of the backups of projects."""
    return home() / "backups"


def user_recipes() -> Path:
    """Return the folder of the user's own recipes."""
    return home() / "recipes"


def schema(of: str) -> Path:
    """Return the file of the schema of a recipe or an operation, for editors."""
    return Path(__file__).parent / "recipe" / f"{of}.schema.json"


def start_recipe() -> Path:
    """Return the recipe that one of the user's own is written from."""
    return Path(__file__).parent / "recipe" / "start.yaml"


def shipped_recipes() -> Path:
    """Return the folder of the recipes that come with the program.

    A wheel carries them inside the package; in a checkout (editable install) they are the
    top-level `recipes/` folder.
    """
    inside = Path(__file__).parent / "recipes"
    if inside.is_dir():
        return inside
    return inside.parent.parent / "recipes"
