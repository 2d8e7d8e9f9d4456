"""A list to choose from by number: projects, parts, recipes, runs, reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate.tui.digits import Digits
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to choose."""

    key: str
    title: str
    note: str = ""


class ChooseScreen(KeyedScreen[str | None]):
    """Shows a title and numbered items; a number chooses, / leaves without choosing."""

    CSS_PATH = "choose.tcss"

    def __init__(
        self, title: str, items: Sequence[Item], *, leave: str = "back", explain: str = "", name: str | None = None
    ) -> None:
        super().__init__(name)
        self.heading = title
        self.items = items
        self.leave = leave
        self.explain = explain
        self.digits = Digits(len(items))
        self.top = 0

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), _Items(self)

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.height < 16, "small")
        self.call_after_refresh(self.show_offers)

    def offers(self) -> Sequence[Offer]:
        word = f"{self.digits.typed}_" if self.digits.typed else "choose"
        numbers = [Offer("1", word, lambda: self.press("1"))] if self.items else []
        silent = [Offer(digit, "", lambda digit=digit: self.press(digit)) for digit in "0123456789"]  # type: ignore[misc]
        leave = [Offer("slash", self.leave, lambda: self.dismiss(None), also=("escape",))] if self.leave else []
        scroll = [Offer("plus", "more", self.scroll_on, also=("down", "pagedown"))] if self.hidden else []
        return [*numbers, *silent, *scroll, *leave]

    @property
    def hidden(self) -> bool:
        """Whether some items do not fit on the screen."""
        return len(self.items) > self.room

    @property
    def room(self) -> int:
        """How many items fit."""
        height = self.query_one(_Items).size.height
        return max(1, height - (2 if self.explain else 0)) if height else len(self.items)

    def press(self, digit: str) -> None:
        """Take a digit; the one that completes a number chooses."""
        index = self.digits.press(digit)
        if index is not None:
            self.dismiss(self.items[index].key)

    def scroll_on(self) -> None:
        """Show the next items, and the first ones again after the last."""
        self.top = self.top + self.room if self.top + self.room < len(self.items) else 0
        self.query_one(_Items).refresh()


class _Items(Widget):
    """The numbered items, cut to the rows there are."""

    def __init__(self, owner: ChooseScreen) -> None:
        super().__init__(id="items")
        self.owner = owner

    def render(self) -> Content:
        owner, width = self.owner, self.size.width
        lines = []
        for index in range(owner.top, min(len(owner.items), owner.top + owner.room)):
            item = owner.items[index]
            note = Content.styled(f"  {item.note}" if item.note else "", "$quiet")
            number = owner.digits.label(index)
            lines.append(
                Content.assemble(" ", (f" {number} ", "bold reverse"), (f" {item.title}", "bold"), note).truncate(
                    width, ellipsis=True
                )
            )
        if owner.explain:
            lines += [Content(""), Content.styled(f" {owner.explain}", "$quiet").truncate(width, ellipsis=True)]
        return Content("\n").join(lines)
