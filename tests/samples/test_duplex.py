"""The two dwellings of the duplex: the fixtures of their schedule, and the water and circuits of two ways to lay the pipe.

The counts are those of the Component sheet of BSI (2020) Duplex Apartment Test Files, buildingSMART International, CC BY 4.0
(2012-03-23-Duplex-Handover.xlsx), read: rooms by floor with what stands in them, the same in both dwellings.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.measures.kinds import Length
from plancheck.reading import read_plan

SAMPLES = Path(__file__).parents[2] / "sample_plans"
HOME_RUNS, TRUNK = "duplex-home-runs", "duplex-trunk"
SCHEDULE = {
    ("Bathroom 1", 1): {"shower": 1, "lavatory": 1, "toilet": 1},
    ("Bathroom 2", 2): {"tub and shower": 1, "lavatory": 2, "toilet": 1},
    ("Kitchen", 1): {"kitchen sink": 1},
    ("Utility", 2): {"water heater": 1},
}
FLOOR_2_M = 3.1
ATTRIBUTION = (
    "BSI (2020) Duplex Apartment Test Files, buildingSMART International",
    "CC BY 4.0",
    "7ddf57a2",
    "Changed:",
)


def facts(name: str) -> Facts:
    return facts_of(read_plan(str(SAMPLES / f"{name}.plan.yaml")), "2026-06-05")


@pytest.mark.parametrize("name", [HOME_RUNS, TRUNK])
def test_rooms_floors_and_fixtures_are_those_of_the_schedule(name: str) -> None:
    plan = facts(name).plan
    kinds = {kind for room in SCHEDULE.values() for kind in room}
    for (room, floor), expected in SCHEDULE.items():
        place = next(place for place in plan.places.values() if place.name == room)
        there = Counter(part.is_ for part in plan.parts.values() if part.place == place.id and part.is_ in kinds)
        assert there == expected, room
        level = place.level.m if isinstance(place.level, Length) else 0.0
        assert level == pytest.approx(FLOOR_2_M if floor == 2 else 0.0, abs=0.005)
    assert sum(part.is_ in kinds for part in plan.parts.values()) == 9


@pytest.mark.parametrize("name", [HOME_RUNS, TRUNK])
def test_the_head_names_the_source_its_licence_and_what_was_changed(name: str) -> None:
    text = (SAMPLES / f"{name}.plan.yaml").read_text(encoding="utf-8")
    head = " ".join(line.removeprefix("# ") for line in text.splitlines() if line.startswith("#"))
    assert [words for words in ATTRIBUTION if words not in head] == []


def test_every_outlet_side_has_a_run_and_a_port_of_its_own() -> None:
    found = facts(HOME_RUNS)
    zones = {
        valve: set(dry) for valve, dry in found.zones.dry.items() if valve.partition("/")[0] in ("cold-row", "hot-row")
    }
    alone = {sides.pop() for valve, sides in zones.items() if len(sides) == 1 and valve != "cold-row/A"}
    mixed = ("sink", "lav-1", "shower-1", "basin-near", "basin-far", "tub-2")
    assert alone == {f"{part}/{side}" for part in mixed for side in ("cold", "hot")} | {"wc-1/cold", "wc-2/cold"}
    assert set(found.zones.dry["cold-row/A"]) == {f"{part}/hot" for part in mixed}
    assert not any(part.is_ == "tee" and part.id not in ("gauge-tee", "tank-tee") for part in found.plan.parts.values())


def test_the_trunk_shuts_by_rooms_and_its_loop_comes_back() -> None:
    found = facts(TRUNK)
    dry = {valve: set(sides) for valve, sides in found.zones.dry.items()}
    assert dry["bath-1-valve"] == {"shower-1/cold", "lav-1/cold", "wc-1/cold"}
    assert dry["bath-2-valve"] == {"tub-2/cold", "basin-left/cold", "basin-right/cold", "wc-2/cold"}
    assert dry["sink-valve"] == {"sink/cold"}
    services = {run: found.carried(run).service for run in found.plan.runs}
    assert {run for run, service in services.items() if service == "hot return"} == {"loop-back", "loop-end"}
    warm = {run for run, service in services.items() if service == "hot"}
    assert warm == {run for run in services if run.endswith(("-h", "-hot"))} | {
        f"loop-{number}" for number in range(1, 7)
    }
    assert found.traced.crossovers == ()
    assert not any(part.is_ == "manifold" for part in found.plan.parts.values())
