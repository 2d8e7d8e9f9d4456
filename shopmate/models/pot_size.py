"""How large a pot may be by its data sheet, from the cup or poured out at once, and how long its film stays workable."""

from __future__ import annotations

from shopmate.models import arrhenius, use_by
from shopmate.models.pot import Pot, Resin, cup_bulk
from shopmate.models.use_by import Sheet
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Cup:
    """Mix of one data sheet in cups filled as high as they are wide. Masses are g of mixed epoxy, without its filler."""

    sheet: Sheet
    resin: Resin
    celsius: float
    """°C of the mix."""
    room: float
    """°C around it."""
    filler: float
    """g of filler to 1 g of mixed epoxy: it counts with what stands in the cup."""

    @property
    def tested(self) -> float:
        """The mass that the pot life of the sheet holds for."""
        return self.sheet.mass / (1 + self.filler)

    @property
    def reach(self) -> float:
        """The mass as far as which one line of the sheet vouches for the model."""
        return use_by.REACH * self.tested

    def holds(self, mass: float) -> float:
        """Return the g that stand in a cup with that mass, its filler with it."""
        return mass * (1 + self.filler)

    def empty_by(self, mass: float) -> float:
        """Return the minutes from first contact after which a cup with that mass has to be empty; never rises with it."""
        grams = self.holds(mass)
        return use_by.empty_by(self.resin, self.sheet, grams, Pot(cup_bulk(grams), self.celsius, self.room))

    def largest(self, before: float, per_gram: float, share: float) -> float:
        """Return the greatest mass, up to the reach, that is out of the cup within a share of its time; 0 where none is.

        It takes `before` minutes and `per_gram` more a gram.
        """

        def left(grams: float) -> float:
            mass = grams / (1 + self.filler)
            return share * self.empty_by(mass) - per_gram * mass

        found = use_by.largest_pot(left, before, self.sheet)
        return 0.0 if found is None else found / (1 + self.filler)

    def film(self, minutes: float) -> float:
        """Return how long a film stays workable that the sheet gives so many minutes at its own temperature.

        Warmer it goes by Arrhenius; colder nothing is gained: what is not sure makes no time longer.
        """
        warmest = max(self.celsius, self.room)
        return minutes / max(arrhenius.rate(warmest, self.sheet.celsius, self.resin.activation), 1.0)
