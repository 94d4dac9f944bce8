"""The plan schema as a tree to look things up in: which of its nodes speak of one spot of a plan."""

import json
from collections.abc import Sequence
from typing import Any

from plancheck.record import NamedTuple
from plancheck.shape import schema_text

Node = dict[str, Any]
SCHEMA: Node = json.loads(schema_text())
DEFS: dict[str, Node] = SCHEMA["$defs"]
SECTIONS: dict[str, Node] = SCHEMA["properties"]


class Level(NamedTuple):
    """The schema nodes that speak of one value, the nearest to its key first, and which definitions are among them."""

    nodes: tuple[Node, ...]
    names: tuple[str, ...]

    def said(self, word: str) -> Any:
        """What the nearest node that has the word says under it, or None."""
        return next((node[word] for node in self.nodes if word in node), None)

    def known(self) -> dict[str, Node]:
        """The keys a mapping may have here, with their nodes; one that a nearer node forbids is left out."""
        found: dict[str, Any] = {}
        for node in self.nodes:
            for key, child in node.get("properties", {}).items():
                found.setdefault(key, child)
        return {key: child for key, child in found.items() if child is not False}


def level_of(node: Node) -> Level:
    """The level of a node that stands under a key, with all it refers to."""
    nodes, names = [node], []
    while "$ref" in nodes[-1]:
        names.append(nodes[-1]["$ref"].removeprefix("#/$defs/"))
        nodes.append(DEFS[names[-1]])
    return Level(tuple(nodes), tuple(names))


def levels_at(steps: Sequence[str | int]) -> list[Level]:
    """The levels crossed by a path through the schema as jsonschema writes it (without `$ref` and `if`).

    One level for the plan and one for each value on the way down; the last step is the keyword that failed.
    """
    found = [level_of(SCHEMA)]
    number = 0
    while number < len(steps):
        word = steps[number]
        after = steps[number + 1] if number + 1 < len(steps) else None
        node = _holder(found[-1], word, after)
        if number + 1 == len(steps) or node is None or word == "propertyNames":
            break
        if word in ("properties", "prefixItems"):
            found.append(level_of(node[str(word)][after]))
        elif word in ("additionalProperties", "items"):
            found.append(level_of(node[str(word)]))
        else:
            deeper = level_of(node["allOf"][after] if word == "allOf" else node[str(word)])
            found[-1] = Level(found[-1].nodes + deeper.nodes, found[-1].names + deeper.names)
        number += 2 if word in ("properties", "prefixItems", "allOf") else 1
    return found


def _holder(level: Level, word: str | int, after: str | int | None) -> Node | None:
    """The node of the level that has the word; of several the last one, for branches are entered one after another."""
    fitting = [node for node in level.nodes if word in node]
    if word == "properties" and after is not None:
        fitting = [node for node in fitting if isinstance(node["properties"].get(after), dict)]
    return fitting[-1] if fitting else None
