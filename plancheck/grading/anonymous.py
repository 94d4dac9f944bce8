"""A plan without the names of people: its title, who made it and signed it, photographs' and other files' names.

The keys stay, so that rules judge as before; only their words are replaced. Places in the file stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Any

import plancheck.schemas
from plancheck.errors import Unreadable
from plancheck.reading import Source, load_bytes

_WORD = re.compile(r"[^\W\d_][\w-]*")
_WORDS = {"by": "the candidate", "photo": "photo", "number": "number", "authority": "the authority"}
_SECTIONS = ("job", "permit", "claims", "tests", "measured")
_KEPT = frozenset(("none", "not known"))


def anonymous(source: Source, name: str, stage: str | None, all_new: bool = False) -> Source:
    """The source with names taken out and without its waivers, which count for nothing here; changed in place.

    name: what it is called instead; stage: the stage it is marked at, None for as it says itself; all_new: whether what it
    calls existing is marked as new.
    """
    data = source.data
    if not isinstance(data.get("job"), dict):
        _put(source, data, "job", {})
    for section in _SECTIONS:
        _blank(data.get(section))
    _put(source, data["job"], "title", name)
    if stage is not None:
        _put(source, data["job"], "stage", stage)
    if all_new:
        for section in ("parts", "runs", "defaults"):
            _as_new(data.get(section))
    if "waivers" in data:
        data["waivers"] = []
    return source._replace(file=name)


def _as_new(value: Any) -> None:
    """Calls new what is called existing, at any depth."""
    for key, one in value.items() if isinstance(value, dict) else ():
        if key == "work" and one == "existing":
            value[key] = "new"
        else:
            _as_new(one)


def own_words(file: str) -> frozenset[str]:
    """The words of a plan file that the plan's schema does not know, in small letters; none where it cannot be fetched."""
    try:
        raw = load_bytes(file)
    except Unreadable:
        return frozenset()
    with open(f"{plancheck.schemas.__path__[0]}/plan.schema.json", encoding="utf-8") as handle:
        known = _words(handle.read())
    return _words(raw.decode(errors="replace")) - known


def masked(text: str, words: Collection[str]) -> str:
    """A sentence with these words left out."""
    return _WORD.sub(lambda found: "\u2026" if found[0].casefold() in words else found[0], text)


def _words(text: str) -> frozenset[str]:
    """The words of a text, figures alone left out; those with hyphens whole and in their pieces."""
    whole = {word.casefold() for word in _WORD.findall(text)}
    return frozenset(whole | {piece for word in whole for piece in word.split("-") if len(piece) > 2 and not piece.isdigit()})


def _blank(value: Any) -> None:
    """Replaces words that name somebody, at any depth."""
    if not isinstance(value, dict):
        return
    for key, one in value.items():
        if key in _WORDS and isinstance(one, str) and one not in _KEPT:
            value[key] = _WORDS[key]
        else:
            _blank(one)


def _put(source: Source, container: dict[str, Any], key: str, value: Any) -> None:
    """Sets a key, one that the file has not at the beginning of the file."""
    if key not in container:
        source.spots.setdefault(id(container), []).extend((0, 0))
        source.orders.pop(id(container), None)
    container[key] = value
