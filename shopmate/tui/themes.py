"""The colours of every screen: themes for a dark and a lit shop, each in 16 colours too, and one without any colour."""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import BUILTIN_THEMES, Theme

STATES = ("do-before", "not-before", "due", "late", "done")
"""States of a clock or step. Each has a colour `$<state>`, for its mark, and `$on-<state>`, for words on a field of it."""

SIGNALS = ("danger", "warning", "caution", "notice")
"""Signal words of ANSI Z535.4; each is a field of `$signal-<word>` with words in `$on-signal-<word>`."""

TEXT, MARK = 7.0, 3.0
"""Least contrast of words and of marks (WCAG 2.2, success criteria 1.4.6 and 1.4.11)."""

PAIRS = (
    ("foreground", "background", TEXT),
    ("quiet", "background", TEXT),
    ("rule", "background", MARK),
    *((state, "background", TEXT) for state in STATES),
    *((f"on-{state}", state, TEXT) for state in STATES),
    *((f"on-signal-{signal}", f"signal-{signal}", TEXT) for signal in SIGNALS),
)
"""Every foreground and background that may be used together, with the least contrast asked of it."""

# Safety red, orange, yellow and blue of ANSI Z535.1, with red and blue deepened until white on them reaches 7:1.
_SIGNALS = {
    "signal-danger": "#b00020",
    "on-signal-danger": "#ffffff",
    "signal-warning": "#ff8200",
    "on-signal-warning": "#000000",
    "signal-caution": "#ffd100",
    "on-signal-caution": "#000000",
    "signal-notice": "#004b87",
    "on-signal-notice": "#ffffff",
}


def _theme(name: str, foreground: str, background: str, *, dark: bool, quiet: str, rule: str, **states: str) -> Theme:
    on_field = "#000000" if dark else "#ffffff"
    colours = {state: states[state.replace("-", "_")] for state in STATES}
    return Theme(
        name=name,
        dark=dark,
        primary=colours["not-before"],
        warning=colours["do-before"],
        error=colours["late"],
        success=colours["done"],
        accent=colours["not-before"],
        foreground=foreground,
        background=background,
        surface=background,
        panel=background,
        variables={
            "quiet": quiet,
            "rule": rule,
            **colours,
            **{f"on-{state}": on_field for state in STATES},
            **_SIGNALS,
        },
    )


DARK = _theme(
    "dark-shop",
    "#f4f2ea",
    "#0b0d0f",
    dark=True,
    quiet="#b4b8b5",
    rule="#6d7478",
    do_before="#ffb000",
    not_before="#56b4e9",
    due="#ffffff",
    late="#ff8585",
    done="#9fb3a4",
)
LIGHT = _theme(
    "lit-shop",
    "#14171a",
    "#fbfaf6",
    dark=False,
    quiet="#43484c",
    rule="#767b7e",
    do_before="#6a4500",
    not_before="#004f7c",
    due="#000000",
    late="#a3001b",
    done="#3c4a40",
)


def _ansi(name: str, foreground: str, background: str, colours: Mapping[str, str]) -> Theme:
    return Theme(
        name=name,
        ansi=True,
        primary=foreground,
        secondary=foreground,
        warning=foreground,
        error=foreground,
        success=foreground,
        accent=foreground,
        foreground=foreground,
        background=background,
        surface=background,
        panel=background,
        boost=background,
        # Style sheets of the framework itself refer to the further names that its own such theme has.
        variables={**BUILTIN_THEMES["ansi-dark"].variables, **colours},
    )


# What a terminal of 16 colours makes of a shade is its own affair; these it is told by name. Yellow and green on white
# read on no palette, so on a light ground DO BEFORE is magenta.
_SIGNALS_16 = {
    "signal-danger": "ansi_red",
    "on-signal-danger": "ansi_bright_white",
    "signal-warning": "ansi_bright_red",
    "on-signal-warning": "ansi_black",
    "signal-caution": "ansi_bright_yellow",
    "on-signal-caution": "ansi_black",
    "signal-notice": "ansi_blue",
    "on-signal-notice": "ansi_bright_white",
}
DARK_16 = _ansi(
    "dark-shop-16",
    "ansi_bright_white",
    "ansi_black",
    {
        "quiet": "ansi_white",
        "rule": "ansi_white",
        "do-before": "ansi_bright_yellow",
        "not-before": "ansi_bright_cyan",
        "due": "ansi_bright_white",
        "late": "ansi_bright_red",
        "done": "ansi_white",
        **{f"on-{state}": "ansi_black" for state in STATES},
        **_SIGNALS_16,
    },
)
LIGHT_16 = _ansi(
    "lit-shop-16",
    "ansi_black",
    "ansi_bright_white",
    {
        "quiet": "ansi_black",
        "rule": "ansi_black",
        "do-before": "ansi_magenta",
        "not-before": "ansi_blue",
        "due": "ansi_black",
        "late": "ansi_red",
        "done": "ansi_black",
        **{f"on-{state}": "ansi_bright_white" for state in STATES},
        **_SIGNALS_16,
    },
)

_PLAIN = "ansi_default"
COLOURLESS = _ansi(
    "colourless",
    _PLAIN,
    _PLAIN,
    {
        **dict.fromkeys(DARK.variables, _PLAIN),
        # Only that there is a field counts: on its way to the terminal what stands on one is reversed.
        **dict.fromkeys((*STATES, *(f"signal-{signal}" for signal in SIGNALS)), "ansi_white"),
    },
)
"""For NO_COLOR: the terminal's own two colours; words, shapes, bold and reverse carry every state."""

THEMES = (DARK, LIGHT, DARK_16, LIGHT_16, COLOURLESS)


def field(name: str) -> str:
    """Return the style of words on a field of the colour of a state or signal, such as 'late' or 'signal-danger'."""
    return f"bold $on-{name} on ${name}"
