"""All clocks in lines, with what each is for: a number asks to end one, 0 starts one of the user's own."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import times
from shopmate.clock import Clock
from shopmate.dialogue import clocks
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase
from shopmate.plain.lines import BACK, Lines
from shopmate.plain.talk import talk
from shopmate.session import curve


def say_clocks(lines: Lines, desk: Desk) -> None:
    """Say all clocks and do what is typed to them until they are left."""
    while True:
        running = clocks.numbered(desk.session)
        _say(lines, desk, running)
        last = max(running, default=0)
        end = [phrase("[1 to {count}] end one", last) if last > 1 else phrase("[1] end it")] if running else []
        keys = ", ".join([*end, phrase("[0] your timer"), phrase("[-] named timer"), phrase("[/] back")])
        text = lines.ask(lambda keys=keys: keys)  # type: ignore[misc]
        if text in (BACK, "", "+"):
            return
        if text == "-":
            talk(lines, clocks.start_named(desk))
            continue
        meant = clocks.chosen(desk, int(text)) if text.isdecimal() and len(text) < 6 else None
        if meant is not None:
            talk(lines, meant)
        else:
            lines.say(phrase("'{text}' is not one of them.", text))


def _say(lines: Lines, desk: Desk, running: Mapping[int, Clock]) -> None:
    session, now = desk.session, desk.now()
    lines.say(" · ".join([phrase("Clocks" if running else "No clock is running."), *desk.watching.against_alarms]))
    for number, clock in running.items():
        line = times.line(clock, now)
        lines.say(phrase("{number} {clock}. {action}. If late: {if_late}", number, line, clock.action, clock.if_late))
    seen = [curve.shop(session.project.readings, session.project.clocks.not_over, now, session.project.system)]
    seen += [curve.pot_now(clock, drawn, now) for clock, drawn in curve.pots(session.project)]
    for picture in seen:
        if picture is not None:
            lines.say(picture.said(session.project.system), 2)
