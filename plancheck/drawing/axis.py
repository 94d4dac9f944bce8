"""A scale for pictures of figures: round steps, a place on paper for a value, the axis with its numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from plancheck.drawing.svg import line, words
from plancheck.record import NamedTuple

GRID, INK, QUIET = "#d5d8d4", "#000000", "#4d585c"


class Scale(NamedTuple):
    """From values to millimetres: low and high stand at left and right; step between marked values."""

    low: float
    high: float
    step: float
    left: float
    right: float

    def at(self, value: float) -> float:
        """The place of a value, in millimetres; what lies outside stands at the edge."""
        share = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return self.left + share * (self.right - self.left)

    def marks(self) -> tuple[float, ...]:
        """The values at which the axis has numbers."""
        count = round((self.high - self.low) / self.step)
        return tuple(self.low + place * self.step for place in range(count + 1))


def scale_for(values: list[float], left: float, right: float, steps: int = 6) -> Scale:
    """A scale that holds all values, with about so many round steps. Values that are all alike get one step each way."""
    low, high = min(values), max(values)
    span = (high - low) or max(abs(high), 1.0) * 0.1
    power = 10.0 ** math.floor(math.log10(span / steps))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power * steps >= span)
    first, last = math.floor(low / step), math.ceil(high / step)
    return Scale(first * step, max(last, first + 1) * step, step, left, right)


def axis(scale: Scale, top: float, bottom: float, unit: str) -> Iterator[str]:
    """Grid lines from top to bottom with their numbers above, the unit before the first."""
    for value in scale.marks():
        x = scale.at(value)
        yield line(((x, top), (x, bottom)), stroke=GRID, stroke_width=0.2)
        yield words(x, top - 1.5, f"{value:g}", 2.4, text_anchor="middle", fill=QUIET)
    yield words(scale.left - 5, top - 1.5, unit, 2.4, text_anchor="end", fill=QUIET)
