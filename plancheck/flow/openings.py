"""Fixtures as openings: how much water leaves at which pressure, as data with sources.

A head or faucet whose maker's rating the plan gives is held to it (its maker may not let it pass more); where nothing
is said, what the kind usually takes. These are no code's required rates.
"""

import math

from plancheck.limits import Source, printed, recalled
from plancheck.measures import Quantity
from plancheck.measures.units import GALLON_M3, PSI_PA
from plancheck.model import FixtureOwn, Part, RestOwn
from plancheck.record import NamedTuple

GPM = GALLON_M3 / 60.0


class Opening(NamedTuple):
    """An opening: flow at a pressure before it, m3/s at Pa; most_m3s: what a regulated one is held to; said: its rating
    stands in the plan."""

    flow_m3s: float
    pressure_pa: float
    most_m3s: float = math.inf
    said: bool = False

    @property
    def r_pa(self) -> float:
        """Pa for each (m3/s)2."""
        return self.pressure_pa / self.flow_m3s**2


def _usual(gpm: float, psi: float = 60.0, held: bool = False) -> Opening:
    return Opening(gpm * GPM, psi * PSI_PA, gpm * GPM if held else math.inf)


# Values at 60 psi of AWWA M22 (3rd edition, form of fixture values), read; heads and faucets held to the maxima of IRC
# P2903.2, read; tray and ice maker: usual figures, from memory.
USUAL = {
    "toilet": _usual(4.0),
    "urinal": _usual(4.0),
    "hose outlet": _usual(5.0),
    "ice maker": _usual(0.5),
    "dishwasher": _usual(2.0),
    "lavatory": _usual(1.5, held=True),
    "kitchen sink": _usual(2.2, held=True),
    "bar sink": _usual(2.2, held=True),
    "laundry tray": _usual(4.0),
    "shower": _usual(2.5, 55.0, held=True),
    "tub and shower": _usual(8.0),
    "bathtub": _usual(8.0),
    "bidet": _usual(2.0),
    "clothes washer": _usual(6.0),
    "rest of house": _usual(5.0),
}
SOURCES: dict[str, Source] = {
    "fixture values at 60 psi": printed("AWWA M22", "3rd edition", "form of fixture values"),
    "heads and faucets held to their maximum": printed("IRC", "2018", "P2903.2"),
    "a regulated head has its full flow from 55 psi on": printed(
        "a draft label specification", "2009", "60 percent at 20 psi"
    ),
    "tray, ice maker, flush of a urinal": recalled("", "", "usual figures"),
    "mixing valve wide open 4.5 gpm at 45 psi": recalled("", "", "usual figures"),
}
FULL_FROM_PA = 55.0 * PSI_PA
MIXER = _usual(4.5, 45.0)  # a fixture's mixing valve, both sides together; trims differ by a factor of two
MIXES = frozenset(
    ("lavatory", "kitchen sink", "bar sink", "laundry tray", "shower", "bathtub", "tub and shower", "bidet")
)


def opening_of(part: Part) -> Opening:
    """The opening of a fixture: by the maker's rating that the plan gives, else what its kind usually takes."""
    own = part.own
    if isinstance(own, FixtureOwn):
        for rated in (own.head, own.faucet):
            if isinstance(rated, Quantity) and rated.si > 0:
                return Opening(rated.si, FULL_FROM_PA, rated.si, True)
    if isinstance(own, RestOwn) and isinstance(own.draw, Quantity) and own.draw.si > 0:
        return Opening(own.draw.si, 60.0 * PSI_PA, math.inf, True)
    return USUAL[part.is_]
