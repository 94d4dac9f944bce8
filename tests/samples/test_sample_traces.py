"""The sample plans have the shape, the positions and the water that their houses have, as worked out by hand."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema_rs
import pytest

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.reading import read_plan

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "sample_plans"
NAMES = sorted(path.name.removesuffix(".plan.yaml") for path in SAMPLES.glob("*.plan.yaml"))
INCH = 0.0254
WET_ROOM = {"wr-shower", "wr-lav", "wr-wc"}
GUEST = {"g-shower", "g-lav", "g-wc"}


def facts(name: str) -> Facts:
    return facts_of(read_plan(str(SAMPLES / f"{name}.plan.yaml")), "2026-06-05")


def cold(*parts: str) -> set[str]:
    return {f"{part}/cold" for part in parts}


def hot(*parts: str) -> set[str]:
    return {f"{part}/hot" for part in parts}


def dries(found: Facts) -> dict[str, set[str]]:
    """For each manifold port with a valve that dries something: the sides of the outlets."""
    rows = {part.id for part in found.plan.parts.values() if part.is_ == "manifold"}
    zones = {valve: set(sides) for valve, sides in found.zones.dry.items()}
    return {valve: sides for valve, sides in zones.items() if valve.partition("/")[0] in rows and sides}


def test_the_plans_are_there() -> None:
    duplex = ["duplex-home-runs", "duplex-trunk"]
    assert ["apprentice", "boathouse", "boathouse-mistakes", *duplex, "metric-house", "small-flat"] == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_shape_and_title(name: str) -> None:
    schema = json.loads((ROOT / "schemas" / "plan.schema.json").read_text(encoding="utf-8"))
    plan = read_plan(str(SAMPLES / f"{name}.plan.yaml")).data
    assert jsonschema_rs.Draft202012Validator(schema).is_valid(plan)
    assert plan["job"]["title"]
    text = (SAMPLES / f"{name}.plan.yaml").read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=../schemas/plan.schema.json\n")


@pytest.mark.parametrize("name", ["boathouse", "metric-house", "duplex-home-runs", "duplex-trunk"])
def test_walks_and_heights_agree_within_an_inch(name: str) -> None:
    found = facts(name)
    assert {miss.what for miss in found.geometry.compared} >= {"position", "height"}
    far = [(miss.run, miss.part) for miss in found.geometry.compared if miss.gap_m > INCH and miss.what != "length"]
    assert far == []


def test_circuits_of_the_boathouse() -> None:
    found = facts("boathouse")
    heated = hot("wr-shower", "wr-lav", "g-shower", "g-lav", "sink", "dishwasher", "washer", "trough")
    assert dries(found) == {
        "cold-ring/A": cold(*WET_ROOM),
        "cold-ring/B": cold(*GUEST),
        "cold-ring/C": cold("sink"),
        "cold-ring/D": cold("washer"),
        "cold-ring/E": heated,
        "cold-ring/F": cold("trough"),
        "cold-ring/G": cold("slip-hose"),
        "cold-ring/H": cold("garden-hose"),
        "hot-row/A": hot("wr-shower", "wr-lav"),
        "hot-row/B": hot("g-shower", "g-lav"),
        "hot-row/C": hot("sink", "dishwasher"),
        "hot-row/D": hot("washer"),
        "hot-row/E": hot("trough"),
    }
    assert found.zones.unfed == ()


def test_circuits_of_the_metric_house() -> None:
    found = facts("metric-house")
    assert dries(found) == {
        "cold-row/A": hot("sink", "lav", "shower"),
        "cold-row/B": cold("sink"),
        "cold-row/C": cold("lav"),
        "cold-row/D": cold("wc"),
        "cold-row/E": cold("shower"),
        "cold-row/F": cold("hose"),
        "hot-row/A": hot("sink"),
        "hot-row/B": hot("lav"),
        "hot-row/C": hot("shower"),
    }


def test_circuits_of_the_flat() -> None:
    found = facts("small-flat")
    services = {run: found.carried(run).service for run in found.plan.runs}
    assert {run for run, service in services.items() if service == "hot"} == {
        "heater-hot",
        "sink-hot",
        "bath-hot",
        "tub-hot",
        "basin-hot",
    }
    assert set(services.values()) == {"cold", "hot"}
    circuits = {run: found.carried(run).circuit for run in ("bath-cold", "wc-cold", "sink-cold", "heater-cold")}
    assert list(circuits.values()) == ["cold-row/A", "cold-row/A", "cold-row/B", "cold-row/C"]


@pytest.mark.parametrize("name", ["boathouse", "boathouse-mistakes", "metric-house"])
def test_every_run_carries_the_water_its_name_says(name: str) -> None:
    found = facts(name)
    services = {run: found.carried(run).service for run in found.plan.runs}
    warm = {run for run in services if "hot" in run or run.endswith("-h")}
    assert {run for run, service in services.items() if service == "hot"} == warm
    assert {service for run, service in services.items() if run not in warm} == {"cold"}
    assert found.traced.crossovers == ()


def test_rings() -> None:
    assert facts("boathouse").traced.rings
    assert not facts("metric-house").traced.rings


def test_the_apprentice_ties_hot_to_cold() -> None:
    found = facts("apprentice")
    assert found.traced.crossovers == ("link",)
    services = {run: found.carried(run).service for run in found.plan.runs}
    assert services["shower-cold"] == services["basin-hot"] == "hot"
    assert services["shower-hot"] == services["basin-cold"] == "cold"
    assert services["loose"] is None
    assert found.zones.unfed == ("tray/hot",)
