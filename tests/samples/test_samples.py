"""The sample plans with their findings, worked out by hand from what each plan says; nothing else may be found."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from plancheck.check import check_file
from plancheck.report.data import PlanReport
from tests.samples.of_material import MATERIAL_OF_APPRENTICE, MATERIAL_OF_FLAT, MATERIAL_ON_SITE

SAMPLES = Path(__file__).parents[2] / "sample_plans"
REMARK = "# inspector:"


class Expected(NamedTuple):
    """One finding: its rule, path and severity, words of it, and what stands on the line it is printed with."""

    rule: str
    path: str
    severity: str
    words: str
    line: str


MISTAKES = [
    Expected("branch_shutoff", "/parts/main-valve/reach", "correction", "cannot be reached", "reach: none"),
    # the port without a valve leaves the main as the next one of what hangs on it
    Expected("branch_shutoff", "/parts/main-valve/is", "advice", "main of the house for wr-shower/cold", "main-valve:"),
    Expected("branch_shutoff", "/parts/cold-ring/ports/A/valve", "advice", "no valve", "valve: none"),
    Expected("branch_shutoff", "/parts/heater-valve/style", "correction", "not full-way", "style: globe"),
    Expected("branch_shutoff", "/parts/wr-wc", "correction", "no valve shuts it alone", "stop: none"),
    Expected("test_port", "/parts/street-gauge", "advice", "not capped", "end: none"),
    Expected("hose_breaker", "/parts/street-gauge/end", "advice", "stands open", "end: none"),
    Expected("heater_clearance", "/runs/hot-main", "correction", "begins 10 in along the pipe", "hot-main:"),
    Expected("heat_standoff", "/runs/hot-main", "advice", "4-1/16 in beside", "west 2 ft 11-1/2 in and south 12 in"),
    Expected("service_colour", "/runs/garden-cold", "hazard", "is purple", "tube: purple"),
    Expected("service_colour", "/runs/trough-cold", "advice", "is red but carries cold", "tube: red"),
    Expected("print_marks", "/tubes/orange/print", "correction", "no drinking-water mark", "orange: {like"),
    Expected("service_colour", "/runs/wr-wc-c", "correction", "no potable mark", "tube: orange"),
    Expected("support_spacing", "/runs/wr-cold/supports", "correction", "every 4 ft, level", "every: 4 ft"),
    Expected("support_spacing", "/runs/wr-lav-c/supports", "correction", "6 ft 9 in upright", "guides: none"),
    Expected("support_spacing", "/runs/washer-cold/supports/kind", "advice", "metal straps", "kind: metal strap"),
    Expected("bend_radius", "/runs/galley-cold/bends/0", "correction", "radius of 3 in", "radius: 3 in"),
    Expected("bend_radius", "/runs/galley-cold/bends/1", "correction", "radius of 3 in", "radius: 3 in"),
    Expected("bend_radius", "/runs/g-wc-c/path/2", "advice", "does not fit", "east 4 in"),
    Expected("bend_radius", "/runs/wr-hot/along/0", "correction", "kinked", "is: kink"),
    Expected("walked_paths", "/runs/trough-hot", "advice", "9 ft 6 in east by the walk", "west 4 ft 2 in"),
]
APPRENTICE = [
    Expected("service_colour", "/runs/shower-cold", "advice", "blue but carries hot", "from: hot-row/A"),
    Expected("service_colour", "/runs/shower-hot", "advice", "red but carries cold", "from: cold-row/A"),
    Expected("branch_shutoff", "/parts/cold-row/ports/D", "advice", "through link", "D: {label: Heater}"),
    Expected("branch_shutoff", "/parts/cold-row/ports/E", "advice", "through link", "E: {label: Spare}"),
    Expected("branch_shutoff", "/parts/hot-row/ports/C", "advice", "through link", "C: {label: Spare}"),
    Expected("test_port", "/parts", "advice", "no connection for a pressure gauge", "is: source"),
    Expected("dead_ends", "/runs/loose", "advice", "No water reaches loose, loose-tee", "loose:"),
    Expected("hot_cold_crossover", "/runs/link", "correction", "ties hot-row/C to cold-row/E", "link:"),
    Expected("fixture_sides", "/parts/shower", "correction", "cold side of shower carries hot", "shower:"),
    Expected("fixture_sides", "/parts/tray/hot", "advice", "no hot water", "tray:"),
]
FLAT = [
    Expected("heater_clearance", "/runs/heater-cold", "advice", "right at the", "to: heater/cold"),
    Expected("heater_clearance", "/runs/heater-hot", "advice", "right at the", "from: heater/hot"),
    Expected("test_port", "/parts", "advice", "no connection for a pressure gauge", "is: source"),
    # half-inch tube that carries all the hot, or all of the bathroom, by the IPC's curve
    Expected("water_speed", "/runs/heater-cold", "advice", "5.84 gpm at peak is 10.6 ft/s", "to: heater/cold"),
    Expected("water_speed", "/runs/heater-hot", "advice", "at most 8 ft/s", "from: heater/hot"),
    Expected("manifold_capacity", "/parts/cold-row", "advice", "1/2 in PEX-A: 9.4 gpm at peak", "cold-row:"),
    Expected("heater_service", "/parts/heater/cold", "advice", "no valve before the first branch", "heater:"),
    Expected("heater_service", "/parts/heater/hot", "advice", "cannot be flushed", "heater:"),
]


def report(name: str) -> PlanReport:
    return check_file(str(SAMPLES / f"{name}.plan.yaml"), "2026-06-05")


def lines(name: str) -> list[str]:
    return (SAMPLES / f"{name}.plan.yaml").read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("boathouse", []),
        ("metric-house", []),
        ("duplex-home-runs", []),
        ("duplex-trunk", []),
        ("boathouse-mistakes", MISTAKES),
        ("apprentice", APPRENTICE),
        ("small-flat", FLAT),
    ],
)
def test_findings_are_these_and_no_others(name: str, expected: list[Expected]) -> None:
    left = list(report(name).findings)
    for one in expected:
        met = [found for found in left if (found.rule, found.path, found.severity) == one[:3]]
        assert met, f"{one.rule} at {one.path} is not found"
        assert one.words in met[0].says
        assert one.line in lines(name)[met[0].line - 1]
        left.remove(met[0])
    assert [(found.rule, found.path, found.says) for found in left] == []


def test_every_mistake_has_its_remark_and_every_remark_its_finding() -> None:
    """The line of each finding carries an inspector's remark, and no other line but one does."""
    remarked = {number for number, line in enumerate(lines("boathouse-mistakes"), 1) if REMARK in line}
    found = {one.line for one in report("boathouse-mistakes").findings}
    short = next(n for n, line in enumerate(lines("boathouse-mistakes"), 1) if line.startswith("  heater-hot:"))
    assert remarked - found == {short}  # metal too short; the finding stands at the plastic behind it
    assert found <= remarked


