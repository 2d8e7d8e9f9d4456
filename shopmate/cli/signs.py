"""Signs that an output may hold, spelled out where its encoding lacks them."""

from __future__ import annotations

import codecs
import sys
import unicodedata

_SPELLED = {
    "°": "deg", "±": "+/-", "×": "x", "÷": "/", "·": "*", "−": "-", "–": "-", "—": "-", "’": "'", "′": "'", "′′": '"',
    "≤": "<=", "≥": ">=", "≈": "~", "√": "sqrt ", "─": "-",
    "π": "pi", "θ": "theta", "ρ": "rho", "ψ": "psi", "σ": "sigma", "α": "alpha", "μ": "u", "Σ": "sum of ", "Δ": "delta ",
    "○": "o", "◔": "c", "●": "#", "◉": "@", "✖": "x", "◌": ".", "✓": "v",
}  # fmt: skip
"""Signs in our texts that some encodings lack, as they are written without them."""


def spell_out() -> None:
    """Let output that holds signs such as ² be printed on a terminal set to an encoding without them."""
    codecs.register_error("spell-out", spelled)
    for stream in (sys.stdout, sys.stderr):
        encoding = (getattr(stream, "encoding", "") or "").lower()
        if encoding not in ("utf-8", "utf8") and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="spell-out")


def prints(signs: str) -> bool:
    """Return whether stdout can print all of `signs`."""
    try:
        signs.encode(getattr(sys.stdout, "encoding", "") or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def spelled(error: UnicodeError) -> tuple[str, int]:
    """Return what stands for the signs that an encoding lacks, and where to go on, as a handler of codecs does."""
    assert isinstance(error, UnicodeEncodeError)
    text = error.object[error.start : error.end]
    plain = ""
    for sign in text:
        # The compatibility form makes 2 of ² and 1⁄2 of ½, which must not run into the digits before them.
        form = unicodedata.normalize("NFKC", sign)
        if form != sign and unicodedata.decomposition(sign).startswith("<super>"):
            plain += f"^{form}"
        else:
            plain += " " + form.replace("⁄", "/") if "⁄" in form else _SPELLED.get(form, form)
    return plain.encode("ascii", "replace").decode("ascii"), error.end
