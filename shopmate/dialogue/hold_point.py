"""A closed hold point passed for a reason, once that is confirmed."""

from __future__ import annotations

from shopmate.dialogue.asking import Confirm, Dialogue, attempt, confirm
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase


def pass_it(desk: Desk, headline: str, reason: str) -> Dialogue[None]:
    """Pass the hold point in hand for a reason, which the log keeps."""
    text = phrase("Pass '{step}' all the same?", headline)
    explain = phrase("Reason: {reason}. The log keeps it.", reason)
    if not (yield from confirm(Confirm(text, explain, phrase("pass it"), phrase("keep the hold")))):
        return

    def act() -> str:
        done = desk.session.override(reason, desk.now())
        return done if desk.face.draws else f"{done}: {headline}, {reason}"

    yield from attempt(act)
