"""Rules for screws: how deep a head may go into thin metal, and the source of edge and end distances."""

from __future__ import annotations

from shopmate.calculator import Source

THIN_SHEET = Source(
    "thin metal: FAA AC 65-15A chapter 5 and an aircraft structural repair manual, 51-40-08; three-way split is our own", "read"
)

DISTANCES = Source("distances in wood: NDS Commentary Table C12.1.5.7, advisory (transcription)", "read")

FLUSH, KNIFE_EDGE = 0.7, 1.0
"""Head height ÷ metal thickness: ok up to 0.7 (aircraft repair manual 51-40-08: countersink no deeper than 70 %), a knife
edge from 1 (FAA AC 65-15A chapter 5: the metal must be thicker than the head) [read]. The three-way split is
our own; US Army TM 9-2320-363-34-2 allows rivets 0.81 to 0.98."""
