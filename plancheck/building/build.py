"""From the data of a file whose shape holds to a typed Plan. Every wrong name and value is told at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from plancheck.building import tables
from plancheck.building.notes import Notes
from plancheck.building.parts import build_part
from plancheck.building.paths import read_path, read_point
from plancheck.building.refs import check_uses, resolve
from plancheck.building.runs import PathItems, build_run, mirror, shape_of
from plancheck.building.said_once import layers_of, merged, where
from plancheck.building.values import BadValue, fill
from plancheck.errors import Problem, Unreadable
from plancheck.model import (
    Claim,
    Code,
    Hot,
    Job,
    Layer,
    Part,
    Path,
    Permit,
    Place,
    Plan,
    PressureTest,
    Reading,
    Ref,
    Run,
    Tube,
    Waiver,
    Water,
)
from plancheck.reading import MOST_PROBLEMS, Source

T = TypeVar("T")
Layers = dict[tuple[str, str], tuple[Layer, ...]]


def build_plan(source: Source) -> Plan:
    """The typed plan of a file whose shape holds. Raises Unreadable with every wrong name and value, in file order."""
    data, notes, layers = source.data, Notes(), Layers()
    section = _Section(data, notes, layers)
    places = section.records("places", Place, tables.PLACE)
    tubes = section.records("tubes", Tube, tables.TUBE)
    parts = _parts(section)
    heat = _heat(section)
    runs = _runs(section)
    parts = _join(section, parts, runs)
    plan = Plan(
        section.record("job", Job, tables.JOB) or Job(),
        section.record("code", Code, tables.CODE) or Code(),
        section.record("permit", Permit, tables.PERMIT),
        section.record("water", Water, tables.WATER) or Water(),
        places,
        tubes,
        parts,
        heat,
        runs,
        "none" if data.get("tests") == "none" else section.records("tests", PressureTest, tables.TEST),
        section.records("claims", Claim, tables.CLAIM),
        section.records("measured", Reading, tables.READING),
        _waivers(section),
        layers,
    )
    from plancheck.building.names import check_names

    check_names(plan, notes)
    if notes.found:
        raise _unreadable(notes, source)
    return plan


class _Section:
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


def _parts(section: _Section) -> dict[str, Part]:
    entries = section.entries("parts")
    ports = section.entries("defaults").get("ports") or {}
    found = {}
    for id_ in entries:
        data = section.layered("parts", entries, id_)
        make = lambda i=id_, d=data: build_part(i, d, ports)
        part = section.guarded(make, section.place_of("parts", id_))
        if part is not None:
            found[id_] = part
    return found


def _runs(section: _Section) -> dict[str, Run]:
    entries = section.entries("runs")
    found: dict[str, Run] = {}
    for id_ in entries:
        data = section.layered("runs", entries, id_)
        run = section.guarded(lambda i=id_, d=data: build_run(i, d), section.place_of("runs", id_))  # type: ignore[misc]
        if run is not None:
            found[id_] = run
    for id_, run in found.items():
        if run.path is not None and ("like" in entries[id_] or run.mirrored):
            path = section.guarded(lambda i=id_: _path(section, i), section.place_of("runs", id_))  # type: ignore[misc]
            found[id_] = run._replace(path=path)
    return found


def _path(section: _Section, id_: str) -> PathItems:
    """The path of a run: its own, or the shape of the one it is like, turned over where it says so."""
    entries = section.entries("runs")
    entry, seen = entries[id_], []
    mirrors = []
    while "path" not in entry and entry.get("like") in entries and id_ not in seen:
        seen.append(id_)
        if "mirrored" in entry:
            mirrors.append(entry["mirrored"])
        id_ = str(entry["like"])
        entry = entries[id_]
    if "path" not in entry:  # it stands in the defaults
        return read_path(section.merged["runs", id_]["path"])
    if not seen and "mirrored" in entry:
        says = "mirrored turns over a copied path; this run has a path of its own"
        raise BadValue((("mirrored",), says, "leave mirrored out, or the path"))
    path = read_path(entry["path"])
    if seen:
        try:
            path = shape_of(path)
        except BadValue as wrong:
            raise BadValue(*((("like",), says, mend) for _, says, mend in wrong.bad)) from None
    for how in reversed(mirrors):
        path = mirror(path, str(how))
    return path


def _heat(section: _Section) -> dict[str, Hot]:
    entries = section.entries("heat")
    found = {}
    for id_ in entries:
        data = section.layered("heat", entries, id_)
        hot = section.guarded(lambda i=id_, d=data: _hot(i, d), section.place_of("heat", id_))  # type: ignore[misc]
        if hot is not None:
            found[id_] = hot
    return found


def _hot(id_: str, data: Mapping[str, Any]) -> Hot:
    more: dict[str, Any] = {}
    for key, read in (("path", read_path), ("at", read_point)):
        if key in data and isinstance(data[key], list):
            try:
                more[key] = read(data[key])
            except BadValue as wrong:
                raise BadValue(*(((key, *path), says, mend) for path, says, mend in wrong.bad)) from None
    return fill(Hot, tables.HOT, data, id=id_, **more)


def _waivers(section: _Section) -> tuple[Waiver, ...]:
    entries = section.data.get("waivers") or []
    found = []
    for number, entry in enumerate(entries):
        make = lambda e=entry: fill(Waiver, tables.WAIVER, e)
        waiver = section.guarded(make, lambda path, n=number: ("waivers", n, *path))  # type: ignore[misc]
        if waiver is not None:
            found.append(waiver)
    return tuple(found)


def _join(section: _Section, parts: dict[str, Part], runs: dict[str, Run]) -> dict[str, Part]:
    """Joins the ends of runs and the parts made up directly to others; runs is filled in place."""
    notes = section.notes
    joined: dict[Ref, list[Path]] = {}
    for id_, entry in section.entries("runs").items():
        ends: dict[str, Ref | None] = {"from_": None, "to": None}
        for key, field in (("from", "from_"), ("to", "to")):
            if key in entry:
                ref = resolve(str(entry[key]), parts, key == "to", ("runs", id_, key), notes)
                ends[field] = ref
                if ref is not None:
                    joined.setdefault(ref, []).append(("runs", id_, key))
        if id_ in runs:
            runs[id_] = runs[id_]._replace(**ends)  # type: ignore[arg-type]
    found = dict(parts)
    for id_, entry in section.entries("parts").items():
        if "onto" in entry and id_ in parts:
            path: Path = ("parts", id_, "onto")
            target = resolve(str(entry["onto"]), parts, False, path, notes)
            own = resolve(id_, parts, True, path, notes)
            for ref in (target, own):
                if ref is not None:
                    joined.setdefault(ref, []).append(path)
            found[id_] = parts[id_]._replace(onto=target)
    check_uses(joined, parts, notes)
    _inherit_places(found, notes)
    return found


def _inherit_places(parts: dict[str, Part], notes: Notes) -> None:
    """A part made up directly to another stands in its place; a circle of such parts is noted."""
    for id_, part in parts.items():
        if part.onto is None or part.place is not None:
            continue
        seen = [id_]
        here = part
        while here.place is None and here.onto is not None:
            if here.onto.part in seen:
                circle = " onto ".join((*seen, here.onto.part))
                notes.add(("parts", id_, "onto"), f"a circle: {circle}", "let one of them stand by itself")
                break
            seen.append(here.onto.part)
            here = parts[here.onto.part]
        parts[id_] = part._replace(place=here.place)


def _unreadable(notes: Notes, source: Source) -> Unreadable:
    problems = []
    for note in notes.found.values():
        line, column = source.key_place(note.path) if note.key else source.place(note.path)
        where_ = ".".join(str(step) for step in note.path)
        problems.append(Problem(source.file, line, column, f"{where_}: {note.says}", note.mend))
    problems.sort(key=lambda problem: (problem.line, problem.column))
    return Unreadable(tuple(problems[:MOST_PROBLEMS]), max(0, len(problems) - MOST_PROBLEMS))


