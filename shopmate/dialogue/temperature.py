"""The temperature of the shop, by which some clocks go: asked for and recorded."""

from __future__ import annotations

from shopmate import times
from shopmate.dialogue.asking import Dialogue, attempt, enter, say
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase
from shopmate.session import SHOP_TEMPERATURE
from shopmate.units import own_unit


def read(desk: Desk) -> Dialogue[None]:
    """Ask for the temperature and record it, with the clocks that it moves."""
    session = desk.session
    before = {clock.key: clock.due_at for clock in session.clocks}
    unit = own_unit("°C", session.project.system)
    text = yield from enter(phrase("Temperature of the shop"), SHOP_TEMPERATURE, unit, "temperature")
    if text is None or not (yield from attempt(lambda: session.log_temperature(text, desk.now(), sure=True))):
        return
    for clock in session.clocks:
        if clock.due_at != before[clock.key]:
            yield from say(phrase("Moved: {clock}.", times.line(clock, desk.now())), drawn=True)
