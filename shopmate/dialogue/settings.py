"""What a user sets, in one table: the settings of the project and of this machine, with their words and how each is changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import timedelta

from shopmate import times
from shopmate.calculator import Measure
from shopmate.dialogue import sound
from shopmate.dialogue.asking import Dialogue, Item, choose, enter, say, show, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.recipe import FRESH, FRESH_NAMES, Fresh
from shopmate.records import replace
from shopmate.session import READING_HOLDS
from shopmate.settings import MOST, Settings

_HOLD = Measure("s", low=0, high=MOST["hold_ms"] / 1000)
"""How long Enter may be set to wait in lines."""


def change(desk: Desk) -> Dialogue[None]:
    """Ask which setting to change, until none is left to."""
    while True:
        there = list(_settings(desk))
        chosen = yield from choose(phrase("Settings"), [item for item, _ in there])
        if chosen is None:
            return
        try:
            yield from next(dialogue for item, dialogue in there if item.key == chosen)
        except ShopmateError as error:
            yield from tell(str(error))


def _settings(desk: Desk) -> Iterator[tuple[Item, Dialogue[None]]]:
    """Yield all there is to set here as it stands now, each with the dialogue that changes it."""
    project, own, draws = desk.session.project, desk.settings, desk.face.draws
    metric, light, comma = project.system == "metric", project.theme == "light", own.decimal_mark == ","
    title = phrase("Show inch units" if metric else "Show metric units")
    yield Item("system", title), _change_system(desk)
    if draws:
        title = phrase("Dark theme, for a dark shop" if light else "Light theme, for a lit shop")
        yield Item("theme", title), _change_theme(desk)
    title = phrase("Shop temperature good for {hours:g} h", project.reading_holds / timedelta(hours=1))
    yield Item("reading_holds", title, phrase("after that, measure it again")), _change_reading_holds(desk)
    yield Item("fresh", phrase("How long readings stay good"), phrase("air, humidity, tonight's low, wood")), _change_fresh(desk)
    signs = replace(own, plain_signs=not own.plain_signs)
    title = phrase("Use all characters again" if own.plain_signs else "Plain characters only")
    yield Item("plain_signs", title, phrase("ASCII only, for old terminals")), _keep(desk, signs)
    title = phrase("Decimal point" if comma else "Decimal comma")
    note = phrase("type a comma or a point; working and tables show a point")
    yield Item("decimal_mark", title, note), _keep(desk, replace(own, decimal_mark="." if comma else ","))
    if draws:
        yield (
            Item("keys", phrase("Test this keyboard"), phrase("how fast a held key repeats, and which keys get through")),
            show("keys"),
        )
    else:
        title = phrase("Second Enter ignored for {seconds:g} s", own.hold_ms / 1000)
        note = phrase("so holding the key down counts once")
        yield Item("hold", title, note), _change_hold(desk)
    if desk.watching.can_sound:
        yield Item("sound", phrase("Sound test"), _channels(desk)), sound.test(desk)
    if desk.watching.may_pause(desk.now()):
        yield Item("quiet", phrase("Quiet for 2 minutes"), phrase("a new alarm still sounds")), sound.pause(desk)
    if draws:
        title = phrase("Turn terminal notifications off" if own.notify else "Turn terminal notifications on")
        yield Item("notify", title, phrase("when an alarm comes")), _keep(desk, replace(own, notify=not own.notify))


def _change_system(desk: Desk) -> Dialogue[None]:
    metric = desk.session.project.system == "metric"
    desk.session.set("system", "inch" if metric else "metric", desk.now())
    yield from say(phrase("Now in inch units." if metric else "Now in metric units."), drawn=True)


def _change_theme(desk: Desk) -> Dialogue[None]:
    yield from say(desk.switch_theme(), drawn=True)


_FRESH_OF: Mapping[Fresh, str] = {
    "fresh_shop": "Air, humidity, surface and bottle readings stay good for {time}",
    "fresh_low": "Tonight's low stays good for {time}",
    "fresh_moisture": "Wood moisture reading stays good for {time}",
}
"""For what it is set how long a reading is good, with its words."""


def _change_fresh(desk: Desk) -> Dialogue[None]:
    """Ask which kind of reading, and for how long it is good."""
    project = desk.session.project
    items = [Item(name, phrase(words, times.duration(project.fresh.get(name, FRESH[name])))) for name, words in _FRESH_OF.items()]
    chosen = yield from choose(phrase("How long readings stay good"), items)
    name = next((name for name in FRESH_NAMES if name == chosen), None)
    if (
        name is not None
        and (text := (yield from enter(phrase("How long it stays good"), READING_HOLDS, "h", "fresh"))) is not None
    ):
        desk.session.set(name, text, desk.now())


def _change_reading_holds(desk: Desk) -> Dialogue[None]:
    text = yield from enter(phrase("How long a shop temperature stays good"), READING_HOLDS, "h", "holds")
    if text is not None:
        desk.session.set("reading_holds", text, desk.now())
        yield from say(phrase("A shop temperature now stays good for {time}.", text), drawn=True)


def _change_hold(desk: Desk) -> Dialogue[None]:
    text = yield from enter(phrase("How long a second Enter is ignored"), _HOLD, "s")
    if text is not None:
        yield from _keep(desk, replace(desk.settings, hold_ms=round(_HOLD.read(text).value_in("s") * 1000)))


def _keep(desk: Desk, settings: Settings) -> Dialogue[None]:
    words = desk.change(settings)
    yield from tell(words) if desk.settings_stay else say(words, drawn=True)


def _channels(desk: Desk) -> str:
    """Return what a sound test sounds."""
    bell, command = desk.sounder.has_bell, bool(desk.settings.alarm_command)
    what = phrase("3 beeps and the alarm command") if bell and command else phrase("3 beeps" if bell else "the alarm command")
    return phrase("not tested yet; {sounds}", what) if desk.watching.untested else what
