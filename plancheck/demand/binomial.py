"""Peak flow by the binomial method, 99 in 100: the exact spread of the flow of fixtures that run by chance.

Each fixture is on with its probability p and then takes its flow q. The spread of the sum is convolved exactly, no flow
at all is left out and the rest made up to one again; the answer is the least flow not passed 99 times in 100.
A fixture alone so has its own flow. More fixtures can mean less flow in a small group: that is the method, no fault.
Source of p and q: the 2017 study (plancheck.demand.studydata).
"""

import math
from collections.abc import Sequence
from functools import lru_cache

from plancheck.demand.curve import GPM_M3S
from plancheck.demand.studydata import USES

Counts = tuple[int, ...]  # how many of each fixture, in the order of USES

SURE = 0.99
Z = 2.326348  # the normal quantile of 99 in 100; print has 2.33
TENTH_M3S = GPM_M3S / 10
_LEAST_TERM = 1e-18  # of the largest: what is smaller cannot be told from rounding
_ROUNDING = 1e-12


@lru_cache(maxsize=16384)
def peak_m3s(counts: Counts) -> float:
    """The flow (m3/s) not passed 99 times in 100 of those in which any of the fixtures runs; 0 where there are none."""
    spread = flow_spread(counts)
    some = sum(spread[1:])
    if some <= 0:
        return 0.0
    wanted, reached = (SURE - _ROUNDING) * some, 0.0
    for tenths, chance in enumerate(spread[1:], 1):
        reached += chance
        if reached >= wanted:
            return tenths * TENTH_M3S
    return (len(spread) - 1) * TENTH_M3S


def flow_spread(counts: Counts) -> list[float]:
    """The probability of each flow, by tenths of a gallon a minute from 0 on. Raises ValueError for a count below 0."""
    spread = [1.0]
    for use, count in zip(USES, counts, strict=True):
        if count:
            spread = _joined(spread, running(count, use.p), use.tenths_gpm)
    return spread


def running(count: int, p: float) -> list[tuple[int, float]]:
    """How many of `count` equal fixtures run at once, and how likely (terms too small to matter left out).

    Built outwards from the likeliest number, so that large counts do not vanish. Raises ValueError for a count below 0.
    """
    if count < 0:
        raise ValueError("fewer than no fixtures")
    top = min(count, math.floor((count + 1) * p))
    odds = p / (1 - p)
    upper = [1.0]
    for on in range(top + 1, count + 1):
        upper.append(upper[-1] * odds * (count - on + 1) / on)
        if upper[-1] < _LEAST_TERM:
            break
    lower: list[float] = []
    term = 1.0
    for on in range(top - 1, -1, -1):
        term *= (on + 1) / (odds * (count - on))
        lower.append(term)
        if term < _LEAST_TERM:
            break
    terms = lower[::-1] + upper
    whole = math.fsum(terms)
    return [(top - len(lower) + number, term / whole) for number, term in enumerate(terms)]


def _joined(spread: Sequence[float], more: list[tuple[int, float]], tenths: int) -> list[float]:
    """The spread of the sum of two independent flows."""
    found = [0.0] * (len(spread) + more[-1][0] * tenths)
    for on, chance in more:
        start = on * tenths
        for at, one in enumerate(spread, start):
            if one:
                found[at] += chance * one
    return found


def _moments(counts: Counts) -> tuple[float, float, float]:
    """Mean and variance of the flow (gpm), and the probability that nothing runs."""
    mean = variance = 0.0
    idle = 1.0
    for use, count in zip(USES, counts, strict=True):
        gpm = use.tenths_gpm / 10
        mean += count * use.p * gpm
        variance += count * use.p * (1 - use.p) * gpm**2
        idle *= (1 - use.p) ** count
    return mean, variance, idle


def busy(counts: Counts) -> float:
    """How many of the fixtures run at once on average."""
    return math.fsum(use.p * count for use, count in zip(USES, counts, strict=True))


def wistort_m3s(counts: Counts) -> float:
    """The normal approximation of the same flow (m3/s), R. Wistort's: for comparison, it is off for few fixtures."""
    mean, variance, _ = _moments(counts)
    return (mean + Z * math.sqrt(variance)) * GPM_M3S


def modified_wistort_m3s(counts: Counts) -> float:
    """The normal approximation with no flow left out (m3/s): for comparison. 0 where there are no fixtures.

    Raises ValueError where the variance of what is left comes out below nothing.
    """
    mean, variance, idle = _moments(counts)
    if idle >= 1:
        return 0.0
    return (mean + Z * math.sqrt((1 - idle) * variance - idle * mean**2)) / (1 - idle) * GPM_M3S
