"""Ratings of plastic tube against the product standards. `read`: an excerpt was seen; `from memory`: it was not."""

from __future__ import annotations

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules
from tests.casework import judge, plan_of

RULE = next(one for one in built_in_rules() if one.id == "tube_rating").rule
PSI = 6894.757293168


def in_force(id_: str, family: str | None) -> InForce:
    limit: Limit = next(one for one in RULE.limits if one.id == id_)
    return Limits(family, 2021).of(limit)


@pytest.mark.parametrize(
    ("id_", "psi", "document", "read"),
    [
        ("pex_cold", 160, "ASTM F876", "read"),  # 160 psi at 73.4 degF
        ("pex_hot", 100, "ASTM F876", "read"),  # 100 psi at 180 degF
        ("cpvc_hot", 100, "ASTM D2846", "read"),  # 100 psi at 180 degF
        ("cpvc_cold", 400, "ASTM D2846", "from memory"),  # 400 psi at 73 degF
    ],
)
def test_ratings(id_: str, psi: float, document: str, read: str) -> None:
    for family in ("irc", "ipc", "upc"):
        found = in_force(id_, family)
        assert found.number / PSI == pytest.approx(psi)
        assert (found.source.document, found.source.read, found.practice) == (document, read, False)


@pytest.mark.parametrize(
    ("family", "clause", "read"), [("irc", "P2906.4", "read"), ("ipc", "605.3", "read"), ("upc", "604", "from memory")]
)
def test_service(family: str, clause: str, read: str) -> None:
    """160 psi at 73.4 degF: IRC 2018 P2906.4 and IPC 605.3 (read), UPC (from memory)."""
    found = in_force("service", family)
    assert found.number / PSI == pytest.approx(160)
    assert (found.source.clause, found.source.read) == (clause, read)


# degF, psi; on the straight line from 160 at 73.4 to 100 at 180: 131.0 at 125, 122.5 at 140 (worked by hand)
LINE = [
    (125, 100, "holds"),
    (125, 130.5, "advice"),
    (125, 132, "correction"),
    (140, 122, "advice"),
    (140, 123.5, "correction"),
]


@pytest.mark.parametrize(("degf", "psi", "answer"), LINE)
def test_between_the_points(degf: float, psi: float, answer: str) -> None:
    """F876 prints no rating between its points; an industry policy allows a straight line (from memory): advice there."""
    changes = {"water/static": f"{psi} psi", "parts/heater/set": f"{degf} degF"}
    judged = judge(plan_of({"base": "rating", "change": changes}), "tube_rating")
    outcome = next(one.outcome for one in judged if one.subject.path == ("runs", "hot"))
    assert (outcome.severity or outcome.kind) == answer
