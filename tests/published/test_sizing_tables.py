"""Sizing by table beside the tables: supplies of fixtures, manifolds, rings. Numbers are typed in from what is named."""

from __future__ import annotations

from functools import cache

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules


@cache
def _limits(rule: str) -> dict[str, Limit]:
    found = next(one for one in built_in_rules() if one.id == rule).rule.limits
    return {limit.id: limit for limit in found}


def in_force(rule: str, limit: str, family: str | None, edition: int = 2021) -> InForce | None:
    return Limits(family, edition).maybe(_limits(rule)[limit])


def test_hot_lines_fed_from_two_sides_are_the_irc_s_matter_alone() -> None:
    """IRC P2903.8: cold manifolds may be gridded, hot ones have parallel lines (from memory). IPC 604.10 and UPC: none such."""
    found = in_force("ring_closed", "hot_ring", "irc")
    assert found is not None
    assert (found.source.document, found.source.clause, found.source.read) == ("IRC", "P2903.8", "from memory")
    for family in ("ipc", "upc", None):
        assert in_force("ring_closed", "hot_ring", family) is None


@pytest.mark.parametrize("family", ["irc", "ipc", "upc", None])
def test_ports_of_a_ring_are_practice(family: str | None) -> None:
    found = in_force("ring_closed", "least_ports", family)
    assert found is not None
    assert found.practice
    assert found.number == 3
