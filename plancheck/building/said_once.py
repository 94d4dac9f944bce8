"""What a thing says once: its own key, then the one it is like, then the defaults. Keys are taken whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plancheck.building.notes import Notes, nearest
from plancheck.model import Layer, Path

# where a thing is and what it joins: never copied by `like`
NOT_COPIED = frozenset(
    ("from", "to", "onto", "place", "places", "at", "bundle", "label", "left", "like", "mirrored", "name")
)


def layers_of(section: Mapping[str, Any], prefix: Path, id_: str, notes: Notes) -> tuple[Layer, ...]:
    """The thing's own entry, then those it is like, nearest first. A circle or an unknown name is noted, not followed."""
    layers = [Layer(section[id_], (*prefix, id_), "")]
    seen = [id_]
    entry = section[id_]
    while "like" in entry:
        name = str(entry["like"])
        path = (*prefix, seen[-1], "like")
        if name not in section:
            notes.add(path, f"'{name}' is not in {prefix[-1]}", f"{nearest(name, section)}write the name of another one")
            break
        if name in seen:
            if name == id_ and id_ == next(key for key in section if key in seen):  # told once, by the first of them
                circle = " is like ".join((*seen, name))
                notes.add((*prefix, id_, "like"), f"a circle: {circle}", "let one of them say its keys itself")
            break
        seen.append(name)
        entry = section[name]
        layers.append(Layer(entry, (*prefix, name), f"as {name}"))
    return tuple(layers)


def merged(layers: tuple[Layer, ...]) -> Mapping[str, Any]:
    """The keys in force: of each key the first layer that has it, less what is never copied."""
    if len(layers) == 1:
        return layers[0].data
    found: dict[str, Any] = {}
    for layer in reversed(layers[1:]):
        for key, value in layer.data.items():
            if _passed_on(key, layer):
                found[key] = value
    found.update(layers[0].data)
    return found


def _passed_on(key: str, layer: Layer) -> bool:
    """Whether a thing takes a key from another layer: which side is on the left may be said for a whole kind."""
    return key not in NOT_COPIED or (key == "left" and layer.note == "from defaults")


def where(layers: tuple[Layer, ...], key: str) -> tuple[Path, str]:
    """The path at which the key stands, and how it got there: "", "as NAME" or "from defaults"."""
    for number, layer in enumerate(layers):
        if key in layer.data and (number == 0 or _passed_on(key, layer)):
            return (*layer.path, key), layer.note
    return layers[0].path, ""
