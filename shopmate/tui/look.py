"""How an application looks: its theme, signs, decimal mark and colours, as the terminal can and the user has set."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import App
from textual.filter import LineFilter

from shopmate.tui.lines import ASCII_CLASS, DecimalComma, PlainSigns, Visible, WithoutColour
from shopmate.tui.talk import TalkingApp
from shopmate.tui.themes import COLOURLESS, DARK, DARK_16, LIGHT, LIGHT_16, THEMES


class LookingApp(TalkingApp):
    """An application that looks as the project on its desk and the settings say."""

    seven_bit = few_colours = False
    """Whether the terminal knows 7-bit signs only, and no more than 16 colours."""

    def __init__(self) -> None:
        super().__init__()
        self._visible, self._plain, self._comma, self._no_colour = Visible(), PlainSigns(), DecimalComma(), WithoutColour()
        for theme in THEMES:
            self.register_theme(theme)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Return what every line goes through on its way to the terminal."""
        filters: list[LineFilter] = [self._no_colour] if self.no_color else [*super().get_line_filters()]
        if self.settings.decimal_mark == ",":
            filters.append(self._comma)
        filters.append(self._visible)
        if self.has_class(ASCII_CLASS):
            filters.append(self._plain)
        return filters

    def use_settings(self) -> None:
        """Go by the settings, and the theme of the project, as they are now in all that is shown and taken."""
        self.settings = self.guard.settings = self.desk.settings
        self.set_class(self.seven_bit or self.settings.plain_signs, ASCII_CLASS)
        self.theme = self._theme_name
        self.refresh_css(animate=False)

    def use_settings_first(self) -> None:
        """Go by them from the first frame on, before any style is worked out: as above, all were to be once more."""
        self.set_class(self.seven_bit or self.settings.plain_signs, ASCII_CLASS, update=False)
        self.set_reactive(App.theme, self._theme_name)
        self.ansi_color = self.current_theme.ansi  # what names its colours sends them by name
        self.stylesheet.set_variables(self.get_css_variables())

    @property
    def _theme_name(self) -> str:
        light = self.has_session and self.session.project.theme == "light"
        if self.no_color:
            return COLOURLESS.name
        if self.few_colours:
            return LIGHT_16.name if light else DARK_16.name
        return LIGHT.name if light else DARK.name
