"""Signs that an output may hold, spelled out where its encoding lacks them."""

from __future__ import annotations

import codecs
import io
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from shopmate.characters import visible

_SPELLED = {
    "°": "deg", "±": "+/-", "×": "x", "÷": "/", "·": "*", "−": "-", "–": "-", "—": "-", "’": "'", "′": "'", "′′": '"', "”": '"',
    "≤": "<=", "≥": ">=", "≈": "~", "√": "sqrt ", "─": "-", "→": "->", "⌈": "ceil(", "⌉": ")",
    "π": "pi", "θ": "theta", "ρ": "rho", "ψ": "psi", "σ": "sigma", "α": "alpha", "β": "beta", "ε": "epsilon", "κ": "kappa",
    "λ": "lambda", "ν": "nu", "μ": "u", "Σ": "sum of ", "Δ": "delta ",
    "○": "o", "◔": "c", "●": "#", "◉": "@", "✖": "x", "◌": ".", "✓": "v", "☐": "[ ]",
}  # fmt: skip
"""Signs in our texts that some encodings lack, as they are written without them."""


def spell_out() -> None:
    """Let output that holds signs such as ² be printed on a terminal set to an encoding without them."""
    codecs.register_error("spell-out", spelled)
    for stream in (sys.stdout, sys.stderr):
        encoding = (getattr(stream, "encoding", "") or "").lower()
        if encoding not in ("utf-8", "utf8") and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="spell-out")


class Visible(io.TextIOWrapper):
    """An output in which characters that would act on the terminal, or hide there, are made visible."""

    def __init__(self, under: io.TextIOWrapper) -> None:
        super().__init__(
            under.buffer, under.encoding, under.errors, line_buffering=under.line_buffering, write_through=under.write_through
        )
        self.under = under
        """The output itself."""

    def isatty(self) -> bool:
        return self.under.isatty()

    def write(self, text: str) -> int:
        super().write(visible(text))
        return len(text)


@contextmanager
def visible_output() -> Iterator[None]:
    """Make visible, in all that is printed meanwhile to stdout and stderr, what would act on the terminal or hide there."""
    streams = sys.stdout, sys.stderr
    for stream in streams:
        if stream is not None:
            stream.flush()
    covers = [Visible(stream) if isinstance(stream, io.TextIOWrapper) else stream for stream in streams]
    sys.stdout, sys.stderr = covers
    try:
        yield
    finally:
        sys.stdout, sys.stderr = streams
        for cover in covers:
            if isinstance(cover, Visible):
                with suppress(OSError):  # of what could not be written, which was told where it can be
                    cover.detach()


@contextmanager
def bare_output() -> Iterator[None]:
    """Leave stdout as it is meanwhile to a bench, which makes visible what it shows and moves the terminal itself."""
    cover = sys.stdout
    if isinstance(cover, Visible):
        cover.flush()
        sys.stdout = cover.under
    try:
        yield
    finally:
        if sys.stdout is not None:
            sys.stdout.flush()
        sys.stdout = cover


def prints(signs: str) -> bool:
    """Return whether stdout can print all of `signs`."""
    try:
        signs.encode(getattr(sys.stdout, "encoding", "") or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def as_printed(text: str) -> str:
    """Return a text as stdout prints it: with the signs spelled out that its encoding lacks."""
    if prints(text):
        return text
    encoding = getattr(sys.stdout, "encoding", "") or "ascii"
    return text.encode(encoding, "spell-out").decode(encoding)


def spelled(error: UnicodeError) -> tuple[str, int]:
    """Return what stands for the signs that an encoding lacks, and where to go on, as a handler of codecs does."""
    assert isinstance(error, UnicodeEncodeError)
    text = error.object[error.start : error.end]
    plain = ""
    raised = False
    for sign in text:
        # The compatibility form makes 2 of ² and 1⁄2 of ½, which must not run into the digits before them.
        form = unicodedata.normalize("NFKC", sign)
        follows, raised = raised, unicodedata.decomposition(sign).startswith("<super>")
        if raised and not follows:
            plain += "^"  # once for all of ⁻⁶
        plain += " " + form.replace("⁄", "/") if "⁄" in form else _SPELLED.get(form, form)
    return plain.encode("ascii", "replace").decode("ascii"), error.end
