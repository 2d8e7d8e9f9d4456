"""The sound of alarms: tried, and paused while an alarm sounds."""

from __future__ import annotations

from shopmate.dialogue.asking import Dialogue, Item, attempt, choose, say
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase


def menu(desk: Desk) -> Dialogue[None]:
    """Ask what to do about the sound: try it, or pause it while an alarm sounds."""
    items = [Item("test", phrase("Sound test"), phrase("3 beeps, and the alarm command if there is one"))]
    if desk.watching.may_pause(desk.now()):
        items.append(Item("quiet", phrase("Quiet for 2 minutes"), phrase("a new alarm still sounds")))
    chosen = yield from choose(phrase("Sound"), items)
    if chosen == "test":
        yield from test(desk)
    elif chosen == "quiet":
        yield from pause(desk)


def test(desk: Desk) -> Dialogue[None]:
    """Sound every channel and ask whether the beeps were heard; the answer is recorded."""
    explain = phrase("Stand where you work, with the fan running and your respirator and ear defenders on.")
    desk.watching.try_sound()
    if not desk.sounder.has_bell:
        yield from say(explain)
        yield from say(phrase("The alarm command is running. There is no terminal here, so no bell."))
        return
    items = [Item("yes", phrase("Yes")), Item("no", phrase("No"))]
    answer = yield from choose(phrase("Did you hear 3 beeps?"), items, leave="later", explain=explain)
    if answer is None:
        return
    heard = answer == "yes"

    def record() -> str:
        desk.watching.log_heard(heard, desk.now())
        return phrase("RECORDED: 3 beeps heard" if heard else "RECORDED: 3 beeps not heard")

    yield from attempt(record)


def pause(desk: Desk) -> Dialogue[None]:
    """Sound nothing of what calls now for two minutes."""
    yield from say(desk.watching.pause(desk.now()), drawn=True)
