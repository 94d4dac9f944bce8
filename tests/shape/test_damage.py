"""Damaged copies of a plan that uses every section: what is refused, where, and in which words."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plancheck.errors import Unreadable
from plancheck.reading import read_bytes
from plancheck.shape import check_shape
from plancheck.shapefaults import find_faults
from plancheck.shapewords import explained

ROOT = Path(__file__).parents[2]
SCHEMA: dict[str, Any] = json.loads((ROOT / "schemas" / "plan.schema.json").read_text("utf-8"))
FAST = jsonschema_rs.Draft202012Validator(SCHEMA)
SLOW = jsonschema.Draft202012Validator(SCHEMA)
FULL = read_bytes((ROOT / "tests" / "schema" / "full.plan.yaml").read_bytes(), "full.plan.yaml").data
JARGON = (
    "additionalprop", "oneof", "anyof", "allof", "is not valid under", "regex", "^", "instance", "schema", "$defs",
    "$ref", "is not of type", "required prop", "is a required", "does not match", "propertynames", "enum", "array",
    "object",
    "boolean", "minitems", "maxitems", "string", "integer", "mapping", "traceback", "none type", "dict", "pattern",
    "`", "\\s", "{'", "['",
)  # fmt: skip

NAMES = ["is", "like", "size", "x y", "", "a/b", "a,b", "from", "none", "\x1c", "é", "\u3000", "onto", "hot", "x" * 61,
         "Supports", "evry", "runs", "🚰"]  # fmt: skip
VALUES: list[Any] = [
    "none", "not known", "none\n", "", " ", "x" * 61, "x" * 501, "a/b", "a/b/c", "a b", "2026-13-45", "02.04.2026",
    "٢026-04-01",
    "about 3", "panel", "panel \n", "removed", "\x1f", "A\u2028", "\x1b[2J", "\u202eabc", "valve", "lavatry",
    "true", "yes", 0, 1, 2.5, -1,
    10**31, -(10**30), 0.5, True, False, [], {}, [0], ["a"], [["a",
    0, "b"]], {"a": 1}, {"is": "tee"}, [[[]]], {"": {"": []}},
]  # fmt: skip
SCALARS = st.sampled_from([value for value in VALUES if not isinstance(value, (list, dict))])
KEYS = st.sampled_from([*NAMES, *SCHEMA["properties"]])
Spot = tuple[str | int, ...]


def spots(value: Any, path: Spot = ()) -> list[Spot]:
    """Paths of everything below value."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [spot for key, child in pairs for spot in ((*path, key), *spots(child, (*path, key)))]


SPOTS = spots(FULL)


def damage(draw: st.DrawFn, plan: dict[str, Any]) -> None:
    """Drop, rename, replace or add one thing somewhere in the plan, in place, where the spot is still there."""
    *way, last = draw(st.sampled_from(SPOTS))
    holder: Any = plan
    for key in way:
        try:
            holder = holder[key]
        except (KeyError, IndexError, TypeError):
            return
    action = draw(st.sampled_from(["drop", "rename", "replace", "add"]))
    if isinstance(holder, list) and isinstance(last, int) and last < len(holder):
        holder[last] = copy.deepcopy(draw(st.sampled_from(VALUES)))
    elif isinstance(holder, dict) and action == "add":
        holder[draw(st.sampled_from(NAMES))] = copy.deepcopy(draw(st.sampled_from(VALUES)))
    elif isinstance(holder, dict) and last in holder:
        value = holder.pop(last)
        if action != "drop":
            key = draw(st.sampled_from(NAMES)) if action == "rename" else last
            holder[key] = value if action == "rename" else copy.deepcopy(draw(st.sampled_from(VALUES)))


@st.composite
def damaged(draw: st.DrawFn) -> dict[str, Any]:
    """The full plan with one to six faults."""
    plan: dict[str, Any] = copy.deepcopy(FULL)
    for _ in range(draw(st.integers(1, 6))):
        damage(draw, plan)
    return plan


