"""The plan schema itself: a small subset of draft 2020-12, every key explained, every example true."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import jsonschema_rs
import pytest

SCHEMA: dict[str, Any] = json.loads((Path(__file__).parents[2] / "schemas" / "plan.schema.json").read_text("utf-8"))
DEFS = SCHEMA["$defs"]
KEYWORDS = {
    "$schema", "$id", "$defs", "$ref", "title", "description", "examples", "type", "enum", "const", "pattern", "minimum",
    "maximum", "minLength", "maxLength", "items", "prefixItems", "required", "additionalProperties", "propertyNames",
    "properties", "allOf", "anyOf", "if", "then", "else", "minItems", "maxItems", "minProperties",
}  # fmt: skip
MAPS = ("properties", "$defs")
LISTS = ("allOf", "anyOf", "prefixItems")
SINGLE = ("items", "additionalProperties", "propertyNames", "if", "then", "else")
EXPLAINED_FOR_ALL = ("key_", "kind_")  # a key may stand there with the words of such a definition; of no other
Found = tuple[str, dict[str, Any]]


def subschemas(node: Any, path: str = "#") -> Iterator[Found]:
    """Every subschema below node as (pointer, schema), node first; true and false are left out."""
    if not isinstance(node, dict):
        return
    yield path, node
    for word in MAPS:
        for name, child in node.get(word, {}).items():
            yield from subschemas(child, f"{path}/{word}/{name}")
    for word in LISTS:
        for number, child in enumerate(node.get(word, [])):
            yield from subschemas(child, f"{path}/{word}/{number}")
    for word in SINGLE:
        yield from subschemas(node.get(word), f"{path}/{word}")


def keys_and_defs() -> list[Found]:
    """The root, all definitions and all properties but the ones an `if` asks about."""
    named = [(path, node) for path, node in subschemas(SCHEMA) if path.rsplit("/", 2)[-2:-1] in (["properties"], ["$defs"])]
    return [("#", SCHEMA), *((path, node) for path, node in named if "/if/" not in path)]


ALL = list(subschemas(SCHEMA))
NAMED = keys_and_defs()
WITH_EXAMPLES = [(path, node) for path, node in ALL if "examples" in node]


def test_is_a_valid_schema_of_its_draft() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema_rs.meta.validate(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_keeps_to_the_small_set_of_keywords() -> None:
    assert {word for _, node in ALL for word in node} <= KEYWORDS


def test_the_kinds_are_not_a_choice_at_the_top() -> None:
    assert not {"oneOf", "anyOf"} & {word for _, node in ALL for word in node}


def test_references_stay_in_the_file_and_every_definition_is_used() -> None:
    assert {node["$ref"] for _, node in ALL if "$ref" in node} == {f"#/$defs/{name}" for name in DEFS}


@pytest.mark.parametrize(("path", "node"), NAMED, ids=[path for path, _ in NAMED])
def test_every_key_and_definition_explains_itself(path: str, node: dict[str, Any]) -> None:
    shared = node.get("$ref", "").removeprefix("#/$defs/")
    if set(node) == {"$ref"}:
        assert shared.startswith(EXPLAINED_FOR_ALL), f"{path} needs words of its own"
        return
    assert 0 < len(node["title"]) <= 60
    assert node["description"].endswith(".")
    assert node["examples"]


@pytest.mark.parametrize(("path", "node"), WITH_EXAMPLES, ids=[path for path, _ in WITH_EXAMPLES])
def test_every_example_is_true(path: str, node: dict[str, Any]) -> None:
    if path == "#":
        slow, fast = jsonschema.Draft202012Validator(SCHEMA), jsonschema_rs.Draft202012Validator(SCHEMA)
    else:
        alone = {**node, "$schema": SCHEMA["$schema"], "$defs": DEFS}
        slow, fast = jsonschema.Draft202012Validator(alone), jsonschema_rs.Draft202012Validator(alone)
    for example in node["examples"]:
        assert slow.is_valid(example) and fast.is_valid(example), f"{path}: {example}"


def test_every_kind_is_told_apart_and_has_defaults() -> None:
    kinds = DEFS["kind"]["enum"]
    branches = DEFS["part"]["allOf"]
    assert [branch["if"]["properties"]["is"]["const"] for branch in branches] == kinds
    assert all(branch["if"]["required"] == ["is"] for branch in branches)
    own = {branch["if"]["properties"]["is"]["const"]: branch["then"] for branch in branches}
    assert own == DEFS["defaults"]["properties"]["parts"]["properties"]
    assert [ref["$ref"] for ref in own.values()] == [f"#/$defs/kind_{name_in_def(kind)}" for kind in kinds]


@pytest.mark.parametrize("kind", DEFS["kind"]["enum"])
def test_a_kind_lists_its_own_keys_and_those_of_all_parts(kind: str) -> None:
    closed = DEFS[f"kind_{name_in_def(kind)}"]
    assert closed["additionalProperties"] is False
    keys = list(closed["properties"])
    assert keys[0] == "is"
    assert {"name", "like", "place", "at", "work", "body", "ends", "hidden", "anchor", "reach"} <= set(keys)


def test_every_mapping_with_listed_keys_is_closed() -> None:
    leave_open = {"#/$defs/part", "#/$defs/run_default", "#/$defs/kind_default"}  # closed by what they refer to
    listed = {path for path, node in ALL if "properties" in node and node.get("additionalProperties") is not False}
    assert {path for path in listed if "/if" not in path} == leave_open


def test_can_be_edited_by_hand() -> None:
    text = (Path(__file__).parents[2] / "schemas" / "plan.schema.json").read_text("utf-8")
    lines = text.split("\n")
    assert len(lines) < 2000
    assert max(map(len, lines)) <= 210
    assert all((len(line) - len(line.lstrip())) % 2 == 0 for line in lines)
    assert "\t" not in text


def name_in_def(kind: str) -> str:
    return kind.replace(" ", "_").replace("-", "_")
