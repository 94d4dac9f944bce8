"""The binomial method against plain enumeration, numpy's convolution and scipy's binomial. Never that more is more."""

from __future__ import annotations

import itertools
import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from plancheck.demand.binomial import (
    busy,
    flow_spread,
    modified_wistort_m3s,
    peak_m3s,
    running,
    wistort_m3s,
)
from plancheck.demand.studydata import PLACE, USES
from tests.demand.houses import GPM

NONE = (0,) * len(USES)
small = st.lists(st.sampled_from(range(len(USES))), min_size=1, max_size=8)


def counts(**fixtures: int) -> tuple[int, ...]:
    found = list(NONE)
    for name, count in fixtures.items():
        found[PLACE[name.replace("_", " ")]] = count
    return tuple(found)


def of(chosen: list[int]) -> tuple[int, ...]:
    return tuple(chosen.count(place) for place in range(len(USES)))


def by_enumeration(chosen: list[int]) -> int:
    """Every pattern of fixtures on and off, in exact fractions: the least flow in tenths of a gallon a minute."""
    chances: dict[int, Fraction] = {}
    p = [Fraction(str(use.p)) for use in USES]
    for pattern in itertools.product((False, True), repeat=len(chosen)):
        chance, tenths = Fraction(1), 0
        for on, place in zip(pattern, chosen, strict=True):
            chance *= p[place] if on else 1 - p[place]
            tenths += USES[place].tenths_gpm if on else 0
        chances[tenths] = chances.get(tenths, Fraction(0)) + chance
    some = 1 - chances.pop(0)
    reached = Fraction(0)
    for tenths in sorted(chances):
        reached += chances[tenths]
        if reached >= Fraction(99, 100) * some:
            return tenths
    raise AssertionError("the chances do not add up")


@given(small)
@settings(max_examples=120, deadline=None)
def test_small_groups_by_enumeration(chosen: list[int]) -> None:
    assert peak_m3s(of(chosen)) == pytest.approx(by_enumeration(chosen) / 10 * GPM, rel=1e-12)


@given(st.tuples(*(st.integers(0, 60) for _ in USES)))
@settings(max_examples=60, deadline=None)
def test_larger_groups_by_numpy(many: tuple[int, ...]) -> None:
    spread = np.ones(1)
    for use, count in zip(USES, many, strict=True):
        stretched = np.zeros(count * use.tenths_gpm + 1)
        stretched[:: use.tenths_gpm] = binom.pmf(np.arange(count + 1), count, use.p)
        spread = np.convolve(spread, stretched)
    ours = np.array(flow_spread(many))
    assert abs(ours - spread[: len(ours)]).max() < 1e-12
    assert spread[len(ours) :].sum() < 1e-12


@pytest.mark.parametrize(("count", "p"), [(1, 0.02), (45, 0.055), (2500, 0.02), (200_000, 0.055), (3, 0.5)])
def test_numbers_running_by_scipy(count: int, p: float) -> None:
    found = dict(running(count, p))
    expected = binom.pmf(list(found), count, p)
    assert np.allclose(list(found.values()), expected, rtol=1e-8, atol=1e-15)
    assert math.fsum(found.values()) == pytest.approx(1)


@pytest.mark.parametrize("place", range(len(USES)))
def test_a_fixture_alone_has_its_own_flow(place: int) -> None:
    assert peak_m3s(of([place])) == pytest.approx(USES[place].tenths_gpm / 10 * GPM)


def test_nothing_is_nothing_and_less_than_nothing_is_refused() -> None:
    assert peak_m3s(NONE) == 0
    assert modified_wistort_m3s(NONE) == 0
    with pytest.raises(ValueError, match="fewer"):
        running(-1, 0.1)


@pytest.mark.parametrize(
    ("chosen", "more", "before", "after"),
    [
        ({"lavatory": 2}, "dishwasher", 3.0, 2.8),
        ({"laundry_tray": 1, "toilet": 2}, "lavatory", 5.0, 4.5),
    ],
)
def test_one_more_fixture_can_mean_less(chosen: dict[str, int], more: str, before: float, after: float) -> None:
    """As the authors warn; both by enumeration too."""
    group = counts(**chosen)
    larger = counts(**{**chosen, more: chosen.get(more, 0) + 1})
    for many, expected in ((group, before), (larger, after)):
        assert peak_m3s(many) == pytest.approx(expected * GPM)
        assert by_enumeration([place for place, count in enumerate(many) for _ in range(count)]) == round(expected * 10)


def test_large_groups_come_near_the_normal_approximations() -> None:
    many = counts(tub_and_shower=400, lavatory=400, toilet=400, kitchen_sink=400, dishwasher=400, clothes_washer=400)
    assert busy(many) == pytest.approx(400 * 0.165)
    assert wistort_m3s(many) == pytest.approx(peak_m3s(many), rel=0.02)
    assert modified_wistort_m3s(many) == pytest.approx(wistort_m3s(many), rel=1e-6)
