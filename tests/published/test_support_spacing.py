"""Gaps at, within the grace of, and over the printed tables, judged on a whole plan. Numbers typed in from the source."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.engine import Judged
from tests.casework import judge, plan_of

# source; material and size; family and edition; the largest level gap in inches
LEVEL = [
    ("IRC 2018 Table P2605.1 (read)", "PEX-A", "1/2", "irc", 2018, 32),
    ("IRC 2018 Table P2605.1 (read)", "PEX-B", "1", "irc", 2018, 32),
    ("IRC 2018 Table P2605.1 (read)", "PEX-C", "1-1/4", "irc", 2018, 48),
    ("IRC 2018 Table P2605.1 (read)", "PEX-AL-PEX", "3/4", "irc", 2018, 32),
    ("IRC 2018 Table P2605.1 (read)", "CPVC", "1", "irc", 2018, 36),
    ("IRC 2018 Table P2605.1 (read)", "CPVC", "1-1/4", "irc", 2018, 48),
    ("IRC 2018 Table P2605.1 (read)", "copper", "1-1/4", "irc", 2018, 72),
    ("IRC 2018 Table P2605.1 (read)", "copper", "1-1/2", "irc", 2018, 120),
    ("IPC 2015 Table 308.5 (from memory)", "PEX-A", "1-1/4", "ipc", 2018, 48),
    ("IPC before 2015, one row of PEX (from memory)", "PEX-A", "1-1/4", "ipc", 2012, 32),
    ("UPC 2018 Table 313.3 (read)", "PEX-A", "1", "upc", 2018, 32),
    ("UPC 2018 Table 313.3 (read)", "PEX-A", "1-1/4", "upc", 2018, 48),
    ("UPC 2018 Table 313.3 (read)", "PEX-AL-PEX", "1", "upc", 2018, 98),
    ("UPC 2018 Table 313.3 (read)", "CPVC", "3/4", "upc", 2018, 36),
    ("UPC 2018 Table 313.3 (read)", "copper", "1-1/2", "upc", 2018, 72),
    ("UPC 2018 Table 313.3 (read)", "copper", "2", "upc", 2018, 120),
]


def asked(what: str, change: dict[str, Any]) -> Judged:
    judged = judge(plan_of({"change": change}), "support_spacing")
    return next(one for one in judged if one.subject.name == f"{what} of bath-link")


def line(material: str, size: str, family: str, edition: int, path: str, supports: dict[str, Any]) -> dict[str, Any]:
    return {
        "code": {"family": family, "edition": edition},
        "tubes/tried": {"material": material, "size": size},
        "runs/bath-link/tube": "tried",
        "runs/bath-link/path": [path],
        "runs/bath-link/supports": {"kind": "plastic clip", **supports},
    }


@pytest.mark.parametrize(("source", "material", "size", "family", "edition", "inches"), LEVEL)
def test_level(source: str, material: str, size: str, family: str, edition: int, inches: float) -> None:
    for gap, kind in ((inches, "holds"), (inches + 1 / 16, "holds"), (inches + 1 / 8, "broken")):
        stated = line(material, size, family, edition, "east 30 ft", {"every": f"{gap} in", "ends": "6 in"})
        measured = line(material, size, family, edition, f"east {2 * gap} in", {"at": [f"{gap} in"]})
        for change in (stated, measured):
            found = asked("level supports", change)
            assert found.outcome.kind == kind
            assert found.outcome.limit is not None
            assert found.outcome.limit.source.read in source


# source; material; family; the largest upright gap and the largest without a guide, inches
UPRIGHT = [
    ("IRC 2018 Table P2605.1 (read), note b (from memory)", "PEX-A", "irc", 120, 60),
    ("IRC 2018 Table P2605.1 (read), note b (from memory)", "CPVC", "irc", 120, 60),
    ("IRC 2018 Table P2605.1 (read)", "PEX-AL-PEX", "irc", 48, 48),
    ("IRC 2018 Table P2605.1 (read); no note b", "copper", "irc", 120, 120),
]


@pytest.mark.parametrize(("source", "material", "family", "inches", "unguided"), UPRIGHT)
def test_upright(source: str, material: str, family: str, inches: float, unguided: float) -> None:
    for gap, guides, kind in (
        (inches, "mid-storey", "holds"),
        (inches + 1 / 8, "mid-storey", "broken"),
        (unguided, "none", "holds"),
        (unguided + 1 / 8, "none", "broken"),
    ):
        said = {"every": "30 in", "risers": f"{gap} in", "ends": "1 in", "guides": guides}
        found = asked("upright supports", line(material, "3/4", family, 2018, "up 30 ft", said))
        assert found.outcome.kind == kind, (source, gap, guides)


@pytest.mark.parametrize(("storey", "kind"), [("13 ft", "holds"), ("10 ft", "broken")])
def test_base_and_each_floor_under_the_upc(storey: str, kind: str) -> None:
    """UPC 2018 Table 313.3 (read): upright at the base and each floor; 12 ft stands in a storey of 13 ft, not of 10."""
    change = line("PEX-A", "1/2", "upc", 2018, "up 12 ft", {"every": "30 in", "risers": "12 ft", "ends": "1 in"})
    change["runs/bath-link/supports"]["guides"] = "mid-storey"
    change["places/bath/level"] = "9 ft"
    change["places/loft"] = {"level": f"{9 + int(storey.removesuffix(' ft'))} ft"}
    change["parts/bath-tee/at"] = ["10 ft", "8 ft", "9 ft"]
    found = asked("upright supports", change)
    assert found.outcome.kind == kind


@pytest.mark.parametrize(("ends", "kind"), [("16 in", "holds"), ("16-1/8 in", "broken")])
def test_half_a_span_at_a_fitting(ends: str, kind: str) -> None:
    """A maker's design manual p. 72 (read): 16 in for the span of 32 in; else a support is added."""
    said = {"every": "32 in", "ends": ends}
    assert asked("first supports", line("PEX-A", "1/2", "irc", 2018, "east 30 ft", said)).outcome.kind == kind


def test_813_mm_is_32_inches() -> None:
    """813 mm is 32.0079 in by the definition of the inch (25.4 mm); 815 mm is more than a sixteenth over."""
    for every, kind in (("813 mm", "holds"), ("814 mm", "holds"), ("815 mm", "broken")):
        said = {"every": every, "ends": "100 mm"}
        assert asked("level supports", line("PEX-A", "1/2", "irc", 2018, "east 9 m", said)).outcome.kind == kind
