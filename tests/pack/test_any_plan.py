"""Plans with parts left out, cut away, guessed at or turned round: every drawing and every sheet is made, or left out."""

from __future__ import annotations

import copy
import json
import random
import xml.etree.ElementTree as ET

import pytest

from plancheck.check import check_source, facts_of
from plancheck.drawing.kinds import all_pictures
from plancheck.errors import Unreadable
from plancheck.loader import built_in_rules
from plancheck.pack.allsheets import sheets_of
from plancheck.pack.blocks import Material
from plancheck.reading import read_bytes
from tests.casework import CASES, TODAY, load
from tests.flow.test_any_plan import spoilt

BASES = ("small", "twobath", "loop", "shutoff_ring", "row")


@pytest.mark.parametrize("base", BASES)
def test_whatever_a_plan_leaves_out_drawings_and_sheets_are_made(base: str) -> None:
    rng = random.Random(f"{base} drawn")
    whole = {"code": {"family": "upc", "edition": 2021}, **load(CASES / "base" / f"{base}.plan.yaml")}
    made = 0
    for _ in range(24):
        plan = copy.deepcopy(whole)
        for _ in range(rng.randint(1, 6)):
            spoilt(plan, rng)
        raw = json.dumps(plan).encode()
        try:
            facts, report = facts_of(read_bytes(raw, "x.plan.json"), TODAY), check_source(read_bytes(raw, "x.plan.json"), TODAY)
        except Unreadable:
            continue
        pictures = {picture.name: picture for picture in all_pictures(facts, report)}
        for picture in pictures.values():
            ET.fromstring(picture.svg)
        assert len(sheets_of(Material(facts, report, built_in_rules(), {}, pictures))) == 9
        made += 1
    assert made >= 4


def test_a_place_of_which_nobody_knows_is_none() -> None:
    plan = load(CASES / "base" / "small.plan.yaml")
    for part in plan["parts"].values():
        part["place"] = "not known"
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "x.plan.json"), TODAY)
    assert "shutoff" in {picture.name for picture in all_pictures(facts, None)}