def test_the_mistakes_are_the_only_difference() -> None:
    """But for its head and for tube that only a mistake uses, the second house is the first one."""
    same = set(lines("boathouse"))
    changed = [line for line in lines("boathouse-mistakes")[4:] if line not in same and REMARK not in line]
    assert all(line.split(":")[0].strip() in ALLOWED for line in changed), changed


# a run broken in two lines before its mistake, the two tubes, and the port whose valve would stand in for the heater's
ALLOWED = {"job", "purple", "orange", "E", "wr-lav-c", "g-wc-c", "galley-cold"}


# houses drawn in full, without a mistake
WHOLE = ("boathouse", "metric-house", "duplex-home-runs", "duplex-trunk")
# what only eyes at the heater can tell
HEATER_ON_SITE = {
    ("relief_valve", "/parts/heater/relief"),
    ("relief_discharge", "/parts/heater/relief/discharge"),
    ("relief_discharge", "/parts/heater/relief/discharge/end"),
}


@pytest.mark.parametrize("name", [*WHOLE, "boathouse-mistakes"])
def test_houses_drawn_in_full_show_everything_the_rules_ask(name: str) -> None:
    full = report(name)
    assert full.not_shown == ()
    seen = (
        {(one.rule, one.path) for one in full.on_site if one.rule != "site_ready"} - MATERIAL_ON_SITE - HEATER_ON_SITE
    )
    asked = {one.path for one in full.on_site if one.rule == "site_ready"}
    assert asked >= {"/job"}  # the papers, and room by room what no plan of pipe shows
    assert {path.split("/")[1] for path in asked} <= {"job", "places", "claims"}
    assert seen - {("claim_record", "/claims/gauged")} == {("static_pressure", "/water"), ("pressure_test", "/tests")}
    assert (full.verdict == "nothing found") == (name != "boathouse-mistakes")


