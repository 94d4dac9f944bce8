"""A plan without the names of people: its title, who made it and signed it, photographs' and other files' names.

The keys stay, so that rules judge as before; only their words are replaced. Places in the file stay as they are.
"""

from __future__ import annotations

from typing import Any

from plancheck.reading import Source

_WORDS = {"by": "the candidate", "photo": "photo", "number": "number", "authority": "the authority"}
_SECTIONS = ("job", "permit", "claims", "tests", "measured")
_KEPT = frozenset(("none", "not known"))


def anonymous(source: Source, name: str, stage: str | None) -> Source:
    """The source with names taken out and without its waivers, which count for nothing here; changed in place.

    name: what it is called instead; stage: the stage it is marked at, None for as it says itself.
    """
    data = source.data
    if not isinstance(data.get("job"), dict):
        _put(source, data, "job", {})
    for section in _SECTIONS:
        _blank(data.get(section))
    _put(source, data["job"], "title", name)
    if stage is not None:
        _put(source, data["job"], "stage", stage)
    if "waivers" in data:
        data["waivers"] = []
    return source._replace(file=name)


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