def read(plan: dict[str, Any]) -> Any:
    """The plan as it comes from a JSON file."""
    return read_bytes(json.dumps(plan, indent=1).encode("utf-8"), "damaged.plan.json")


def check_problems(raw: bytes, refused: Unreadable) -> None:
    """Each problem has its line, plain words and nothing that could steer a terminal; in file order, none twice."""
    problems, lines = refused.problems, raw.decode("utf-8").split("\n")
    assert 0 < len(problems) <= 50
    assert [(problem.line, problem.column) for problem in problems] == sorted((p.line, p.column) for p in problems)
    assert len(set(problems)) == len(problems)
    for problem in problems:
        assert 1 <= problem.line <= len(lines)
        assert 1 <= problem.column <= len(lines[problem.line - 1])
        assert problem.says.strip() and problem.mend.strip()
        text = f"{problem.says} {problem.mend}"
        assert text.isprintable(), repr(text)
        assert len(text) < 900
        for word in JARGON:
            assert word not in text.lower(), text
        assert "not as a plan has it" not in text  # nothing is left without a reason


def test_refuses_what_the_schema_refuses_in_plain_words_and_with_a_line() -> None:
    taken, refused = [], []

    @settings(
        max_examples=500, deadline=None, derandomize=True, database=None, suppress_health_check=[HealthCheck.too_slow]
    )
    @given(damaged())
    def look(plan: dict[str, Any]) -> None:
        source = read(plan)
        assert source.data == plan
        if FAST.is_valid(plan):
            taken.append(plan)
            check_shape(source)
            return
        refused.append(plan)
        with pytest.raises(Unreadable) as caught:
            check_shape(source)
        check_problems(source.raw, caught.value)

    look()
    assert len(refused) > 200
    assert len(taken) > 20


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(damaged())
def test_looking_at_refused_things_alone_misses_nothing(plan: dict[str, Any]) -> None:
    """Each error of a full walk through the whole plan lies at, above or below a fault, and each fault at an error."""
    if FAST.is_valid(plan):
        return
    faults, unseen = find_faults(plan)
    assert unseen == 0 or len(faults) >= 50
    told = {fault.path for fault in faults}
    walked = {tuple(error.absolute_path) for error in SLOW.iter_errors(plan)}
    for path in walked if not unseen else ():
        assert any(path[: len(near)] == near or near[: len(path)] == path for near in told), path
    for path in told:
        assert path in walked or path[:-1] in walked, path


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.recursive(
    SCALARS | st.text(min_size=1, max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=5),
    max_leaves=30,
))  # fmt: skip
def test_nothing_but_a_refusal_comes_of_any_data(value: Any) -> None:
    plan = value if isinstance(value, dict) else {"parts": value, "runs": {"a": value}, "defaults": value}
    try:
        source = read(plan)
    except Unreadable:
        return
    if not FAST.is_valid(source.data):
        with pytest.raises(Unreadable):
            check_shape(source)


def test_every_value_may_stand_everywhere_without_a_crash() -> None:
    """Each key of the full plan with each odd value: one plan a value, so that faults also meet one another."""
    for value in VALUES:
        for section, things in FULL.items():
            if not isinstance(things, dict):
                continue
            plan = copy.deepcopy(FULL)
            for key in things:
                plan[section][key] = copy.deepcopy(value)
            if not FAST.is_valid(plan):
                with pytest.raises(Unreadable):
                    check_shape(read(plan))


def test_a_refusal_without_a_reason_is_still_a_refusal() -> None:
    """Should the two validators ever disagree, the file is told to be wrong rather than nothing said."""
    problems, more = explained(read({"plancheck": 1, "parts": {}}))
    assert [(problem.line, problem.column, more) for problem in problems] == [(1, 1, 0)]
    assert "not as a plan has it" in problems[0].says
