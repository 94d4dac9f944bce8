"""Shutoffs as JSON; schemas/shutoff.schema.json describes it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from typing import Any

from plancheck.isolate import Closing, Isolation, is_for_testing, reach_of
from plancheck.report.shutofftext import HOLDS_NOT, POWER_OFF
from plancheck.ringcuts import Cut

FORMAT = 1


def shutoff_json(
    closing: Closing,
    closed: tuple[str, ...],
    asked: tuple[str, ...],
    ways: Iterable[Isolation],
    cuts: Iterable[Cut],
    left_out: int,
) -> str:
    """The answers as text. closed: the valves closed together; asked: the points to isolate, and the ways to do it."""
    facts = closing.facts
    whole = {
        "plancheck": FORMAT,
        "shutoff": {
            "file": facts.source.file,
            "sha256": hashlib.sha256(facts.source.raw).hexdigest(),
            "title": facts.plan.job.title or "",
            "valves": [_valve(closing, name) for name in closing.graph.valves if not is_for_testing(facts, name)],
            "outlets": [_outlet(closing, name) for name in closing.points],
            "closed": {"valves": list(closed), "dry": list(closing.dry(closed)), "wet": list(closing.wet(closed))},
            "isolate": {"points": list(asked), "ways": [_way(way) for way in ways]},
            "rings": [_cut(cut) for cut in cuts],
            "rings_left_out": left_out,
            "crossovers": list(facts.traced.crossovers),
            "cautions": [HOLDS_NOT, POWER_OFF],
        },
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def _valve(closing: Closing, name: str) -> dict[str, Any]:
    return {
        "name": name,
        "place": closing.part_of(name).place,
        "reach": reach_of(closing.facts, name),
        "main": name in closing.facts.shutoffs.mains,
        "closed": closing.graph.valves[name] in closing.graph.closed,
        "dry": list(closing.dry((name,))),
        "next": closing.next_upstream(name),
    }


def _outlet(closing: Closing, name: str) -> dict[str, Any]:
    return {"name": name, "place": closing.part_of(name).place, "valves": list(closing.before(name))}


def _way(way: Isolation) -> dict[str, Any]:
    return {"way": way.way, "valves": list(way.valves), "also_dry": list(way.others)}


def _cut(cut: Cut) -> dict[str, Any]:
    lost = {"port": cut.lost[0], "pascals": round(cut.lost[1], 1)} if cut.lost is not None else None
    return {
        "between": list(cut.segment.ends),
        "valves": list(cut.segment.valves),
        "one_side": [list(side) for side in cut.one_side],
        "dry": list(cut.dry),
        "loses_most": lost,
    }
