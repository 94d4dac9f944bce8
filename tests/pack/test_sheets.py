"""What stands on the sheets of the pack, against figures worked out by hand or printed elsewhere."""

from __future__ import annotations

import copy
import hashlib
import re
from pathlib import Path
from typing import Any

import pytest

from plancheck.loader import built_in_ids
from plancheck.reading import read_plan
from tests.pack.making import grids, material_of, pairs, sheets, texts

SAMPLES = Path(__file__).parents[2] / "sample_plans"
_NAMES = ("cover", "punch-list", "inspection", "permit", "test", "commissioning", "labels", "owner", "cautions")


def plan(name: str) -> Any:
    return read_plan(str(SAMPLES / f"{name}.plan.yaml")).data


BOATHOUSE = plan("boathouse")
MATERIAL = material_of(BOATHOUSE)
SHEETS = sheets(MATERIAL)


@pytest.mark.parametrize("name", [path.name.removesuffix(".plan.yaml") for path in sorted(SAMPLES.glob("*.plan.yaml"))])
def test_every_sample_has_all_sheets(name: str) -> None:
    made = sheets(material_of(plan(name)))
    assert tuple(made) == _NAMES
    assert all(sheet.blocks for sheet in made.values())


def test_the_cover_names_job_code_rules_and_hash() -> None:
    said = pairs(SHEETS["cover"])
    assert said["Job"] == "Reedmoor boathouse"
    assert said["Code"] == "UPC 2021"
    assert said["SHA-256 of the file"] == hashlib.sha256(MATERIAL.report.raw).hexdigest()
    assert said["Address"] == said["Owner"] == ""  # to be written by hand: a plan has none
    assert said["plancheck"].endswith(f"{len(built_in_ids())} rules")
    assert "no approval" in texts(SHEETS["cover"])


def test_fixture_units_add_up_as_the_upc_prints_them() -> None:
    # UPC Table 610.3, private (trade pages print it): shower 2, lavatory 1, toilet 2.5, kitchen sink 1.5, dishwasher 1.5,
    # clothes washer 4, laundry tray 1.5, first hose outlet 2.5 and each further one 1
    table = grids(SHEETS["permit"])["Fixture units (UPC)"]
    rows = {row[0]: row for row in table.rows}
    assert rows["shower"][1:] == ("2", "1.5", "1.5", "2")
    assert rows["clothes washer"][4] == "4"
    by_hand = 2 * 2 + 2 * 1 + 2 * 2.5 + 1.5 + 1.5 + 4 + 1.5 + 2.5 + 1
    assert rows["Sum, one by one"][4] == f"{by_hand:g}"
    assert (rows["hose outlet, the first"][1:], rows["hose outlet, each further"][1:]) == (("1", "2.5", "0", "2.5"), ("1", "1", "0", "1"))
    assert rows["Sum, fixtures that count as one group together"][4] == f"{by_hand - 1.5:g}"
    for column in (2, 4):  # whoever adds the table up gets its sum
        lines = [row for name, row in rows.items() if not name.startswith("Sum")]
        assert sum(int(row[1]) * float(row[column]) for row in lines) == pytest.approx(float(rows["Sum, one by one"][column]))
    assert table.notes == ("Declared on the permit: total 21.5.",)


def test_sizing_has_every_run_with_size_flow_speed_and_loss() -> None:
    table = grids(SHEETS["permit"])["Peak demand of every run"]
    assert [row[0] for row in table.rows] == [run for run, said in BOATHOUSE["runs"].items()]
    assert table.columns == ("run", "tube", "carries", "fixture units", "peak, units gpm", "peak, binomial gpm", "speed ft/s", "loss psi")


def test_the_service_and_the_pressure_stand_on_the_permit_sheet() -> None:
    said = pairs(SHEETS["permit"])
    assert said["Meter"] == "1"
    assert said["Pipe from the street (service)"] == "1 copper K, 45 ft, cover 36 in, existing"
    assert said["Standing pressure, read on"] == "86 psi, 2026-04-20"
    assert said["Held"] == "at least 15 min, UPC 609.4 (read)"


def test_scope_tells_new_from_kept() -> None:
    rows = {row[0]: row for row in grids(SHEETS["permit"])["Pipe of this plan"].rows}
    assert rows["kept"][1:] == ("1", "45 ft")
    assert rows["new"][1] == str(len(BOATHOUSE["runs"]) - 1)


def test_the_test_is_at_the_pressure_the_house_works_at() -> None:
    rows = grids(SHEETS["test"])["Sides with new work"].rows
    assert [row[:3] for row in rows] == [("cold", "58 psi", "58 psi"), ("hot", "58 psi", "58 psi")]
    families = grids(SHEETS["test"])["By code family"]
    assert [row[0] for row in families.rows] == ["IRC", "IPC", "UPC, this job"]
    assert families.marked == {2: "in force"}
    # IRC P2503.7, IPC 312.5, UPC 609.4 (read): 15 minutes, 50 psi where air is used
    assert all(row[4].startswith("15 min") and row[3].startswith("50 psi") for row in families.rows)