def test_what_the_flat_does_not_show() -> None:
    needs = {one.needs for one in report("small-flat").not_shown}
    runs = ("entry", "bath-cold", "tub-cold", "bath-link", "wc-cold", "basin-cold", "sink-cold")
    runs += ("heater-cold", "heater-hot", "sink-hot", "bath-hot", "tub-hot", "basin-hot")
    expected = {f"/runs/{run}/supports" for run in runs} | {f"/runs/{run}/bends" for run in runs if run != "entry"}
    expected |= {f"/parts/{part}/supply/stop" for part in ("basin", "wc", "tub", "sink")}
    expected |= {f"/parts/cold-row/ports/{port}/valve" for port in "ABC"} | {"/parts/flat-valve/reach"}
    expected |= {"/parts/basin/faucet", "/parts/heater/set", "/parts/heater/least", "/water/coldest", "/heat"}
    expected |= {f"/parts/{part}/height" for part in ("basin", "wc", "sink", "tub")}
    expected |= {f"/parts/{part}/supply/stub" for part in ("basin", "wc", "sink")} | {"/parts/tub/anchor"}
    expected |= {
        "/runs/bath-hot/path",
        "/permit/fixtures",
        "/permit/units",
        "/permit/number",
        "/tests",
        "/water/date",
        "/parts/cold-row/ports/A/reach",
    }
    expected |= {"/parts/flat-valve/drain", "/runs/entry/rise", "/runs/heater-hot/rise"}
    expected |= MATERIAL_OF_FLAT
    expected |= {"/parts/tub/mixer", "/parts/tub/left"}
    assert needs == expected


APPRENTICE_PLASTIC = ("heater-feed", "hot-main", "shower-cold", "shower-hot", "basin-cold", "basin-hot", "wc-cold")
APPRENTICE_PLASTIC += ("tray-cold", "link")


LATER = {
    "drain_down",
    "fixture_supply_size",  # connectors
    "heater_service",
    "hot_on_left",
    "outlet_maximum",
    "pipe_insulation",
    "port_labels",
    "pressure_test",
    "rigid_outlet",
    "ring_check",
    "sun_time",
    "site_ready",
    "support_spacing",
    "thermal_slack",
}


def test_what_the_apprentice_does_not_show() -> None:
    needs = {(one.rule, one.path, one.needs) for one in report("apprentice").not_shown}
    assert needs == {
        *MATERIAL_OF_APPRENTICE,
        ("service_colour", "/runs/link", "/runs/link/to"),  # joins hot and cold
        ("service_colour", "/runs/loose", "/runs/loose/from"),  # joined to nothing
        ("branch_shutoff", "/parts/tray", "/runs"),  # no hot
        ("branch_shutoff", "/parts/main-valve/is", "/parts/shower/supply/stop"),  # its valve may have stops built in
        ("hot_wait", "/parts/basin", "/parts/basin/faucet"),
        ("heater_capacity", "/parts/heater", "/parts/heater/first-hour"),
        ("static_pressure", "/water", "/water/static"),
        ("shower_protection", "/parts/shower/mixer", "/parts/shower/mixer"),
        ("relief_valve", "/parts/heater/relief", "/parts/heater/relief"),
        ("heater_pan", "/parts/heater/pan", "/parts/heater/pan"),
        ("heater_setting", "/parts/heater/set", "/parts/heater/set"),
        ("permit_fixtures", "/permit/fixtures", "/permit/fixtures"),
        ("site_ready", "/permit", "/permit/number"),
        ("fixture_units", "/permit/units", "/permit/units"),
        ("drain_down", "/parts/main-valve", "/parts/main-valve/drain"),
        *(
            ("outlet_capacity", f"/parts/{part}{peak}", "/water/static")
            for part in ("basin", "tray", "wc", "shower")
            for peak in ("", "/peak")
        ),
        *(("shower_swing", f"/parts/shower/{side}", "/water/coldest") for side in ("cold", "hot")),
        ("ring_benefit", "/parts/cold-row", "/parts/shower/hot"),
        ("manifold_capacity", "/parts/cold-row", "/parts/wc/style"),
        ("service_size", "/parts/main-valve", "/water/static"),
        ("water_speed", "/runs/link", "/runs/link"),  # which way it serves
        *(("tube_rating", f"/runs/{run}", "/water/static") for run in APPRENTICE_PLASTIC),
    }
    assert {one.rule for one in report("apprentice").later} == LATER
