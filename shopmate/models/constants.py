"""Constants of nature and of the trade shared by several calculators, each with its source."""

from __future__ import annotations

from fractions import Fraction

GRAVITY = 9.80665
"""Standard gravity in m/s², to turn mass into force and back; exact, ISO 80000-3."""

INCH = Fraction(254, 10)
"""One inch in mm, exactly, by definition."""

LBF = 4.4482216152605
"""One pound-force in N, by definition of the pound and of standard gravity."""

PSI = LBF / float(INCH) ** 2
"""One pound-force per square inch in N/mm², by definition of both."""

NOISE = 1e-9
"""Relative rounding error of floating-point arithmetic, such as after a change of unit, so that what just fits still fits. No
Threshold needed: it is rounding noise."""

LOAD_CONSTANT = 23.0
"""Maximum in kg that one person should lift, held close, at knuckle height and seldom: NIOSH 94-110 [read: a textbook's
transcription; 51 lb]."""

HYGROMETER_DOUBT = 3.0
"""Usual error of a hygrometer, in % relative humidity [common practice]. No Threshold needed: it is added to the reading."""

STIR = 3.0
"""Minutes from the first drop of hardener to the first brush stroke: pouring, then two of stirring [common practice]."""
INSTANT = 1.0
"""Minutes of spreading below which a pot was only marked as done, not actually used [common practice, our estimate]."""
