"""How large a pot may be by the data sheet, worked from the cup or poured out at once, and how long a film stays workable."""

from __future__ import annotations

from shopmate.models import arrhenius, use_by
from shopmate.models.pot import Pot, Resin, cup_bulk
from shopmate.models.use_by import Sheet
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Cup:
    """The mix of one data sheet in cups filled as high as they are wide. Masses are g of mixed epoxy without filler."""

    sheet: Sheet
    resin: Resin
    celsius: float
    """Temperature of the mix in °C."""
    room: float
    """Temperature of the room in °C."""
    filler: float
    """Grams of filler per 1 g of mixed epoxy: filler counts towards what is in the cup."""

    @property
    def tested(self) -> float:
        """Mass for which the data sheet gives the pot life."""
        return self.sheet.mass / (1 + self.filler)

    @property
    def reach(self) -> float:
        """Largest mass that the model covers."""
        return use_by.REACH * self.tested

    def holds(self, mass: float) -> float:
        """Return the total grams in a cup with that mass of epoxy, filler included."""
        return mass * (1 + self.filler)

    def empty_by(self, mass: float) -> float:
        """Return the minutes from first contact after which a cup with that mass must be empty; it never rises with the mass."""
        grams = self.holds(mass)
        return use_by.empty_by(self.resin, self.sheet, grams, Pot(cup_bulk(grams), self.celsius, self.room))

    def largest(self, before: float, per_gram: float, share: float) -> float:
        """Return the largest mass, up to `reach`, that can be out of the cup within a share of its time; 0 if there is none.

        Emptying the cup takes `before` minutes and `per_gram` minutes for each gram.
        """

        def left(grams: float) -> float:
            mass = grams / (1 + self.filler)
            return share * self.empty_by(mass) - per_gram * mass

        found = use_by.largest_pot(left, before, self.sheet)
        return 0.0 if found is None else found / (1 + self.filler)

    def film(self, minutes: float) -> float:
        """Return the minutes a film stays workable, from the `minutes` and temperature on the data sheet.

        When it is warmer, Arrhenius shortens the time; when it is colder, the time stays the same, to be safe.
        """
        warmest = max(self.celsius, self.room)
        return minutes / max(arrhenius.rate(warmest, self.sheet.celsius, self.resin.activation), 1.0)
