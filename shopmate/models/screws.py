"""What the calculators of screws go by: how much of a thin sheet a head may use up, and where distances come from."""

from __future__ import annotations

from shopmate.calculator import Source

THIN_SHEET = Source(
    "thin sheet: FAA AC 65-15A chapter 5 and an aircraft structural repair manual, 51-40-08; three-way split ours", "read"
)

DISTANCES = Source("distances in wood: NDS Commentary Table C12.1.5.7, advisory (transcription)", "read")

FLUSH, KNIFE_EDGE = 0.7, 1.0
"""Head height over sheet: up to the first ok (aircraft repair manual 51-40-08: countersink to 70 % of the sheet at most),
from the second on a knife edge (FAA AC 65-15A chapter 5: only sheet thicker than the head) [read]. The three-way split is
ours; US Army TM 9-2320-363-34-2 allows rivets 0.81 to 0.98."""
