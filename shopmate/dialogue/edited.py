"""A recipe that was edited while a run follows it: offered at the next section, with what has changed."""

from __future__ import annotations

from shopmate.dialogue.asking import Confirm, Dialogue, attempt, confirm, say
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase


def offer(desk: Desk) -> Dialogue[None]:
    """Ask whether the run on the bench goes on by its recipe as it was edited; where it cannot, tell so once."""
    session = desk.session
    edited = session.edition()
    if edited is None:
        return
    title, changes = edited.recipe.title, "; ".join(edited.changes)
    if not edited.fits:
        yield from say(phrase("'{recipe}' was edited, but this run is too far along to use it", title))
        yield from attempt(lambda: session.stay(edited, desk.now()))
        return
    text = phrase("'{recipe}' was edited. Use it from here on?", title)
    if (yield from confirm(Confirm(text, changes, phrase("use it"), phrase("keep the old one")))):
        yield from attempt(lambda: session.go_on_by(edited, desk.now()))
    else:
        yield from attempt(lambda: session.stay(edited, desk.now()))
