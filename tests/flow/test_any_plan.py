"""Plans with parts left out, cut away, guessed at or turned round: the rules on flow answer, and never crash."""

from __future__ import annotations

import copy
import json
import random
from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.errors import Unreadable
from plancheck.loader import built_in_rules
from plancheck.outcomes import BROKEN, CRASHED
from plancheck.reading import read_bytes
from plancheck.report.assemble import pointer
from tests.casework import CASES, TODAY, load

BASES = (
    "plainflow", "row", "swing", "onerun", "twobath", "small", "loop", "tankless", "shutoff_ring", "shutoff_trunk", "hammer",
)  # fmt: skip
RULES = ("gauge_reading", "outlet_capacity", "ring_benefit", "service_size", "shower_swing", "water_speed")
CHOSEN = tuple(rule for rule in built_in_rules() if rule.id in RULES)
KINDS = ("parts", "runs", "tubes", "water", "places")
FLOWING = {"pressure": "40 psi", "flow": "9 gpm"}


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path to a value."""
    found = [path] if path else []
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        found += places(value, (*path, key))
    return found


def spoilt(plan: dict[str, Any], rng: random.Random) -> None:
    """One change at random, in place."""
    path = rng.choice([one for one in places(plan) if len(one) > 1 and one[0] in KINDS])
    here: Any = plan
    for step in path[:-1]:
        here = here[step]
    key, value = path[-1], here[path[-1]]
    how = rng.randrange(6)
    if how == 0:
        del here[key]
    elif how == 1:
        here[key] = "not known"
    elif how == 2 and isinstance(value, str) and value[:1].isdigit():
        here[key] = f"about {value}"
    elif how == 3 and isinstance(value, dict):
        value["work"] = rng.choice(("removed", "existing"))
    elif how == 4:
        plan.setdefault("water", {})["flowing"] = FLOWING
    elif how == 5 and path[0] == "runs" and isinstance(value, dict) and "from" in value:
        value["from"], value["to"] = value["to"], value["from"]
    for part in rng.sample(sorted(plan["parts"]), 1):
        plan["measured"] = {"one": {"at": part, "reads": "50 psi", "open": rng.choice(("none", [part]))}}


def answers(plan: dict[str, Any], family: str) -> list[Any] | None:
    """The answers of the six rules; None where the plan is refused."""
    plan = {**plan, "code": {"family": family, "edition": 2021}}
    try:
        facts = facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY)
    except Unreadable:
        return None
    return list(run_rules(CHOSEN, facts))


@pytest.mark.parametrize("base", BASES)
def test_no_plan_makes_them_crash(base: str) -> None:
    rng = random.Random(base)
    whole = load(CASES / "base" / f"{base}.plan.yaml")
    answered = 0
    for _ in range(60):
        plan = copy.deepcopy(whole)
        for _ in range(rng.randint(1, 3)):
            spoilt(plan, rng)
        found = answers(plan, rng.choice(("irc", "ipc", "upc")))
        if found is None:
            continue
        answered += 1
        for one in found:
            o = one.outcome
            assert o.kind != CRASHED, f"{one.rule} {one.subject.name}: {o.says}\n{json.dumps(plan)}"
            if o.kind == BROKEN:
                assert o.says and o.found and o.needed and o.mend, f"{one.rule}: {o}"
                assert "Size(" not in o.says and "nan" not in o.says and "None" not in o.says
            for path in o.needs:
                assert pointer(path).startswith("/")
    assert answered >= 10  # most plans are still plans
