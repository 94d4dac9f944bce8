"""Plans the schema takes and refuses. Two validators that share no code are asked each time and have to agree."""

from __future__ import annotations

import copy
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

HERE = Path(__file__).parent
SCHEMA: dict[str, Any] = json.loads((HERE.parents[1] / "schemas" / "plan.schema.json").read_text("utf-8"))
SLOW = jsonschema.Draft202012Validator(SCHEMA)
FAST = jsonschema_rs.Draft202012Validator(SCHEMA)
KINDS = SCHEMA["$defs"]["kind"]["enum"]
SECTIONS = list(SCHEMA["properties"])


class _Scalars(yaml.BaseLoader):
    """Text, whole numbers, decimals, true and false; a date stays text."""


def _scalar(_: yaml.BaseLoader, node: yaml.ScalarNode) -> str | int | float | bool:
    plain = node.value if node.style is None else ""
    if re.fullmatch(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?", plain):
        return float(plain) if "." in plain else int(plain)
    return plain == "true" if plain in ("true", "false") else str(node.value)


_Scalars.add_constructor("tag:yaml.org,2002:str", _scalar)


def _read(text: str) -> Any:
    return _text_keys(yaml.load(text, Loader=_Scalars))


def _text_keys(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(key): _text_keys(child) for key, child in value.items()}
    return [_text_keys(child) for child in value] if isinstance(value, list) else value


FULL: dict[str, Any] = _read((HERE / "full.plan.yaml").read_text("utf-8"))


def taken(plan: Any) -> bool:
    """Whether the schema takes the plan; both validators have to say the same."""
    slow, fast = SLOW.is_valid(plan), FAST.is_valid(plan)
    assert slow == fast, f"jsonschema says {slow}, jsonschema_rs says {fast}: {plan!r}"
    return slow


def part(**keys: Any) -> dict[str, Any]:
    return {"plancheck": 1, "parts": {"x": keys}}


def run(**keys: Any) -> dict[str, Any]:
    return {"plancheck": 1, "parts": {}, "runs": {"x": keys}}


def joined(**keys: Any) -> dict[str, Any]:
    """A run with all it needs, and keys."""
    return run(**{"from": "a/out", "to": "b", "tube": "blue", **keys})


def test_the_full_plan_is_taken() -> None:
    assert [f"{error.json_path}: {error.message}" for error in SLOW.iter_errors(FULL)] == []
    assert taken(FULL)


def test_the_full_plan_has_every_section_and_kind() -> None:
    assert set(FULL) == set(SECTIONS)
    assert {value["is"] for value in FULL["parts"].values()} == set(KINDS)


def test_a_half_drawn_plan_is_taken() -> None:
    assert taken({"plancheck": 1, "parts": {"street": {"is": "source"}}})


@pytest.mark.parametrize("key", ["plancheck", "parts"])
def test_what_every_plan_needs(key: str) -> None:
    assert not taken({name: value for name, value in FULL.items() if name != key})


@pytest.mark.parametrize("section", SECTIONS)
def test_no_section_is_empty_or_a_bare_word(section: str) -> None:
    for value in (None, True, "something"):
        assert not taken({**FULL, section: value})


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_refuses_a_key_it_does_not_have(kind: str) -> None:
    assert taken(part(**{"is": kind}))
    assert not taken(part(**{"is": kind, "colour-of-wall": "white"}))
    others = {"source": "potable", "toilet": "flush", "manifold": "ports", "regulator": "strainer", "pump": "hours"}
    for owner, key in others.items():
        if key not in SCHEMA["$defs"][f"kind_{kind.replace(' ', '_').replace('-', '_')}"]["properties"]:
            assert kind != owner
            assert not taken(part(**{"is": kind, key: "not known"}))


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_refuses_a_value_of_the_wrong_type(kind: str) -> None:
    for name in SCHEMA["$defs"][f"kind_{kind.replace(' ', '_').replace('-', '_')}"]["properties"]:
        assert not taken(part(**{"is": kind, name: None}))
        assert not taken(part(**{"is": kind, name: {"nobody": [{"wrote": "this"}]}})), name
        assert not taken(part(**{"is": kind, name: [[["deep"]]]})), name


@pytest.mark.parametrize("kind", KINDS)
def test_defaults_of_a_kind_have_its_keys_but_not_the_kind(kind: str) -> None:
    def default(**keys: Any) -> dict[str, Any]:
        return {"plancheck": 1, "parts": {}, "defaults": {"parts": {kind: keys}}}

    assert taken(default(place="cellar", work="existing"))
    assert not taken(default(**{"is": kind}))
    assert not taken(default(like="other"))
    assert not taken(default(**{"colour-of-wall": "white"}))


ALWAYS_SAID = {"is", "like", "mirrored", "tube", "onto", "ports"}  # what it is, copies, joins or holds; the rest are facts
ENDS = {("run_keys", "from"), ("run_keys", "to")}
OF_FACTS = ["run_keys", "tube", "place", "heat", "port", "bend", "along_entry", "pass", "test", "claim", "reading", "job", "code", "permit",
            "water", "flowing", "supports", "relief", "discharge", "pan", "sun", "key_supply", "key_mixer"]  # fmt: skip
OF_PARTS = [f"kind_{kind.replace(' ', '_').replace('-', '_')}" for kind in KINDS]


@pytest.mark.parametrize("owner", [*OF_FACTS, *OF_PARTS])
def test_every_fact_may_be_not_known(owner: str) -> None:
    for key, shape in SCHEMA["$defs"][owner]["properties"].items():
        alone = {**shape, "$defs": SCHEMA["$defs"]}
        may = key not in ALWAYS_SAID and (owner, key) not in ENDS
        assert jsonschema_rs.Draft202012Validator(alone).is_valid("not known") == may, key
        assert jsonschema.Draft202012Validator(alone).is_valid("not known") == may, key


GOOD = {
    "zero needs no unit": joined(length=0),
    "an estimate": joined(length="about 45 ft"),
    "removed without ends": run(tube="old", work="removed"),
    "removed with nothing said": run(work="removed"),
    "like instead of tube": run(**{"from": "a", "to": "b", "like": "c"}),
    "a size as a number": part(**{"is": "meter", "size": 0.75}),
    "a label as a number": part(**{"is": "valve", "label": 3}),
    "a bend for all": joined(bends={"radius": "5 in", "count": 3}),
    "a bend for each": joined(bends=[{"radius": "5 in"}, {"fitting": "ell"}]),
    "no supports": joined(supports="none"),
    "joint apart": joined(joint={"from": "press", "to": "solder"}),
    "a path of points and legs": joined(path=[["10 ft", 0, "20 in above bath"], "up 8 ft", "east 3 ft and up 1 ft"]),
    "fished between two distances": joined(fished=["2 ft", "9 ft"]),
    "an arrestor whose letter was not read": part(**{"is": "ice maker", "arrestor": True}),
    "a path nobody could follow": joined(path="not known"),
    "a day that is a guess": {"plancheck": 1, "parts": {}, "tubes": {"a": {"sun": {"from": "about 2026-04-01"}}}},
    "a bucket reading": {"plancheck": 1, "parts": {}, "measured": {"a": {"at": "b/cold", "reads": "9 l/min", "open": "none"}}},
    "no tests": {"plancheck": 1, "parts": {}, "tests": "none"},
    "defaults like another tube": {"plancheck": 1, "parts": {}, "defaults": {"runs": {"red": {"like": "blue"}}}},
    "a hot thing like another": {"plancheck": 1, "parts": {}, "heat": {"b": {"like": "a"}}},
    "a panel": part(**{"is": "valve", "reach": "panel 14 x 14 in"}),
    "ports named by numbers": part(**{"is": "manifold", "ports": {"1": {}, "2": {}}, "order": [2, 1]}),
}
BAD = {
    "another version": {"plancheck": 2, "parts": {}},
    "true is not version 1": {"plancheck": True, "parts": {}},
    "a part that does not say what it is": part(place="cellar"),
    "a kind nobody knows": part(**{"is": "gadget"}),
    "a kind that is not known": part(**{"is": "not known"}),
    "a measure without its unit": joined(length=24),
    "an empty measure": joined(length=" "),
    "a measure of many words": joined(length="x" * 61),
    "a run without a tube": run(**{"from": "a", "to": "b"}),
    "a run without an end": run(**{"from": "a", "tube": "blue"}),
    "existing is not removed": run(tube="old", work="existing"),
    "an unknown end": joined(to="not known"),
    "a connection of three": joined(to="a/b/c"),
    "a name with a space": {"plancheck": 1, "parts": {"my meter": {"is": "meter"}}},
    "a name with a slash": {"plancheck": 1, "parts": {"a/b": {"is": "meter"}}},
    "a name with a comma": {"plancheck": 1, "places": {"a,b": {}}, "parts": {}},
    "a name with a line end": {"plancheck": 1, "tubes": {"a\n": {}}, "parts": {}},
    "an empty name": {"plancheck": 1, "heat": {"": {"is": "flue"}}, "parts": {}},
    "a name of 61 letters": {"plancheck": 1, "parts": {"x" * 61: {"is": "meter"}}},
    "a port with a space": part(**{"is": "manifold", "ports": {"A B": {}}}),
    "a point of two": joined(path=[["10 ft", 0]]),
    "a point of four": joined(path=[["10 ft", 0, 0, 0]]),
    "an empty path": joined(path=[]),
    "a path as text": joined(path="up 8 ft"),
    "one fished distance": joined(fished=["2 ft"]),
    "a joint nobody makes": joined(joint="glue"),
    "an empty relief": part(**{"is": "water heater", "relief": {}}),
    "a date in another order": {"plancheck": 1, "parts": {}, "job": {"date": "02.04.2026"}},
    "yes as a number": part(**{"is": "meter", "check": 1}),
    "a default that says where a run goes": {"plancheck": 1, "parts": {}, "defaults": {"runs": {"red": {"to": "b"}}}},
    "a hot thing without a kind": {"plancheck": 1, "parts": {}, "heat": {"a": {"size": "4 in"}}},
    "a waiver for no rule": {"plancheck": 1, "parts": {}, "waivers": [{"at": "/runs/a"}]},
    "a waiver that is no path": {"plancheck": 1, "parts": {}, "waivers": [{"rule": "x", "at": "runs/a"}]},
    "a title that is a novel": {"plancheck": 1, "parts": {}, "job": {"title": "x" * 501}},
    "a word with a line end": joined(supports="none\n"),
    "onto where no single connection is": part(**{"is": "water heater", "onto": "main"}),
    "onto a thing not known": part(**{"is": "valve", "onto": "not known"}),
    "a pass through nothing": joined(passes=[{"hole": "1 in"}]),
    "an unknown section": {"plancheck": 1, "parts": {}, "notes": "none"},
}


@pytest.mark.parametrize("plan", GOOD.values(), ids=GOOD.keys())
def test_is_taken(plan: dict[str, Any]) -> None:
    assert taken(plan)


@pytest.mark.parametrize("plan", BAD.values(), ids=BAD.keys())
def test_is_refused(plan: dict[str, Any]) -> None:
    assert not taken(plan)


def test_the_fault_is_told_where_it_is() -> None:
    plan = copy.deepcopy(FULL)
    plan["parts"]["tub-shower"]["head"] = 2.5
    plan["runs"]["upper-cold"]["passes"][0]["edge"] = True
    where = {error.json_path for error in SLOW.iter_errors(plan)}
    assert where == {"$.parts['tub-shower'].head", "$.runs['upper-cold'].passes[0].edge"}


def _spots(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Paths of everything below value."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [spot for key, child in pairs for spot in ((*path, key), *_spots(child, (*path, key)))]


NAMES = st.sampled_from(["is", "like", "size", "x y", "", "a/b", "a,b", "from", "none", "n\n", "x" * 61, "\x1c", "é", "\u3000", "onto", "hot"])
VALUES = st.one_of(
    st.sampled_from(["none", "not known", "none\n", "not known\n", "", " ", "x" * 61, "x" * 501, "a/b", "a/b/c", "a b", "2026-13-45",
                     "2026-04-01\n", "\u0662026-04-01", "about 3", "about 2026-04-01", "panel", "panel \n", "removed", "\x1f", "A\u2028"]),
    st.sampled_from([0, 0.0, -0.0, 1, 1.0, 2.5, -1, 10**30, True, False, None, [], {}, [0], ["a"], [["a", 0, "b"]], {"a": 1}, {"is": "tee"}]),
    st.sampled_from(KINDS),
    st.text(max_size=5),
)  # fmt: skip


def _mutate(draw: st.DrawFn, plan: Any) -> None:
    """Drop, rename, replace or add one thing somewhere in the plan, in place."""
    *way, last = draw(st.sampled_from(_spots(plan)))
    holder = plan
    for key in way:
        holder = holder[key]
    action = draw(st.sampled_from(["drop", "rename", "replace", "add"]))
    if action == "replace" or isinstance(holder, list):
        holder[last] = copy.deepcopy(draw(VALUES))
    elif action == "add":
        holder[draw(NAMES)] = copy.deepcopy(draw(VALUES))
    else:
        value = holder.pop(last)
        if action == "rename":
            holder[draw(NAMES)] = value


@st.composite
def damaged(draw: st.DrawFn) -> Any:
    """One section of the full plan, or one thing of it, with one to three faults."""
    section = draw(st.sampled_from([name for name in SECTIONS if name != "plancheck"]))
    value = FULL[section]
    if section in ("parts", "runs", "tubes", "places", "heat"):
        name = draw(st.sampled_from(sorted(value)))
        value = {name: value[name]}
    plan = copy.deepcopy({"plancheck": 1, "parts": {}, section: value})
    for _ in range(draw(st.integers(1, 3))):
        if plan:
            _mutate(draw, plan)
    return plan


@settings(max_examples=600, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(damaged())
def test_both_validators_agree_on_damaged_plans(plan: Any) -> None:
    taken(plan)


def test_the_damage_is_felt() -> None:
    """The property above means nothing unless damaged plans of both sorts come up."""
    seen: list[bool] = []

    @settings(max_examples=400, deadline=None, derandomize=True, database=None)
    @given(damaged())
    def look(plan: Any) -> None:
        seen.append(taken(plan))

    look()
    assert seen.count(True) > 20
    assert seen.count(False) > 100
