"""No input, however broken, ends in a traceback or a hang: bytes, YAML, mutated plans and measures nobody should write."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plancheck.check import check_source
from plancheck.errors import Unreadable
from plancheck.outcomes import CRASHED
from plancheck.reading import read_bytes
from plancheck.report.machine import json_report
from plancheck.report.plain import plain_text
from tests.casework import CASES, load

ROOT = Path(__file__).parents[2]
TODAY = "2026-05-05"
PLANS = [load(file) for file in sorted((CASES / "base").glob("*.plan.yaml"))]
PLANS += [load(file) for file in sorted((ROOT / "sample_plans").glob("*.plan.yaml"))]
PLANS.append(load(ROOT / "tests" / "schema" / "full.plan.yaml"))


def survives(raw: bytes) -> None:
    """Read, judged and printed, or refused with sentences and, where one exists, a line."""
    try:
        report = check_source(read_bytes(raw, "x.plan.yaml"), TODAY)
    except Unreadable as refused:
        assert refused.problems
        for problem in refused.problems:
            assert problem.line >= 1
            assert problem.column >= 1
            assert problem.says
            assert problem.mend
        return
    assert all(counts[CRASHED] == 0 for counts in report.tally.values()), report.crashed
    plain_text(report, 60)
    json_report([report], [])


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_bytes(raw: bytes) -> None:
    survives(raw)


WORDS = st.sampled_from(
    [
        "plancheck",
        "parts",
        "runs",
        "is",
        "source",
        "manifold",
        "from",
        "to",
        "tube",
        "like",
        "none",
        "not known",
        "about 3 ft",
        "path",
        "up 8 ft",
        "street",
        "ports",
        "at",
        "use",
        "feed",
        "1",
        "0",
        "-1 in",
        "true",
        "10:30",
        "defaults",
        "a/b",
        "/",
        "",
    ]
)
VALUES = st.recursive(
    st.one_of(
        WORDS, st.text(max_size=8), st.integers(), st.booleans(), st.floats(allow_nan=False, allow_infinity=False)
    ),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.one_of(WORDS, st.text(max_size=6)), inner, max_size=5)
    ),
    max_leaves=15,
)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(WORDS, VALUES, max_size=6))
def test_yaml(data: dict[str, Any]) -> None:
    survives(json.dumps(data).encode())


def spots(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value in the data."""
    found = [path] if path else []
    if isinstance(data, dict):
        for key, value in data.items():
            found += spots(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            found += spots(value, (*path, number))
    return found


SPOTS = [spots(plan) for plan in PLANS]


def mutate(plan: dict[str, Any], path: tuple[Any, ...], what: str, value: Any) -> None:
    here: Any = plan
    try:
        for step in path[:-1]:
            here = here[step]
        if what == "drop":
            del here[path[-1]]
        elif what == "rename" and isinstance(here, dict):
            here[str(value)] = here.pop(path[-1])
        elif what == "double" and isinstance(here, list):
            here.append(here[path[-1]])
        else:
            here[path[-1]] = value
    except (KeyError, IndexError, TypeError):
        return  # an earlier change took it away


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_mutated_plans(data: st.DataObject) -> None:
    number = data.draw(st.integers(0, len(PLANS) - 1))
    plan = copy.deepcopy(PLANS[number])
    for _ in range(data.draw(st.integers(1, 4))):
        path = data.draw(st.sampled_from(SPOTS[number]))
        what = data.draw(st.sampled_from(["drop", "rename", "double", "set", "set", "swap"]))
        value = data.draw(VALUES)
        if what == "swap":
            other: Any = PLANS[number]
            for step in data.draw(st.sampled_from(SPOTS[number])):
                other = other[step]
            value = copy.deepcopy(other)
        mutate(plan, path, what, value)
    survives(json.dumps(plan).encode())


MEASURES = st.one_of(
    st.text(max_size=20),
    st.builds(
        lambda number, unit, tail: f"{number} {unit}{tail}",
        st.one_of(
            st.integers(-(10**6), 10**6),
            st.floats(-1e6, 1e6, allow_nan=False),
            st.sampled_from(["1/2", "3-1/2", "1/0", "½", "1e999"]),
        ),
        st.sampled_from(
            ["in", "ft", "mm", "m", "psi", "kPa", "bar", "gpm", "L/s", "degF", "degC", "gal", "'", '"', "x", ""]
        ),
        st.sampled_from(["", " o.c.", " 3 in", " about", "-", " and up 2 ft"]),
    ),
)
MEASURED = [
    [
        path
        for path in paths
        if path[-1]
        in ("length", "rise", "static", "height", "level", "every", "radius", "set", "spacing", "size", "cover")
    ]
    for paths in SPOTS
]


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_measures(data: st.DataObject) -> None:
    number = data.draw(st.integers(0, len(PLANS) - 1))
    plan = copy.deepcopy(PLANS[number])
    for path in data.draw(st.lists(st.sampled_from(MEASURED[number]), min_size=1, max_size=4)):
        mutate(plan, path, "set", data.draw(MEASURES))
    survives(json.dumps(plan).encode())


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_mangled_text(data: st.DataObject) -> None:
    """A plan's text with pieces cut out, doubled or typed over."""
    files = sorted((CASES / "base").glob("*.plan.yaml"))
    text = data.draw(st.sampled_from(files)).read_text(encoding="utf-8")
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(text)))
        length = data.draw(st.integers(0, 30))
        text = (
            text[:at]
            + data.draw(st.sampled_from(["", "\t", ":", "{", "]", "'", "\n", "é", "#", "- ", "&a ", "*a"]))
            + text[at + length :]
        )
    survives(text.encode())


@pytest.mark.parametrize(
    "raw",
    [
        b"a: " + b"{a: " * 31 + b"1" + b"}" * 31,
        b"a: &a [*a]\n",
        b"a: " + b"[" * 100_000,
        b"{" * 50_000,
        b"a: '" + b"x" * 1_900_000 + b"'\n",
        b"? " * 20_000,
        b"- " * 30_000,
        b"a: |\n" + b" x\n" * 400_000,
        b'a: "' + b"\\n" * 500_000 + b'"\n',
        b"".join(b"k%d: 1\n" % number for number in range(150_000)),
        b"plancheck: 1\nparts: {" + b",".join(b"p%d: {is: valve}" % number for number in range(60_000)) + b"}\n",
    ],
    ids=[
        "nested",
        "itself",
        "brackets",
        "braces",
        "long text",
        "questions",
        "dashes",
        "block",
        "escapes",
        "keys",
        "valves",
    ],
)
def test_hostile(raw: bytes) -> None:
    survives(raw)