def test_cooling_of_an_air_test_follows_the_absolute_temperature() -> None:
    rows = grids(SHEETS["test"])["Fall of an air test by cooling alone"].rows
    # by hand: (50 + 14.7) psi x 10/1.8 K / 293.15 K = 1.2 psi; (100 + 14.7) x 30/1.8 / 293.15 = 6.5
    assert rows[0][:2] == ("50 psi", "1.2 psi")
    assert rows[2][3] == "6.5 psi"


def test_a_reading_outside_its_band_is_marked() -> None:
    right = grids(SHEETS["commissioning"])["Readings the plan carries"]
    assert not right.marked
    wrong = sheets(material_of(BOATHOUSE, {"measured/first-water/reads": "41 psi"}))["commissioning"]
    assert grids(wrong)["Readings the plan carries"].marked == {0: "outside the band"}


def test_what_nobody_measured_is_a_line_to_write_on() -> None:
    gauges = grids(SHEETS["commissioning"])["What the gauge should read, psi"]
    assert {row[3] for row in gauges.rows} == {""}
    assert gauges.writable == {3}


def test_a_claim_is_a_claim_and_every_rule_is_in_its_step() -> None:
    inspection = SHEETS["inspection"]
    words = texts(inspection)
    assert "A record is a claim of its author; it was not checked." in words
    assert "by crew 1, 2026-05-11, photo rings.jpg" in words
    titles = [row[0] for block in inspection.blocks if block.kind == "grid" for row in block.rows]
    assert len(titles) == len([1 for counts in MATERIAL.report.tally.values() if any(counts.values())])
    assert re.findall(r"\bpass\b", words.lower()) == []  # a manifold passes water; a plan passes nothing


def test_every_line_for_the_site_stands_on_the_sheet_with_its_place() -> None:
    ticks = [tick for block in SHEETS["inspection"].blocks if block.kind == "boxes" for tick in block.ticks]
    told = {(tick.where.partition(",")[0], tick.text) for tick in ticks}
    assert {(one.station, one.says) for one in MATERIAL.report.on_site} <= told


def test_the_shutoff_map_and_the_owner_agree_on_what_goes_dry() -> None:
    shut = {row[0]: row[3] for row in grids(SHEETS["labels"])["What goes dry"].rows}
    told = {row[0].partition(" ")[0]: row[2] for row in grids(SHEETS["owner"])["Shut this valve"].rows}
    assert shut["cold-ring/C"] == told["cold-ring/C"] == "Galley kitchen: sink (cold)"
    assert "main-valve" not in told


def test_the_owner_is_told_of_scalds_and_licensed_work() -> None:
    words = texts(SHEETS["owner"])
    assert "Water of 120 degF burns skin in about 5 min" in words
    assert "licensed people" in words
    assert "never plug it" in words


def test_a_plan_without_code_says_so_and_has_no_figures_of_any_family() -> None:
    bare = {key: value for key, value in BOATHOUSE.items() if key != "code"}
    made = sheets(material_of(bare))
    assert "The plan names no code" in texts(made["permit"])
    assert not grids(made["test"])["By code family"].marked


def test_the_owner_is_told_when_nobody_gets_at_the_main_and_what_it_alone_shuts() -> None:
    spoilt = copy.deepcopy(BOATHOUSE)
    spoilt["parts"]["main-valve"]["reach"] = "none"
    spoilt["parts"]["cold-ring"]["ports"]["H"]["valve"] = "none"  # the garden hose then has no valve but the main
    found = sheets(material_of(spoilt))
    assert "nobody gets at it: it is closed in" in texts(found["owner"])
    assert "nobody gets at it" not in texts(SHEETS["owner"])
    reach = {row[0].partition(" ")[0]: row[1] for row in grids(found["owner"])["Shut this valve"].rows}
    assert set(reach.values()) <= {"open", "panel", "not said", "no, closed in", ""}


def test_what_is_found_of_a_recorded_test_stands_with_its_record() -> None:
    spoilt = copy.deepcopy(BOATHOUSE)
    name = next(iter(spoilt["tests"]))
    spoilt["tests"][name]["held"] = "5 min"  # UPC 609.4 (read): 15 minutes at least
    material = material_of(spoilt)
    found = [one for one in material.report.findings if one.path.startswith(f"/tests/{name}")]
    assert found
    words = texts(sheets(material)["test"])
    assert all(f"{one.number}. {one.severity}: {one.says}" in words for one in found)
    assert "Finding" not in texts(SHEETS["test"])


def test_what_stands_before_the_regulator_is_not_tested_by_the_pressure_behind_it() -> None:
    """The boathouse's street has 86 psi, its regulator holds 58: the new main valve and gauge tee stand before it."""
    words = texts(SHEETS["test"])
    assert "Before the regulator more stands: 86 psi at" in words
    assert "main valve" in words.partition("Before the regulator more stands")[2].partition("test it by itself")[0]
