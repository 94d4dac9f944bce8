"""A figure beside its limit: in one unit, and with as many digits as the difference needs."""

from __future__ import annotations

import pytest

from plancheck.limits import PRACTICE, InForce, Limit
from plancheck.measures import METRIC, US, Units

INCH = 0.0254


@pytest.mark.parametrize(
    ("found_m", "limit_m", "units", "words"),
    [
        (10 * INCH, 18 * INCH, US, ("10 in", "18 in", "8 in")),
        (17.875 * INCH, 18 * INCH, US, ("17-7/8 in", "18 in", "1/8 in")),  # both on marks of the tape: as they are
        # 455 mm is 17.913 in: on a tape 17-15/16 in, a mark short, though it lacks nearly a mark and a half
        (0.455, 18 * INCH, US, ("17.913 in", "18 in", "0.087 in")),
        (17.98 * INCH, 18 * INCH, US, ("17.98 in", "18 in", "0.02 in")),  # on a tape both are 18 in
        (24 * INCH, 33 * INCH, US, ("2 ft", "2 ft 9 in", "9 in")),
        (0.150, 0.1524, METRIC, ("150 mm", "152 mm", "2 mm")),
        (0.8134, 0.8128, METRIC, ("813.4 mm", "812.8 mm", "0.6 mm")),  # both 813 mm
        (1.626, 2.4384, METRIC, ("1626 mm", "2438.4 mm", "812.4 mm")),  # not 1626 mm beside 2.44 m
        (2.6, 2.4384, METRIC, ("2.60 m", "2.44 m", "162 mm")),
    ],
)
def test_in_words(found_m: float, limit_m: float, units: Units, words: tuple[str, str, str]) -> None:
    limit = InForce(Limit("x", "a length", "length", "at least"), limit_m, PRACTICE, True)
    assert limit.told_apart(found_m, units) == words


def test_what_somebody_wrote_is_kept() -> None:
    limit = InForce(Limit("x", "a length", "length", "at least"), 33 * INCH, PRACTICE, True, text="33 in")
    assert limit.told_apart(0.5, US, "500 mm")[:2] == ("500 mm", "33 in")
