"""What a user sets, in one table: the settings of the project and of this machine, with their words and how each is changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

from shopmate.calculator import Measure
from shopmate.dialogue import sound
from shopmate.dialogue.asking import Dialogue, Item, choose, enter, say, show, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.session import READING_HOLDS
from shopmate.settings import MOST, Settings

_HOLD = Measure("s", low=0, high=MOST["hold_ms"] / 1000)
"""How long Enter may be set to wait in lines."""


@dataclass(frozen=True, slots=True)
class _Setting:
    """One thing to set: its words as it stands now, and how it is changed."""

    key: str
    item: Callable[[Desk], tuple[str, str]]
    change: Callable[[Desk], Dialogue[None]]
    is_there: Callable[[Desk], bool] = lambda desk: True
    """Whether it is in the list."""


def change(desk: Desk) -> Dialogue[None]:
    """Ask which setting to change, until none is left to."""
    while True:
        there = {setting.key: setting for setting in _SETTINGS if setting.is_there(desk)}
        items = [Item(setting.key, *setting.item(desk)) for setting in there.values()]
        chosen = yield from choose(phrase("Settings"), items)
        if chosen is None:
            return
        try:
            yield from there[chosen].change(desk)
        except ShopmateError as error:
            yield from tell(str(error))


# Of the project


def _draws(desk: Desk) -> bool:
    return desk.face.draws


def _system(desk: Desk) -> tuple[str, str]:
    return phrase("Show inch units" if desk.session.project.system == "metric" else "Show metric units"), ""


def _change_system(desk: Desk) -> Dialogue[None]:
    metric = desk.session.project.system == "metric"
    desk.session.set("system", "inch" if metric else "metric", desk.now())
    yield from say(phrase("Shown in inch units now." if metric else "Shown in metric units now."), drawn=True)


def _theme(desk: Desk) -> tuple[str, str]:
    light = desk.session.project.theme == "light"
    return phrase("Dark theme, for a dark shop" if light else "Light theme, for a lit shop"), ""


def _change_theme(desk: Desk) -> Dialogue[None]:
    yield from say(desk.switch_theme(), drawn=True)


def _reading_holds(desk: Desk) -> tuple[str, str]:
    hours = desk.session.project.reading_holds / timedelta(hours=1)
    return phrase("A reading holds for {hours:g} h", hours), phrase("of the shop temperature; then the clocks ask anew")


def _change_reading_holds(desk: Desk) -> Dialogue[None]:
    text = yield from enter(phrase("How long a shop temperature holds"), READING_HOLDS, "h", "holds")
    if text is not None:
        desk.session.set("reading_holds", text, desk.now())
        yield from say(phrase("A reading holds for {time} now.", text), drawn=True)


# Of this machine


def _keep(desk: Desk, settings: Settings) -> Dialogue[None]:
    words = desk.change(settings)
    if desk.settings_stay:
        yield from tell(words)
    else:
        yield from say(words, drawn=True)


def _plain_signs(desk: Desk) -> tuple[str, str]:
    return phrase("All signs again" if desk.settings.plain_signs else "Plain signs only"), phrase("7 bits, for old terminals")


def _change_plain_signs(desk: Desk) -> Dialogue[None]:
    return _keep(desk, replace(desk.settings, plain_signs=not desk.settings.plain_signs))


def _decimal_mark(desk: Desk) -> tuple[str, str]:
    title = phrase("Decimal point" if desk.settings.decimal_mark == "," else "Decimal comma")
    return title, phrase("both are understood; working and tables keep the point")


def _change_decimal_mark(desk: Desk) -> Dialogue[None]:
    return _keep(desk, replace(desk.settings, decimal_mark="." if desk.settings.decimal_mark == "," else ","))


def _keys(desk: Desk) -> tuple[str, str]:
    return phrase("Keys of this keyboard"), phrase("how it repeats, which keys arrive")


def _hold(desk: Desk) -> tuple[str, str]:
    title = phrase("Enter waits {seconds:g} s", desk.settings.hold_ms / 1000)
    return title, phrase("after another line, so that a key held down counts once")


def _change_hold(desk: Desk) -> Dialogue[None]:
    text = yield from enter(phrase("How long Enter waits after another line"), _HOLD, "s")
    if text is not None:
        yield from _keep(desk, replace(desk.settings, hold_ms=round(_HOLD.read(text).value_in("s") * 1000)))


def _sound(desk: Desk) -> tuple[str, str]:
    bell, command = desk.sounder.has_bell, bool(desk.settings.alarm_command)
    sounds = phrase("3 beeps and the alarm command") if bell and command else phrase("3 beeps" if bell else "the alarm command")
    return phrase("Sound test"), sounds


def _quiet(desk: Desk) -> tuple[str, str]:
    return phrase("Quiet for 2 minutes"), phrase("a new alarm sounds all the same")


def _notify(desk: Desk) -> tuple[str, str]:
    title = phrase("Notifications of the terminal off" if desk.settings.notify else "Notifications of the terminal on")
    return title, phrase("at an alarm")


def _change_notify(desk: Desk) -> Dialogue[None]:
    return _keep(desk, replace(desk.settings, notify=not desk.settings.notify))


_SETTINGS = (
    _Setting("system", _system, _change_system),
    _Setting("theme", _theme, _change_theme, _draws),
    _Setting("reading_holds", _reading_holds, _change_reading_holds),
    _Setting("plain_signs", _plain_signs, _change_plain_signs),
    _Setting("decimal_mark", _decimal_mark, _change_decimal_mark),
    _Setting("keys", _keys, lambda desk: show("keys"), _draws),
    _Setting("hold", _hold, _change_hold, lambda desk: not desk.face.draws),
    _Setting("sound", _sound, sound.test, lambda desk: desk.watching.can_sound),
    _Setting("quiet", _quiet, sound.pause, lambda desk: desk.watching.may_pause(desk.now())),
    _Setting("notify", _notify, _change_notify, _draws),
)
"""All settings in the order of their list."""
