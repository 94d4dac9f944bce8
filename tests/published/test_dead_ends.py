"""Dead ends: the one code sentence that is known, and that the length is nobody's but ours."""

from __future__ import annotations

import pytest

from plancheck.limits import Limit, Limits
from plancheck.loader import built_in_rules

RULE = next(one for one in built_in_rules() if one.id == "dead_ends").rule


@pytest.mark.parametrize(
    ("family", "edition", "practice"),
    [("upc", 2021, False), ("upc", 2024, False), ("upc", 2018, True), ("irc", 2021, True), ("ipc", 2021, True)],
)
def test_who_asks_for_a_means_of_flushing(family: str, edition: int, practice: bool) -> None:
    """UPC 2021 309.6: a dead leg has a means of flushing (read as an association's summary). IRC and IPC have none that
    is known (from memory). The 2 ft from which we speak is practice."""
    limit: Limit = RULE.limits[0]
    found = Limits(family, edition).of(limit)
    assert found.number == pytest.approx(24 * 0.0254)
    assert found.practice == practice
    assert ("309.6" in found.source.clause) == (not practice)
