"""What is asked before the three things that are not simply taken back: pass a hold point, give a run up, end a clock."""

from __future__ import annotations

from datetime import datetime

from shopmate import clock as clocks_
from shopmate.clock import Clock
from shopmate.dialogue.asking import Confirm
from shopmate.phrases import phrase
from shopmate.session.run import Run


def pass_hold(headline: str, reason: str) -> Confirm:
    """Return the question before a closed hold point is passed for a reason."""
    return Confirm(
        phrase("Pass '{step}' all the same?", headline),
        phrase("Reason: {reason}. The log keeps it.", reason),
        phrase("pass it"),
        phrase("keep the hold"),
    )


def give_up(run: Run) -> Confirm:
    """Return the question before a run ends before its end."""
    text = phrase("Give up '{recipe}' on {part}?", run.recipe.title, run.part)
    explain = phrase("What was done stays in the log. Its clocks go on: a pot goes on heating. End them one by one under +.")
    return Confirm(text, explain, phrase("give it up"), phrase("keep it"))


def end_clock(clock: Clock, now: datetime) -> Confirm | None:
    """Return the question before a clock is ended, None for one that rules nothing any more: its hold point is open."""
    if not clock.closes and now >= clock.due_at:
        return None
    left = phrase("{time} over" if now > clock.due_at else "{time} left", clocks_.face(clock, now))
    text = phrase("End {clock} ({left})?", clock.title, left)
    return Confirm(text, clock.consequence, phrase("end {clock}", clock.title), phrase("keep it"))
