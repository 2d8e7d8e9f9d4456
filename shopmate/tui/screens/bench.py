"""The bench: the step in hand, large, with the clocks always in sight."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import assert_never

from textual import events
from textual.containers import Horizontal, Vertical
from textual.geometry import Size
from textual.widget import Widget

from shopmate import units
from shopmate.calculator import Measure
from shopmate.dialogue import clocks, edited, work
from shopmate.dialogue.asking import Dialogue, show
from shopmate.dialogue.step import (
    Asking,
    AtOnce,
    Odd,
    StepKey,
    Taken,
    Wrong,
    alone,
    answers,
    give,
    keys,
    leave,
    parted,
    row,
    said,
    take,
    take_back,
)
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.project.place import Place
from shopmate.session import CautionView, ChooseView, EnterView, FinishedView, Option, Row, RowsView, Session, View
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.cautions import CautionsScreen
from shopmate.tui.talk import TalkingApp
from shopmate.tui.widgets import key_line, side
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.clock_band import ClockBand, leading
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.numbered import Numbered
from shopmate.tui.widgets.side import Side
from shopmate.tui.widgets.step_panel import Coming, StepPanel, least_rows

PAUSE = timedelta(seconds=60)
"""How long without a key is an interruption: what was done last is said then (NASA studies of interrupted work: 37 to 117 s)."""

MOST_OFFERS = 6
"""Keys of the key line at most: more are not read at a glance."""


class BenchScreen(KeyedScreen[None]):
    """Follows the run on the bench; every key is answered by the session, whose view is drawn anew."""

    app: TalkingApp

    keeps_alarm_row = True

    def __init__(self) -> None:
        super().__init__()
        self.view: View | None = None
        self.drawn_for: Size | None = None
        """Size of the screen as it was drawn last."""
        self.doubted: str | None = None
        """The text that was asked about and is taken when it is given once more."""
        self.shown_place: tuple[object, ...] | None = None
        """Project, run and place that are shown."""
        self.may_be_edited = False
        """Whether another step is shown since an edited recipe was looked for."""
        self.offering = False
        """Whether an edited recipe is being offered."""
        self.asked: Place | None = None
        """Which of several steps that are taken together was chosen to be answered; None for the one in hand."""
        self.worked: tuple[object, ...] | None = None
        """Project and run that are shown."""
        self.paged: tuple[object, ...] | None = None
        """Of which place the pages of several steps are turned."""
        self.asked_for: tuple[object, ...] | None = None
        """What the entry was opened for; a text typed for another run or place is not kept."""
        self.left_at: datetime | None = None
        """When the last key was pressed here, or the last thing done before the project was opened."""
        self.stops = False
        """Whether somebody who comes back has to say first that the work goes on."""

    def body(self) -> Sequence[Widget]:
        return (Horizontal(Vertical(StepPanel(), Numbered(wraps=True), Entry(), Coming(), ClockBand()), Side()),)

    @property
    def has_side(self) -> bool:
        """Whether there is room beside the step."""
        return self.app.size.width >= side.WIDE and self.app.size.height >= side.HIGH

    @property
    def columns(self) -> int:
        """The columns of the step."""
        return self.app.size.width - (side.COLUMNS if self.has_side else 0)

    def on_mount(self) -> None:
        # The framework calls the method of the base class too, after this one.
        if self.app.has_session:  # the first frame is the step in hand
            self.come_back(self.app.session)
            self.refresh_view()
        self.call_after_refresh(self.app.start_work)

    def on_resize(self, event: events.Resize) -> None:
        if event.size != self.drawn_for:
            self.call_after_refresh(self.refresh_view)

    def refresh_view(self) -> None:
        """Ask the session what to show, and show it."""
        app = self.app
        self.drawn_for = app.size
        self.query_one(Side).display = self.has_side
        worked = (app.session.log.path, app.session.project.current) if app.has_session else None
        if self.worked != worked:
            self.worked, self.asked = worked, None
        self.view = app.session.view(app.now(), self.asked) if app.has_session and app.session.project.run is not None else None
        view, panel, coming = self.view, self.query_one(StepPanel), self.query_one(Coming)
        if view is not None:
            run = app.session.run
            panel.project = f"{app.session.project.name} · {run.part} · {run.recipe.title}"
            place = (app.session.log.path, run.key, view.place)
            if self.shown_place != place:
                app.guard.move()
                self.doubted, self.may_be_edited = None, True
            self.shown_place = place
            if isinstance(view, RowsView) and self.paged != place:
                self.paged, panel.page = place, 0
            if isinstance(view, FinishedView):
                self.stops = False
            self.show_answers(view)
            self.show_entry(view)
        else:
            self.ask_nothing()
        self.show_here()
        panel.cautions_key = "." if view is not None and self.offers_cautions(view) else ""
        panel.view = coming.view = self.query_one(Side).view = view
        panel.has_side = coming.has_side = self.has_side
        self.refresh_clocks()
        self.show_offers()
        panel.refresh(layout=True)
        coming.refresh()
        if self.may_be_edited and not (self.stops or self.offering):
            self.may_be_edited = False
            self.offering = app.has_session and app.session.edition() is not None
            if self.offering:
                app.start_dialogue(self.offer_edited())

    def offer_edited(self) -> Dialogue[None]:
        """Offer the edited recipe of the run, one offer at a time."""
        try:
            yield from edited.offer(self.app.desk)
        finally:
            self.offering = False

    def show_offers(self) -> None:
        super().show_offers()
        # What a key or an alarm changes in the entry and the key line takes rows, or gives some back.
        more = self.has_more
        self.make_room()
        if self.has_more != more:  # so it does among several steps, whose Enter shows the rest of them first
            super().show_offers()

    # Coming back

    def come_back(self, session: Session) -> None:
        """Stop at the step in hand of a project just opened, as far as it was worked on before."""
        self.left_at = session.left_at
        self.stops = session.left_at is not None and session.where_left(session.left_at, self.app.now()) is not None

    def show_here(self) -> None:
        """Show where somebody was who comes back: until it is gone on, or in passing after a pause."""
        app, panel = self.app, self.query_one(StepPanel)
        away = self.left_at is not None and (self.stops or app.now() - self.left_at > PAUSE)
        panel.where_left = (
            app.session.where_left(self.left_at, app.now()) if away and app.has_session and self.left_at is not None else None
        )
        panel.stops = self.stops

    def take_over(self) -> None:
        """Go on from where the window that worked on the project was shut, what was half typed in it included."""
        if self.query_one(Entry).text:
            self.keep_typed()
        else:
            self.asked_for = None
        self.refresh_view()

    def touched(self) -> None:
        """Note that somebody is here: what was said in passing is gone."""
        self.left_at = self.app.now()

    def after_alarm(self, *, called_away: bool) -> None:
        """Stop at the step in hand after an alarm that `called_away` from it was seen, unless that is in the way of the hands.

        It would be while a value is being typed too; what was done last is then said in passing, as after a pause.
        """
        session, now = self.app.session, self.app.now()
        if called_away and not self.query_one(Entry).text:
            self.stops = self.left_at is not None and session.where_left(self.left_at, now) is not None
            self.refresh_view()

    def go_on(self) -> None:
        """Go on with the step in hand; nothing else is done."""
        self.stops = False
        self.touched()
        self.refresh_view()

    def on_key(self, event: events.Key) -> None:
        # The framework hands the key on to the same method of the base class, which answers it.
        if not self.stops:
            self.touched()
            self.show_here()

    def show_answers(self, view: View) -> None:
        """Show the answers a digit chooses: to the step, or which step for later is taken up."""
        options, offered = answers(view), None
        labels = [option.label for option in options]
        if isinstance(view, ChooseView) and view.offered is not None:
            offered = options.index(view.offered) + 1
        numbered = self.query_one(Numbered)
        numbered.display = bool(labels) and alone(view) is None and not self.stops
        if dict(enumerate(labels, 1)) != numbered.choices:
            numbered.ask(dict(enumerate(labels, 1)), offered)

    def make_room(self) -> None:
        """Give the step what rows the rest of the screen leaves."""
        numbered, entry, size = self.query_one(Numbered), self.query_one(Entry), self.app.size
        small, entering = self.has_class("small"), self.has_class("entering")
        self.query_one(StepPanel).typing = entering and bool(entry.text)
        rest = self.free_rows() - (numbered.get_content_height(size, size, self.columns) if numbered.display else 0)
        if small and entering and entry.text and not self.stops:
            self.make_room_for_value(rest)
        else:
            self.make_room_for_clocks(rest - (entry.fit(self.columns - 2, 0 if small else None) if entering else 0))

    def make_room_for_value(self, rest: int) -> None:
        """Give what is typed on a small screen its rows of the `rest`: the clocks have one row, the step one or two."""
        entry, coming = self.query_one(Entry), self.query_one(Coming)
        band, panel, size = self.query_one(ClockBand), self.query_one(StepPanel), self.app.size
        band.brief = True
        rest -= band.get_content_height(size, size, size.width)
        # The value is large before the headline has a row of its own: else that stands beside the place.
        typed = entry.fit(size.width - 2, rest - 2)
        if entry.value is not None and not entry.is_large:
            typed = entry.fit(size.width - 2, rest - 1)
        panel.room = 2 if typed <= rest - 2 else 1
        coming.display = typed + panel.room < rest

    def make_room_for_clocks(self, rest: int) -> None:
        """Share the `rest` of the rows: the clocks are large where the step has its least rows beside them."""
        band, panel, size, view = self.query_one(ClockBand), self.query_one(StepPanel), self.app.size, self.view
        width = self.columns
        least = least_rows(view, width, stops=self.stops) if view is not None else 2
        band.brief = False
        band.brief = rest - band.get_content_height(size, size, width) < least
        panel.room = room = max(2, rest - band.get_content_height(size, size, width))
        # A widget that takes what is left takes a row even where none is.
        self.query_one(Coming).display = room > panel.get_content_height(size, size, width)

    def refresh_clocks(self) -> None:
        """Show the clocks and the alarm as they stand now."""
        app, now = self.app, self.app.now()
        if app.has_session:
            app.record_alarms(now)
        clocks = tuple(app.session.clocks) if app.has_session else ()
        band = self.query_one(ClockBand)
        band.slots = app.session.slots if app.has_session else {}
        band.waited = app.session.waited_for if app.has_session else ""
        leads = leading(clocks, band.waited, now)
        # Those beside the step stand there with their parts, and once.
        band.clocks, band.now = (clocks if not self.has_side or leads is None else (leads,)), now
        beside = self.query_one(Side)
        beside.clocks, beside.leads, beside.now = clocks, leads, now
        old = app.has_session and app.session.wants_temperature(now)
        band.note = phrase("! Shop temperature reading is old: press / . to measure. Clocks depend on it") if old else ""
        self.query_one(AlarmLine).silent = " · ".join(app.desk.watching.against_alarms) if app.has_session else ""
        self.show_alarms(clocks, now)

    def show_entry(self, view: View) -> None:
        """Open an entry for a step that asks for a value; a text being typed is never touched."""
        entry = self.query_one(Entry)
        if not isinstance(view, EnterView):
            self.ask_nothing()
        elif self.asked_for != self.shown_place:
            unit = view.begins_in
            names = units.offered(unit) if unit else ()
            limits = view.entry.limits(unit) if isinstance(view.entry, Measure) else view.entry.describe()
            hint = phrase("Enter uses {value}", view.default_read) if view.default else limits
            entry.note = ""
            entry.ask(view.entry.read, names, unit, hint=hint, target=view.target, window=view.window)
            self.asked_for = self.shown_place
            self.go_on_typing(self.app.session.place_name(view.place))
        # What was typed before they left is shown to who comes back at once.
        self.set_class(isinstance(view, EnterView) and (not self.stops or bool(entry.text)), "entering")

    def ask_nothing(self) -> None:
        """Have nothing typed here, and so nothing that is not on disk; what is half typed at a step of another run stays."""
        self.asked_for, self.typed_at = None, ""
        if self.is_current:  # a screen over it says by itself whether what is typed there is on disk
            self.app.desk.notices.stand("typing", "")

    def tick(self) -> None:
        """Draw what time alone changes; called once a second."""
        before = self.view
        if before is not None and not isinstance(before, ChooseView | EnterView | CautionView):
            self.refresh_view()
            now = self.view
            if now is not None and (now.place, type(now), said(now).go) != (before.place, type(before), said(before).go):
                self.app.guard.change()
        else:
            self.show_here()
            self.refresh_clocks()

    def type_key(self, event: events.Key) -> bool:
        numbered, entry, view = self.query_one(Numbered), self.query_one(Entry), self.view
        if view is None or (self.stops and not self.begins_value(view, event)):
            return False
        if self.stops and entry.text:  # a digit behind what was typed before they left could make another figure unseen
            self.query_one(KeyLine).say(phrase("ENTER FIRST"))
            return True
        if self.stops:  # who types a value knows where they are: the first digit of a reading is not lost to a question
            self.go_on()
        if (chosen := row(view, event.character or "")) is not None and self.is_in_sight(chosen):
            self.choose_row(chosen)
            return True
        if numbered.display and numbered.press(event):
            if not numbered.typed and numbered.chosen is not None:
                self.choose(answers(view)[numbered.chosen - 1])
            return True
        return isinstance(view, EnterView) and self.type_value(entry, event)

    def is_in_sight(self, chosen: Row) -> bool:
        """Whether one of several steps stands on the page that is shown."""
        panel = self.query_one(StepPanel)
        found = panel.pages(self.columns)
        return bool(found) and chosen in found[min(panel.page, len(found) - 1)].rows

    def choose_row(self, chosen: Row) -> None:
        """Ask for the answer of one of several steps that are taken together, or leave an item for later."""
        if chosen.is_question:
            self.asked, self.asked_for = chosen.place, None
            self.refresh_view()
        else:
            self.app.attempt(lambda: leave(self.app.desk, chosen))

    def type_value(self, entry: Entry, event: events.Key) -> bool:
        """Type a key into the value asked for; return whether it was one of a value."""
        if event.key == "full_stop" and not entry.text and entry.has_units and (self.app.alarm_waits or self.may_spill):
            return False  # it puts the alarm off, says that the pot was spilled, or does nothing
        if event.key in ("slash", "minus") and not entry.text:
            return False
        if event.key == "minus" and entry.text == "-":
            return False  # it takes back, as the key line says
        taken = entry.press(event)
        if taken:
            self.doubted = None
        return taken

    def begins_value(self, view: View, event: events.Key) -> bool:
        """Whether a key begins the value that a step asks for."""
        return isinstance(view, EnterView) and event.character is not None and event.character in "0123456789"

    @property
    def may_spill(self) -> bool:
        """Whether a pot is in hand, of which a key says that it was spilled."""
        return self.view is not None and self.view.frame.may_spill

    @property
    def may_be_negative(self) -> bool:
        """Whether the value asked for can be below zero, as a temperature can."""
        return isinstance(self.view, EnterView) and units.dimension(self.view.unit) == "temperature"

    def offers(self) -> Sequence[Offer]:
        if not self.app.has_session:
            return ()
        view, common = self.view, self.common_offers()
        if view is None:
            return Offer("enter", "choose work", self.other_work), *common[1:]
        seen = self.alarm_offers(view)
        if self.stops:
            return [Offer("enter", "continue", self.go_on), *seen, *common[1:]]
        if isinstance(view, EnterView):
            mine = self.entry_offers(view)
            typing = self.query_one(Entry).text or not self.query_one(Entry).has_units  # a full stop is one of a number here
            seen = [offer for offer in seen if offer.key != "full_stop" or not typing]
            return [*mine, *seen]
        return self.with_theme(_few([*self.step_offers(view), *seen, *common]))

    def common_offers(self) -> list[Offer]:
        """Return the keys that work at every step."""
        return [
            Offer("minus", "back", self.take_back),
            Offer("plus", "clocks", lambda: self.app.start_dialogue(show("clocks"))),
            Offer("slash", "look up", self.look_up, also=("escape",)),
        ]

    def alarm_offers(self, view: View) -> list[Offer]:
        """Return the keys that an alarm brings, and the one that a caution has alone."""
        waits = self.app.alarm_waits
        offers = [Offer("asterisk", "seen", lambda: None)] if waits or isinstance(view, CautionView) else []
        if waits and self.app.session.may_shelve(self.app.now()) is not None:
            offers.append(Offer("full_stop", "later", lambda: self.app.start_dialogue(clocks.put_off(self.app.desk))))
        return offers

    def step_offers(self, view: View) -> list[Offer]:
        """Return the keys that do something to the step itself, and how it is left once its run is over."""
        if isinstance(view, FinishedView):
            return [Offer("enter", "other work", self.other_work), *map(self.offer, keys(self.app.desk, view))]
        enter, others = parted(keys(self.app.desk, view))
        # What was not in sight is not taken.
        found = [Offer("enter", "next page", lambda: self.turn(1))] if self.has_more else list(map(self.offer, enter))
        if (option := alone(view)) is not None:
            found.append(Offer("1", option.label, lambda: self.choose(option)))
        elif answers(view):
            found.append(Offer("1", "choose", lambda: None))
        elif isinstance(view, RowsView):
            found.append(Offer("1", "do later" if view.is_list else "change one", lambda: None))
        found += map(self.offer, others)
        if self.offers_cautions(view):
            found = [offer for offer in found if offer.key != "full_stop"]
            found.append(Offer("full_stop", "cautions", self.show_cautions))
        return found

    @property
    def has_more(self) -> bool:
        """Whether a page of several steps that are taken together was not shown yet."""
        panel = self.query_one(StepPanel)
        return isinstance(panel.view, RowsView) and panel.page + 1 < len(panel.pages(self.columns))

    def turn(self, pages: int) -> None:
        """Show another page of several steps that are taken together."""
        panel = self.query_one(StepPanel)
        panel.page = max(0, min(panel.page, len(panel.pages(self.columns)) - 1) + pages)
        self.app.guard.move()
        self.show_offers()

    def offer(self, key: StepKey) -> Offer:
        """Return what the key line offers for a key of the step in hand."""
        match key:
            case AtOnce(name, word, act):
                return Offer("full_stop" if name == "." else name, word, lambda: self.app.attempt(act))
            case Asking(name, word, ask):
                return Offer(name, word, lambda: self.app.start_dialogue(ask()))
            case _:
                assert_never(key)

    def with_theme(self, offers: list[Offer]) -> list[Offer]:
        """Return the offers with the switch between the themes, where its key is free and the key line has room for it."""
        mine = [offer.key for offer in offers]
        taken = "full_stop" in mine or ("asterisk" in mine and self.app.alarm_waits)
        if self.app.no_color or len(offers) >= MOST_OFFERS or taken:
            return offers
        word = "dark" if self.app.session.project.theme == "light" else "light"
        more = [*offers, Offer("full_stop", word, lambda: self.app.attempt(self.app.desk.switch_theme))]
        width = self.app.size.width
        return more if key_line.rows(more, width) == key_line.rows(offers, width) else offers

    def offers_cautions(self, view: View) -> bool:
        """Whether a key shows all cautions of the working in hand: an alarm that may be put off comes first."""
        shown = bool(said(view).warnings) and not self.stops
        return shown and self.app.session.may_shelve(self.app.now()) is None

    def look_up(self) -> None:
        """Show the calculators, and lead back to the same step."""
        self.app.start_dialogue(work.look_up(self.app.desk))

    def other_work(self) -> None:
        """Ask what to work on beside the step in hand."""
        self.app.start_dialogue(work.other(self.app.desk))

    def show_cautions(self) -> None:
        """Show every caution of the working in hand whole."""
        assert self.view is not None
        self.app.push_screen(CautionsScreen(self.view.headline, said(self.view).warnings))

    def entry_offers(self, view: EnterView) -> list[Offer]:
        """Return the keys while a value is asked for."""
        entry = self.query_one(Entry)
        enter = Offer("enter", "use it", self.enter_value)
        if entry.text:
            again = [Offer("minus", "back", self.take_back)] if entry.text == "-" else []
            look_up = Offer("slash", "look up", self.look_up, also=("escape",))
            if entry.takes_fraction:
                look_up = Offer("escape", "", self.look_up)
            return [enter, Offer("plus", "erase", entry.erase, also=("backspace",), again=True), *again, look_up]
        mine = list(map(self.offer, keys(self.app.desk, view)))
        several = entry.has_units and not self.app.alarm_waits and not self.may_spill
        unit = [Offer("full_stop", "unit", entry.next_unit, also=("tab",), again=True)] if several else []
        back, *others = self.common_offers()
        if self.may_be_negative:
            back = Offer("minus", "minus", self.begin_below_zero)
        return [*([enter] if view.default else []), *mine, *unit, back, *others]

    def begin_below_zero(self) -> None:
        """Begin a number below zero; the same key once more takes back instead."""
        self.query_one(Entry).text = "-"

    def choose(self, option: Option) -> None:
        """Take one of the answers, or the step for later to take up."""
        view = self.view
        assert view is not None
        self.asked = None
        self.app.attempt(lambda: take(self.app.desk, view, option))

    def enter_value(self) -> None:
        """Take the value typed, or the one offered; ask once more about one that looks odd."""
        entry, view = self.query_one(Entry), self.view
        assert isinstance(view, EnterView)
        text = entry.text_with_unit()
        try:
            given = give(self.app.desk, view, text, sure=self.doubted == text) if entry.problem is None else Wrong(entry.problem)
        except ShopmateError as error:
            self.app.tell(str(error))
            return
        match given:
            case Taken(word):
                self.asked = self.asked_for = None
                self.query_one(KeyLine).say(word)
                self.refresh_view()
            case Odd(question):
                self.doubted = text
                entry.note = phrase("{question} Press Enter again if so", question)
            case Wrong(problem):
                entry.note = str(problem)
            case _:
                assert_never(given)

    def take_back(self) -> None:
        """Take back the last thing done; where one of several steps was chosen to be answered, go back to them all."""
        self.query_one(Entry).text = ""
        self.asked_for = None
        if self.asked is not None:
            self.asked = None
            self.refresh_view()
        elif isinstance(self.view, RowsView) and self.query_one(StepPanel).page > 0:
            self.turn(-1)
        else:
            self.app.start_dialogue(take_back(self.app.desk))


def _few(offers: list[Offer]) -> list[Offer]:
    """Return offers that one look takes in: the digits stand beside their answers too, and looking up can wait for an alarm."""
    for key, word in (("1", "choose"), ("1", "change one"), ("1", "do later"), ("slash", "look up")):
        if len(offers) > MOST_OFFERS:
            offers = [offer for offer in offers if (offer.key, offer.word) != (key, word)]
    return offers
