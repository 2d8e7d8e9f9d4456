"""Count what becomes of a project file of which single bytes are changed, anywhere in it.

Run: python tests/bench/damage.py [count] [seed]. Each time one byte of a file with a day's events, and with texts half typed,
gets another value, and the project is opened. Counted are:

- same: all events are there and none is named as damaged
- named: it opens READ ONLY; every event that is shown is as it was recorded, and each other one is named
- refused: it is not opened, and the error names the file
- other: any other exception; there may be none
- silent: an event is missing or not as it was recorded, and no word is said; there may be none
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shopmate.errors import LogError
from shopmate.log import LOST, Event, Log
from shopmate.project import history
from shopmate.project.events import read
from shopmate.project.fold import fold
from shopmate.session import Session, shelf
from shopmate.session.demo import build

NOW = datetime(2026, 5, 4, 8, tzinfo=UTC)
LATER = NOW + timedelta(minutes=1)

ANSWERS = ("same", "named", "refused", "other", "silent")


def project(folder: Path) -> Path:
    """Make a project file of a day's events with two texts half typed, and return it."""
    path = folder / "hide.shopmate"
    history.LEAST = 1  # so that there is a checkpoint, which can be damaged too
    build(path, NOW)
    with Log(path) as log:
        log.keep_typing("form bead length", "85.", "mm")
        log.keep_typing("own clock", "12", "min")
    return path


def tried(path: Path, events: Sequence[Event], typing: object) -> str:
    """Return which of the answers a damaged file gives."""
    try:
        session = Session.open(path, LATER, shelf())
        try:
            for _ in range(3):  # in which all of it is proved
                session.keep_safe(LATER)
            got, damages, is_read_only = session.log.events(), session.log.damages, bool(session.read_only)
            why = session.why_read_only
            typed, runs = session.log.typing(), dict(session.project.runs)
            session.view(LATER)
            shown = dict(fold([read(event) for event in events], path.stem).runs)
        finally:
            session.close()
    except LogError as error:
        return "refused" if path.name in str(error) else "other"
    except Exception as error:
        print(repr(error), file=sys.stderr)
        return "other"
    if not damages and is_read_only and path.name in why:
        return "named" if got[: len(events)] == events else "silent"
    if not damages:
        return "same" if not is_read_only and (got[: len(events)], typed, runs) == (events, typing, shown) else "silent"
    numbers = {damage.number for damage in damages}
    wrong = [
        event for event, was in zip(got, events, strict=False) if event != was and (event.kind != LOST or event.id not in numbers)
    ]
    return "silent" if wrong or len(got) < len(events) or not is_read_only else "named"


def count(times: int, seed: int, folder: Path) -> Counter[str]:
    """Return how many of the changed files gave which answer."""
    rng, path = random.Random(seed), project(folder)
    whole = path.read_bytes()
    with Log(path, read_only=True) as log:
        events, typing = log.events(), log.typing()
    found = Counter(dict.fromkeys(ANSWERS, 0))
    for _ in range(times):
        changed, place = bytearray(whole), rng.randrange(len(whole))
        changed[place] ^= rng.randrange(1, 256)
        path.write_bytes(changed)
        answer = tried(path, events, typing)
        found[answer] += 1
        if answer in ("other", "silent"):
            print(f"byte {place}: {whole[place]} to {changed[place]}: {answer}", file=sys.stderr)
    return found


def main(times: int, seed: int) -> int:
    """Print the counts; the exit code is 1 where an answer came that may not be."""
    with tempfile.TemporaryDirectory() as folder:
        found = count(times, seed, Path(folder))
    print(", ".join(f"{answer} {found[answer]}" for answer in ANSWERS))
    return int(bool(found["other"] or found["silent"]))


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in [*sys.argv[1:3], "2000", "1"][:2])))
