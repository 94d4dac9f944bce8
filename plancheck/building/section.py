"""The sections of one file: each thing through its layers, problems noted at the place where the value stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from plancheck.building.notes import Notes
from plancheck.building.said_once import layers_of, merged, where
from plancheck.building.values import BadValue, fill
from plancheck.model import Layer, Path

T = TypeVar("T")
Layers = dict[tuple[str, str], tuple[Layer, ...]]


class Section:
    """The sections of one file, each thing built through its layers, problems noted at the place where they stand."""

    def __init__(self, data: Mapping[str, Any], notes: Notes, layers: Layers) -> None:
        self.data = data
        self.notes = notes
        self.layers = layers
        self.merged: dict[tuple[str, str], Mapping[str, Any]] = {}

    def entries(self, name: str) -> Mapping[str, Any]:
        """The mapping of a section, empty where it is left out."""
        found = self.data.get(name)
        return found if isinstance(found, dict) else {}

    def record(self, name: str, cls: Callable[..., T], table: Any) -> T | None:
        """A section that is one record."""
        found = self.data.get(name)
        if not isinstance(found, dict):
            return None
        return self.guarded(lambda: fill(cls, table, found), lambda path: (name, *path))

    def records(self, name: str, cls: Callable[..., T], table: Any) -> dict[str, T]:
        """A section of named records, each may be like another."""
        found = {}
        entries = self.entries(name)
        for id_ in entries:
            data = self.layered(name, entries, id_)
            record = self.guarded(lambda i=id_, d=data: fill(cls, table, d, id=i), self.place_of(name, id_))  # type: ignore[misc]
            if record is not None:
                found[id_] = record
        return found

    def layered(self, name: str, entries: Mapping[str, Any], id_: str) -> Mapping[str, Any]:
        """The keys in force of one thing; its layers are kept for the places of its values."""
        layers = layers_of(entries, (name,), id_, self.notes) + self._defaults(name, entries, id_)
        self.layers[name, id_] = layers
        found = self.merged[name, id_] = merged(layers)
        return found

    def _defaults(self, name: str, entries: Mapping[str, Any], id_: str) -> tuple[Layer, ...]:
        defaults = self.entries("defaults").get(name)
        if not defaults:
            return ()
        key = entries[id_].get("is") if name == "parts" else self._tube_of(entries, id_)
        if key not in defaults:
            return ()
        found = layers_of(defaults, ("defaults", name), str(key), self.notes)
        return tuple(Layer(layer.data, layer.path, "from defaults") for layer in found)

    def _tube_of(self, entries: Mapping[str, Any], id_: str) -> Any:
        seen = set()
        while id_ in entries and id_ not in seen:
            if "tube" in entries[id_]:
                return entries[id_]["tube"]
            seen.add(id_)
            id_ = str(entries[id_].get("like"))
        return None

    def place_of(self, name: str, id_: str) -> Callable[[Path], Path]:
        """Turns a path below a thing into the path where the value stands."""

        def at(path: Path) -> Path:
            layers = self.layers[name, id_]
            if not path:
                return layers[0].path
            return (*where(layers, str(path[0]))[0], *path[1:])

        return at

    def guarded(self, make: Callable[[], T], at: Callable[[Path], Path]) -> T | None:
        """What make gives, or None with its bad values noted."""
        try:
            return make()
        except BadValue as wrong:
            for path, says, mend in wrong.bad:
                self.notes.add(at(path), says, mend)
            return None
