"""Room round a toilet as the model codes have it, and the section that asks for a permit; all from memory."""

from __future__ import annotations

import pytest

from plancheck.limits import Limits
from plancheck.loader import built_in_rules

IN = 0.0254
RULE = next(one for one in built_in_rules(("site_ready",)) if one.id == "site_ready").rule
LIMITS = {one.id: one for one in RULE.limits}


@pytest.mark.parametrize(
    ("family", "beside_in", "before_in", "clause"),
    [("irc", 15, 21, "P2705.1"), ("ipc", 15, 21, "405.3.1"), ("upc", 15, 24, "402.5")],
)
def test_fifteen_inches_beside_and_what_is_clear_before(
    family: str, beside_in: float, before_in: float, clause: str
) -> None:
    """IRC 2021 P2705.1 and IPC 2021 405.3.1: 15 in to the side, 21 in before; UPC 2021 402.5: 15 and 24 (from memory)."""
    limits = Limits(family, 2021)
    beside, before = limits.of(LIMITS["beside"]), limits.of(LIMITS["before"])
    assert (beside.number, before.number) == (pytest.approx(beside_in * IN), pytest.approx(before_in * IN))
    assert {beside.source.clause, before.source.clause} == {clause}
    assert beside.source.read == before.source.read == "from memory"


@pytest.mark.parametrize(("family", "clause"), [("irc", "R105.1"), ("ipc", "105.1"), ("upc", "104.1")])
def test_the_section_that_asks_for_a_permit(family: str, clause: str) -> None:
    found = Limits(family, 2021).of(LIMITS["permit"])
    assert (found.source.clause, found.source.read) == (clause, "from memory")
