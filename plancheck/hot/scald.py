"""How long hot water may run over skin before it burns: the shortest time published for each temperature.

All go back to A. R. Moritz and F. C. Henriques, American Journal of Pathology 23 (1947), whose table itself was not seen;
the pages that relay it disagree, because some count second-degree burns and some third-degree ones, for adults. Children
burn in a half to a quarter of the time. Degrees Celsius and seconds.
"""

import math
from itertools import pairwise

from plancheck.limits import Source, printed
from plancheck.record import NamedTuple

_BURNS = printed("burn charities' sheets after Moritz and Henriques", "1947", "times by temperature")
_TEACHING = printed("a teaching file after Moritz and Henriques", "1947", "times by temperature")
_VENDOR = printed("a valve seller's table after Moritz and Henriques", "1947", "second-degree burns")
LEAST_C = 44.0


class Row(NamedTuple):
    """The shortest published time at one temperature (degrees Fahrenheit as printed, seconds)."""

    fahrenheit: float
    seconds: float
    source: Source


ROWS = (
    Row(111.2, 21600.0, _TEACHING),  # 44 degC, the lower end: nothing is published below it
    Row(113.0, 7200.0, _VENDOR),
    Row(116.6, 1200.0, _VENDOR),
    Row(118.4, 900.0, _VENDOR),
    Row(120.0, 300.0, _TEACHING),
    Row(124.0, 120.0, _VENDOR),
    Row(125.0, 90.0, _BURNS),
    Row(127.0, 60.0, _BURNS),
    Row(130.0, 30.0, _TEACHING),
    Row(131.0, 17.0, _VENDOR),
    Row(133.0, 15.0, _BURNS),
    Row(135.0, 10.0, _TEACHING),
    Row(140.0, 3.0, _VENDOR),
    Row(145.0, 3.0, _TEACHING),
    Row(150.0, 1.5, _BURNS),
    Row(155.0, 1.0, _TEACHING),
)


def exposure_s(celsius: float) -> float | None:
    """The shortest published exposure to a burn, seconds; None below 44 degC, where none is published.

    Between two rows the logarithm of the time goes in a straight line; above the last row its time is given.
    """
    fahrenheit = celsius * 1.8 + 32
    if fahrenheit < ROWS[0].fahrenheit - 1e-9:
        return None
    for low, high in pairwise(ROWS):
        if fahrenheit <= high.fahrenheit:
            share = (fahrenheit - low.fahrenheit) / (high.fahrenheit - low.fahrenheit)
            return math.exp(math.log(low.seconds) + share * math.log(high.seconds / low.seconds))
    return ROWS[-1].seconds
