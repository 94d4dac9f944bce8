"""The sample plans with their findings, worked out by hand from what each plan says; nothing else may be found."""

from __future__ import annotations

from pathlib import Path

import pytest

from plancheck.check import check_file
from plancheck.report.data import PlanReport

SAMPLES = Path(__file__).parents[2] / "sample_plans"
Expected = list[tuple[str, str, str, str]]  # rule, path, severity, words

MISTAKES: Expected = [
    ("branch_shutoff", "/parts/main-valve/reach", "correction", "cannot be reached"),
    ("test_port", "/parts/street-gauge", "advice", "not capped"),
    ("branch_shutoff", "/parts/cold-ring/ports/G/valve", "advice", "no valve"),
    ("branch_shutoff", "/parts/slip-hose", "correction", "no valve shuts it alone"),
    ("heater_clearance", "/runs/hot-main", "correction", "11 in along the pipe"),
    ("service_colour", "/runs/garden-cold", "hazard", "purple"),
    ("service_colour", "/runs/trough-cold", "advice", "red but carries cold"),
    ("branch_shutoff", "/parts/wr-wc", "correction", "no valve shuts it alone"),
    ("support_spacing", "/runs/wr-cold/supports", "correction", "every 4 ft, level; at most 2 ft 8 in"),
    ("support_spacing", "/runs/wr-lav-c/supports", "correction", "6 ft 4 in upright without a guide"),
    ("service_colour", "/runs/wr-wc-c", "correction", "no potable mark"),
    ("bend_radius", "/runs/wr-hot/along/0", "correction", "kinked"),
    ("support_spacing", "/runs/washer-cold/supports/kind", "advice", "metal straps"),
    ("bend_radius", "/runs/galley-cold/bends/0", "correction", "radius of 3 in"),
    ("bend_radius", "/runs/galley-cold/bends/1", "correction", "radius of 3 in"),
    ("bend_radius", "/runs/g-wc-c/path/2", "advice", "does not fit"),
    ("walked_paths", "/runs/g-lav-c", "advice", "9 ft 8 in east by one walk, 10 ft 8 in"),
    ("heat_standoff", "/runs/g-lav-h", "advice", "4 in beside"),
]
APPRENTICE: Expected = [
    ("branch_shutoff", "/parts/main-valve/is", "advice", "main of the house"),
    ("service_colour", "/runs/shower-cold", "advice", "blue but carries hot"),
    ("service_colour", "/runs/shower-hot", "advice", "red but carries cold"),
    ("test_port", "/parts", "advice", "no connection for a pressure gauge"),
]
FLAT: Expected = [
    ("heater_clearance", "/runs/heater-cold", "advice", "0 in along the pipe"),
    ("heater_clearance", "/runs/heater-hot", "advice", "0 in along the pipe"),
    ("test_port", "/parts", "advice", "no connection for a pressure gauge"),
]


def report(name: str) -> PlanReport:
    return check_file(str(SAMPLES / f"{name}.plan.yaml"), "2026-06-05")


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("boathouse", []),
        ("metric-house", []),
        ("boathouse-mistakes", MISTAKES),
        ("apprentice", APPRENTICE),
        ("small-flat", FLAT),
    ],
)
def test_findings_are_these_and_no_others(name: str, expected: Expected) -> None:
    left = list(report(name).findings)
    for rule, path, severity, words in expected:
        met = [
            one for one in left if (one.rule, one.path, one.severity) == (rule, path, severity) and words in one.says
        ]
        assert met, f"{rule} at {path} is not found"
        left.remove(met[0])
    assert [(one.rule, one.path, one.says) for one in left] == []


def test_every_mistake_has_its_remark_and_every_remark_its_finding() -> None:
    """Each finding's line, or the line of the tube or connector it speaks of, carries an inspector's remark."""
    text = (SAMPLES / "boathouse-mistakes.plan.yaml").read_text(encoding="utf-8").splitlines()
    remarked = {number for number, line in enumerate(text, 1) if "# inspector:" in line}
    found = {one.line for one in report("boathouse-mistakes").findings}
    elsewhere = {  # the finding stands at the thing, the remark at what is wrong with it
        "hot-main": "heater-hot:",
        "garden-cold": "purple:",
        "wr-wc-c": "orange:",
        "g-lav-h": "clear: {lamp",
        "g-lav-c": "g-link:",
        "slip-hose": "slip-stop:",
        "trough-cold": "trough-cold:",
    }
    for piece in elsewhere.values():
        found |= {number for number, line in enumerate(text, 1) if piece in line and "# inspector:" in line}
    assert remarked <= found


def test_clean_houses_show_everything_the_rules_ask() -> None:
    for name in ("boathouse", "metric-house"):
        clean = report(name)
        assert clean.not_shown == ()
        assert clean.verdict == "nothing found"


def test_what_the_flat_does_not_show() -> None:
    needs = {one.needs for one in report("small-flat").not_shown}
    runs = ("entry", "bath-cold", "tub-cold", "bath-link", "wc-cold", "basin-cold", "sink-cold")
    runs += ("heater-cold", "heater-hot", "sink-hot", "bath-hot", "tub-hot", "basin-hot")
    expected = {f"/runs/{run}/supports" for run in runs} | {f"/runs/{run}/bends" for run in runs if run != "entry"}
    expected |= {f"/parts/{part}/supply/stop" for part in ("basin", "wc", "tub", "sink")}
    expected |= {f"/parts/cold-row/ports/{port}/valve" for port in "ABC"} | {"/parts/flat-valve/reach"}
    assert needs == expected


def test_the_apprentice_ties_hot_to_cold() -> None:
    from plancheck.check import facts_of
    from plancheck.reading import read_plan

    facts = facts_of(read_plan(str(SAMPLES / "apprentice.plan.yaml")), "2026-06-05")
    assert facts.traced.crossovers == ("link",)
    assert "link joins hot and cold" in " ".join(report("apprentice").remarks)
    assert facts.carried("shower-cold").service == "hot"
    assert facts.carried("shower-hot").service == "cold"
    assert facts.carried("loose").service is None
