"""Turns of phrase for shape errors: values as found, examples and lists of words, what may stand somewhere."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from plancheck.measures.kinds import visible
from plancheck.scalars import plain_value
from plancheck.shapelevels import DEFS, Level

_LONGEST = 60
_LONGEST_KEY = 40
_LONGEST_EXAMPLE = 90
_SPECIAL = frozenset(",[]{}:#&*!|>'\"%@`")

# what may stand where a definition of the schema is asked for, in a sentence after "write"
MEANINGS = {
    "length": "a length with its unit",
    "pressure": "a pressure with its unit",
    "flow": "a flow with its unit",
    "volume": "a volume with its unit",
    "temperature": "a temperature with its unit",
    "power": "a heat input with its unit",
    "duration": "a length of time with its unit",
    "elevation": "a height with its unit",
    "lengths": "a length with its unit, or several in square brackets",
    "size": "a nominal size",
    "number": "a figure",
    "count": "a whole number",
    "date": "a day as year-month-day",
    "text": "text",
    "short_text": "a few words",
    "id": "a name without blank, slash or comma",
    "id_or_unknown": "a name without blank, slash or comma, or not known",
    "connection": "a part, or a part and its connection with a slash between",
    "connection_or_unknown": "a part, or a part and its connection with a slash between, or not known",
    "point": "three measures in square brackets",
    "step": "a leg, or a point in square brackets",
    "path": "legs and points in square brackets",
    "ids": "names in square brackets",
    "connections": "parts or connections in square brackets",
    "services": "kinds of water in square brackets",
    "key_reach": "open, panel with its size, or none",
    "key_ends": "the standard of its ends",
    "joint": "a way of joining",
    "or_none": "none or not known",
}


def cut(text: object) -> str:
    """A name of the file in a sentence: control characters visible, not too long."""
    return visible(str(text), _LONGEST_KEY)


def found(value: Any) -> str:
    """A value of the file as the subject of a sentence."""
    if isinstance(value, str):
        return f"'{visible(value, _LONGEST)}'" if value.strip() else "a blank text"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    if isinstance(value, dict):
        return "a group of keys" if value else "a group without keys"
    return "nothing" if value is None else visible(str(value), _LONGEST)


def listed(words: Iterable[Any], last: str = "or") -> str:
    """a, b or c."""
    said = [found(word) if isinstance(word, bool) else str(word) for word in words]
    return f"{', '.join(said[:-1])} {last} {said[-1]}" if len(said) > 1 else "".join(said)


def example(value: Any) -> str:
    """A value as one writes it on one line of a plan file."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {example(child)}" for key, child in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(example, value)) + "]"
    if isinstance(value, str):
        bare = value and not _SPECIAL.intersection(value) and plain_value(value) == value
        return value if bare else f'"{value}"'
    return found(value)


def examples(level: Level) -> str:
    """One or two short examples of the schema for what may stand there, or an empty text."""
    short = [text for text in map(example, level.said("examples") or ()) if len(text) <= _LONGEST_EXAMPLE]
    return " or ".join(short[:2] if sum(map(len, short[:2])) <= _LONGEST_EXAMPLE else short[:1])


def purpose(level: Level) -> str:
    """What the key is for: the first clause of its description, to follow a colon or stand in brackets."""
    said = str(level.said("description") or "")
    for end in (". ", "; ", ": "):
        said = said.partition(end)[0]
    said = said.rstrip(".").replace("`", "'")
    first = said.partition(" ")[0]
    return said if len(first) > 1 and first.isupper() else said[:1].lower() + said[1:]


def expected(level: Level) -> str:
    """What may stand there, to follow "write"."""
    words = level.said("enum")
    if words:
        return ("" if len(words) < 3 else "one of ") + listed(words)
    name = next((name for name in level.names if name in MEANINGS and name != "or_none"), "")
    meaning = MEANINGS[name] if name else _by_type(level)
    such = examples(level)
    about = purpose(level) if level.nodes[0].get("description") and "its keys" not in meaning else ""
    text = f"{meaning}, such as {such}" if meaning and such else meaning or f"it as in {such}"
    return f"{text} ({about})" if about else text


def _by_type(level: Level) -> str:
    types = level.said("type")
    types = [types] if isinstance(types, str) else types or []
    forms = []
    if "object" in types:
        forms.append(_its_keys(level))
    if "boolean" in types:
        forms.append("true or false")
    if "array" in types:
        forms.append("a list in square brackets")
    if "or_none" in level.names:
        forms.append("none")
    if not forms and level.said("pattern") == DEFS["id"]["pattern"]:
        forms.append(MEANINGS["id"])
    if not forms and level.said("maximum") == 0:
        forms.append("a measure with its unit")
    return ", or ".join(forms)


def _its_keys(level: Level) -> str:
    keys = level.known()
    if "part" in level.names:
        return "what it is and its further keys"
    return f"its keys ({', '.join(keys)})" if keys else "names with what belongs to each"
