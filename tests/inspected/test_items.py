"""Every item of a water-supply inspection is decided, computed, or printed for a person with its place in the house."""

from __future__ import annotations

import json
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

from plancheck.check import check_source, facts_of
from plancheck.flow.pages.all import flow_page
from plancheck.isolate import Closing
from plancheck.loader import built_in_ids, built_in_rules
from plancheck.reading import read_bytes, read_plan
from plancheck.report.data import Remark
from plancheck.report.stations import HOUSE
from plancheck.ringcuts import ring_cuts
from tests.casework import CASES, TODAY, judge, load, plan_of
from tests.pack.making import material_of, sheets

ROOT = Path(__file__).parents[2]
SAMPLES = sorted((ROOT / "sample_plans").glob("*.plan.yaml"))
ITEMS: list[dict[str, Any]] = load(Path(__file__).parent / "items.yaml")
NAMES = [item["item"] for item in ITEMS]
_WAYS = ("decided", "on_site", "house", "computed")


def missing(item: dict[str, Any]) -> list[str]:
    """What the item names and nothing gives, in words; empty where all of it is there."""
    if not any(item.get(way) for way in _WAYS):
        return ["nothing decides, computes or prints it"]
    wrong = [f"no such way: {key}" for key in item if key not in ("item", *_WAYS)]
    decided = item.get("decided", [])
    printed = [(*one, way == "house") for way in ("on_site", "house") for one in item.get(way, {}).items()]
    unknown = [rule for rule in dict.fromkeys((*decided, *(one[0] for one in printed))) if rule not in built_in_ids()]
    wrong += [f"no rule {rule}" for rule in unknown]
    wrong += [f"{rule} never answers {kind}" for rule in decided if rule not in unknown for kind in undecided(rule)]
    wrong += [
        f"{rule} prints nothing for a person with '{words}' {'of the whole house' if house else 'at a place'}"
        for rule, words, house in printed
        if rule not in unknown and not is_printed(rule, words, house)
    ]
    there = computed()
    for command, parts in item.get("computed", {}).items():
        wrong += [f"{command} has no {part}" for part in parts if part not in there.get(command, ())]
    return wrong


@cache
def undecided(rule: str) -> tuple[str, ...]:
    """Of holds and broken, what the rule answers in no case that says it does; each is run, not believed."""
    return tuple(kind for kind in ("holds", "broken") if not any(_answers(file, kind) for file in _saying(rule, kind)))


def _saying(rule: str, kind: str) -> list[Path]:
    files = sorted((CASES / rule).glob("*.yaml"))
    return [file for file in files if any(one["outcome"] == kind for one in load(file)["expect"])]


def _answers(file: Path, kind: str) -> bool:
    return any(one.outcome.kind == kind for one in judge(plan_of(load(file)), file.parent.name))


@cache
def is_printed(rule: str, words: str, house: bool) -> bool:
    """Whether a sample or a case of the rule prints a line for a person with the words, at a place or of the whole house."""
    of_samples = (one for one in _sample_remarks() if one.rule == rule)
    of_cases = (one for file in _saying(rule, "on site") for one in _remarks(file))
    return any(words in one.says and (one.station == HOUSE) == house for one in chain(of_samples, of_cases))


@cache
def _sample_remarks() -> tuple[Remark, ...]:
    return tuple(one for file in SAMPLES for one in check_source(read_plan(str(file)), TODAY).on_site)


def _remarks(file: Path) -> tuple[Remark, ...]:
    raw = json.dumps(plan_of(load(file)), ensure_ascii=False).encode("utf-8")
    rules = tuple(one for one in built_in_rules() if one.id == file.parent.name)
    return check_source(read_bytes(raw, "case.plan.yaml"), TODAY, rules).on_site


@cache
def computed() -> dict[str, set[str]]:
    """What the commands compute of the samples: tables of `flow` with rows, lists of `shutoff`, sheets of `pack`."""
    found: dict[str, set[str]] = {"flow": set(), "shutoff": set(), "pack": set()}
    for name in ("boathouse", "duplex-trunk"):
        source = read_plan(str(ROOT / "sample_plans" / f"{name}.plan.yaml"))
        facts = facts_of(source, TODAY)
        found["flow"] |= {
            id_ for table in flow_page(facts).tables if table.rows for id_ in (table.id, table.id.split()[0])
        }
        found["pack"] |= {name for name, sheet in sheets(material_of(source.data)).items() if sheet.blocks}
        closing = Closing(facts)
        found["shutoff"] |= {"valves"} if facts.zones.dry else set()
        found["shutoff"] |= {"rings"} if ring_cuts(closing)[0] else set()
    return found


@pytest.mark.parametrize("item", ITEMS, ids=NAMES)
def test_it_is_decided_computed_or_printed_with_its_place(item: dict[str, Any]) -> None:
    assert missing(item) == []


def test_the_table_is_whole() -> None:
    assert len(NAMES) == len(set(NAMES)) == 42


@pytest.mark.parametrize(
    ("item", "names"),
    [
        ({}, "nothing decides"),
        ({"decided": ["nail_plates"]}, "no rule nail_plates"),
        ({"on_site": {"nail_plate": "paint it blue"}}, "nail_plate prints nothing"),
        ({"on_site": {"hot_wait": "seconds"}}, "hot_wait prints nothing"),
        ({"on_site": {"site_ready": "permit card"}}, "site_ready prints nothing"),
        ({"house": {"site_ready": "wood in the wall"}}, "site_ready prints nothing"),
        ({"computed": {"flow": ["tides"]}}, "flow has no tides"),
        ({"computed": {"forecast": ["tides"]}}, "forecast has no tides"),
        ({"seen": ["nail_plate"], "decided": ["nail_plate"]}, "no such way: seen"),
    ],
)
def test_what_is_missing_is_named(item: dict[str, Any], names: str) -> None:
    assert any(names in one for one in missing({"item": "made up", **item}))
