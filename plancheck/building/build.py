"""From the data of a file whose shape holds to a typed Plan. Every wrong name and value is told at once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plancheck.building import tables
from plancheck.building.joining import join
from plancheck.building.names import check_names
from plancheck.building.notes import Notes
from plancheck.building.parts import build_part
from plancheck.building.paths import read_path, read_point
from plancheck.building.runs import PathItems, build_run, mirror, shape_of
from plancheck.building.section import Layers, Section
from plancheck.building.values import BadValue, fill
from plancheck.errors import Problem, Unreadable
from plancheck.model import (
    Claim,
    Code,
    Hot,
    Job,
    Materials,
    Part,
    Permit,
    Place,
    Plan,
    PressureTest,
    Reading,
    Run,
    Tube,
    Waiver,
    Water,
)
from plancheck.reading import MOST_PROBLEMS, Source


def build_plan(source: Source) -> Plan:
    """The typed plan of a file whose shape holds. Raises Unreadable with every wrong name and value, in file order."""
    data, notes, layers = source.data, Notes(), Layers()
    section = Section(data, notes, layers)
    places = section.records("places", Place, tables.PLACE)
    tubes = section.records("tubes", Tube, tables.TUBE)
    parts = _parts(section)
    heat = _heat(section)
    runs = _runs(section)
    parts = join(section, parts, runs)
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
        section.record("materials", Materials, tables.MATERIALS),
    )
    check_names(plan, notes)
    if notes.found:
        raise _unreadable(notes, source)
    return plan


def _parts(section: Section) -> dict[str, Part]:
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


def _runs(section: Section) -> dict[str, Run]:
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


def _path(section: Section, id_: str) -> PathItems:
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


def _heat(section: Section) -> dict[str, Hot]:
    entries = section.entries("heat")
    found = {}
    for id_ in entries:
        data = section.layered("heat", entries, id_)
        if "is" not in data:
            continue  # like nothing, or in a circle: that is noted already
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


def _waivers(section: Section) -> tuple[Waiver, ...]:
    entries = section.data.get("waivers") or []
    found = []
    for number, entry in enumerate(entries):
        make = lambda e=entry: fill(Waiver, tables.WAIVER, e)
        waiver = section.guarded(make, lambda path, n=number: ("waivers", n, *path))  # type: ignore[misc]
        if waiver is not None:
            found.append(waiver)
    return tuple(found)


def _unreadable(notes: Notes, source: Source) -> Unreadable:
    problems = []
    for note in notes.found.values():
        line, column = source.key_place(note.path) if note.key else source.place(note.path)
        where_ = ".".join(str(step) for step in note.path)
        problems.append(Problem(source.file, line, column, f"{where_}: {note.says}", note.mend))
    problems.sort(key=lambda problem: (problem.line, problem.column))
    return Unreadable(tuple(problems[:MOST_PROBLEMS]), max(0, len(problems) - MOST_PROBLEMS))


