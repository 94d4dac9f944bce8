"""The schemas of the small files beside plans: every key explained, every example true."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import jsonschema_rs
import pytest

FOLDER = Path(__file__).parents[2] / "schemas"
SCHEMAS = {
    name: json.loads((FOLDER / f"{name}.schema.json").read_text("utf-8"))
    for name in ("amendments", "waivers", "accepted")
}


def named(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The root, all definitions and all properties."""
    yield "#", schema
    for name, piece in schema.get("$defs", {}).items():
        yield f"#/$defs/{name}", piece
        yield from ((f"#/$defs/{name}/{key}", one) for key, one in piece["properties"].items())
    yield from ((f"#/{key}", one) for key, one in schema["properties"].items())


ALL = [(kind, path, piece) for kind, schema in SCHEMAS.items() for path, piece in named(schema)]


@pytest.mark.parametrize("kind", SCHEMAS)
def test_is_a_valid_schema_of_its_draft(kind: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[kind])
    jsonschema_rs.meta.validate(SCHEMAS[kind])
    assert max(map(len, (FOLDER / f"{kind}.schema.json").read_text("utf-8").split("\n"))) <= 250


@pytest.mark.parametrize(("kind", "path", "piece"), ALL, ids=[f"{kind}{path}" for kind, path, _ in ALL])
def test_each_key_is_explained_and_its_examples_are_true(kind: str, path: str, piece: dict[str, Any]) -> None:
    assert 0 < len(piece["title"]) <= 60
    assert piece["description"].endswith(".")
    alone = {**piece, "$schema": SCHEMAS[kind]["$schema"], "$defs": SCHEMAS[kind]["$defs"]}
    assert piece["examples"]
    for example in piece["examples"]:
        assert jsonschema.Draft202012Validator(alone).is_valid(example), example
        assert jsonschema_rs.Draft202012Validator(alone).is_valid(example), example
    if piece.get("type") == "object" and path != "#/limits":
        assert piece["additionalProperties"] is False
