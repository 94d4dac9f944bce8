"""The tables of words keep up with the schema."""

from __future__ import annotations

from plancheck.shapelevels import DEFS, SCHEMA, SECTIONS, level_of, levels_at
from plancheck.shapesay import MEANINGS, example, expected
from plancheck.shapewords import _THINGS, where


def test_every_section_of_named_things_has_a_word_for_one_of_them() -> None:
    named = {name for name, node in SECTIONS.items() if "additionalProperties" in node or "items" in node}
    assert set(_THINGS) == named


def test_every_definition_of_text_has_a_meaning_or_its_words() -> None:
    plain = {
        name for name, node in DEFS.items()
        if "enum" not in node and "$ref" not in node and "properties" not in node and node.get("type") != "object"
    }  # fmt: skip
    assert plain - set(MEANINGS) == set()
    assert set(MEANINGS) <= set(DEFS)


def test_something_can_be_said_of_every_key() -> None:
    keys = [
        (f"{name}.{key}", node)
        for name, spec in DEFS.items()
        for key, node in spec.get("properties", {}).items()
        if node
    ]
    assert len(keys) > 400
    for name, node in keys:
        words = expected(level_of(node))
        assert len(words) > 8 and "such as)" not in words and not words.endswith((",", "as in ", "such as ")), name


def test_paths_in_words() -> None:
    assert where(()) == ""
    assert where(("runs", "bath-cold", "supports", "every")) == "run bath-cold, supports, every"
    assert where(("parts", "row", "ports", "A", "next")) == "part row, ports, A, next"
    assert where(("parts", "row", "at", 1)) == "part row, at, north"
    assert where(("runs", "a", "path", 2, 0)) == "run a, path, entry 3, east"
    assert where(("runs", "a", "supports", "at", 1)) == "run a, supports, at, entry 2"
    assert where(("waivers", 2, "until")) == "waiver 3, until"
    assert where(("defaults", "parts", "valve")) == "defaults, parts, valve"
    assert where(("parts", "x\x1b" + "y" * 80)) == "part x\\x1b" + "y" * 32 + "..."


def test_examples_read_as_a_plan_writes_them() -> None:
    assert example({"a": [0, "5 ft"], "b": True}) == "{a: [0, 5 ft], b: true}"
    assert example("Back bath, tub side") == '"Back bath, tub side"'
    assert example("12") == '"12"'
    assert example("3/4") == "3/4"


def test_levels_follow_references_and_branches() -> None:
    steps: list[str | int] = [
        "properties",
        "parts",
        "additionalProperties",
        "allOf",
        2,
        "then",
        "properties",
        "label",
        "type",
    ]
    levels = levels_at(steps)
    assert [level.names for level in levels] == [(), (), ("part", "kind_valve"), ("key_label", "text")]
    assert levels[0].nodes == (SCHEMA,)
    assert levels[2].known().keys() == DEFS["kind_valve"]["properties"].keys()
