"""From a rubric file to a Rubric, or to everything that is wrong with it, with places."""

from __future__ import annotations

import json
import os
from collections.abc import Collection, Iterator, Mapping
from typing import Any

import plancheck.schemas
from plancheck.building.notes import nearest
from plancheck.errors import Problem, Unreadable
from plancheck.grading.counts import COUNTED
from plancheck.grading.given import value_at
from plancheck.grading.rubric import AGREES, ANY, GIVEN, WAYS, Aspect, Critical, Rubric, Section
from plancheck.grading.values import VALUES, read_band
from plancheck.measures import MeasureError
from plancheck.reading import Path, Source, read_plan
from plancheck.smallshape import read_small

_SAME = 1e-6  # weights are decimal fractions; their sums are not exact
_Bad = tuple[Path, str, str]


def load_rubric(file: str, rules: Collection[str]) -> Rubric:
    """The rubric of the file. rules: the ids of all rules. Raises Unreadable with everything that is wrong."""
    source = read_small(file, "rubric")
    data = source.data
    bad: list[_Bad] = []
    sections = tuple(_section(id_, one, bad) for id_, one in data["sections"].items())
    critical = tuple(_critical(id_, one) for id_, one in data.get("critical", {}).items())
    reference = os.path.join(os.path.dirname(file), data["reference"]) if "reference" in data else None
    bad += _weights(data)
    bad += _names(data, rules)
    bad += _reference(data, reference)
    if bad:
        raise Unreadable(tuple(sorted((_problem(source, *one) for one in bad), key=lambda one: (one.line, one.column))))
    return Rubric(
        file,
        source.raw,
        data["title"],
        data.get("for", ""),
        data.get("stage"),
        data.get("pass"),
        float(data.get("unreadable", 0.0)),
        float(data.get("step", 0.1)),
        reference,
        sections,
        critical,
        bool(data.get("all_new", False)),
    )


def _problem(source: Source, path: Path, says: str, mend: str) -> Problem:
    where = ".".join(str(step) for step in path)
    return Problem(source.file, *source.place(path), f"{where}: {says}", mend)


def _section(id_: str, data: Mapping[str, Any], bad: list[_Bad]) -> Section:
    aspects = tuple(_aspect(("sections", id_, "aspects", name), one, bad) for name, one in data["aspects"].items())
    return Section(id_, data["title"], float(data["weight"]), aspects)


def _aspect(path: Path, data: Mapping[str, Any], bad: list[_Bad]) -> Aspect:
    way = next(way for way in WAYS if way in data)
    economy = data.get("economy", {})
    full, half = _bands(path, data, bad)
    steps = tuple((step["faults"], float(step["share"])) for step in data.get("steps", ()))
    if list(steps) != sorted(steps, key=lambda step: (step[0], -step[1])) or len({faults for faults, _ in steps}) < len(steps):
        bad.append(((*path, "steps"), "the steps do not go from few faults to many", "put the step with fewest faults first, each once"))
    if steps and "each" in data:
        bad.append(((*path, "each"), "marks are by steps and by each cause at once", "leave one of the two out"))
    if steps and steps[0][0] != 0:
        bad.append(((*path, "steps"), "the steps do not begin with no root cause", "begin with  {faults: 0, share: 1}"))
    if data.get("floor", 0.0) > data["weight"]:
        bad.append(((*path, "floor"), "the floor is higher than the weight", "write a smaller floor"))
    return Aspect(
        str(path[-1]),
        data["title"],
        float(data["weight"]),
        way,
        tuple(data.get("rules") or data.get("documents") or ()),
        steps,
        data.get("each"),
        float(data.get("floor", 0.0)),
        bool(data.get("advice", False)),
        data.get("absent", "none"),
        data.get("value", ""),
        full,
        half,
        tuple(data.get("agrees", ())),
        tuple(tuple(path.strip("/").split("/")) for path in data.get("given", ())),
        float(economy.get("within", data.get("materials", 0.0))),
        economy.get("of", ""),
        data.get("judge", ""),
        data.get("read", ""),
    )


def _bands(path: Path, data: Mapping[str, Any], bad: list[_Bad]) -> tuple[float | None, float | None]:
    """The bands of a value, SI."""
    if "value" not in data:
        return None, None
    kind = VALUES[data["value"]]
    found: list[float | None] = []
    for key in ("full", "half"):
        try:
            found.append(read_band(data[key], kind) if key in data else None)
        except MeasureError as wrong:
            bad.append(((*path, key), wrong.says, wrong.mend))
            found.append(None)
    full, half = found
    if kind.at_most and any(band is not None and band < 0.0 for band in found):
        bad.append((path, "a band is below zero, which nothing reaches", f"write it as {kind.example}"))
    if full is None and "full" not in data:
        bad.append(((*path, "value"), "the value has no band", f"say from where marks are full, such as  full: {kind.example}"))
    if full is not None and half is not None and (half < full if kind.at_most else half > full):
        way = "more" if kind.at_most else "less"
        bad.append(((*path, "half"), "half marks are harder to have than full ones", f"write {way} than under full"))
    return full, half


def _weights(data: Mapping[str, Any]) -> Iterator[_Bad]:
    total = sum(section["weight"] for section in data["sections"].values())
    if abs(total - 100.0) > _SAME:
        yield ("sections",), f"the weights of the sections add up to {total:g}", "make them add up to 100"
    for id_, section in data["sections"].items():
        inside = sum(aspect["weight"] for aspect in section["aspects"].values())
        if abs(inside - section["weight"]) > _SAME:
            says = f"the weights of its aspects add up to {inside:g}, its own is {section['weight']:g}"
            yield ("sections", id_, "weight"), says, "make the two agree"


def _names(data: Mapping[str, Any], rules: Collection[str]) -> Iterator[_Bad]:
    """Names of rules and sections that are not there."""
    for path, rule in _rules_named(data):
        if rule not in rules:
            yield path, f"there is no rule '{rule}'", f"{nearest(rule, rules)}plancheck rules lists them"
    with open(f"{plancheck.schemas.__path__[0]}/plan.schema.json", encoding="utf-8") as handle:
        schema = json.load(handle)
    for name, fault in data.get("critical", {}).items():
        if "fails" in fault and fault["fails"] not in data["sections"]:
            mend = f"{nearest(fault['fails'], data['sections'])}name a section of this rubric"
            yield ("critical", name, "fails"), f"there is no section '{fault['fails']}'", mend
        for place, key in enumerate(fault.get("says", ())):
            if not _is_key(key, schema):
                yield ("critical", name, "says", place), f"a plan has no key {key}", "write its path as in the plan file, such as water/static"
        for counted in fault.get("fewest", {}):
            if counted not in COUNTED:
                mend = f"{nearest(counted, COUNTED)}write runs, fixtures or a kind of part"
                yield ("critical", name, "fewest", counted), f"a plan has no '{counted}' to count", mend


def _is_key(key: str, schema: Mapping[str, Any]) -> bool:
    """Whether a path leads through the plan's schema: by the keys a thing has, and by any name where things have names."""
    here: Mapping[str, Any] = schema
    for step in key.strip("/").split("/"):
        here = {**schema["$defs"].get(str(here.get("$ref", "")).rpartition("/")[2], {}), **here}
        below = here.get("properties", {}).get(step) or here.get("additionalProperties")
        if not isinstance(below, dict):
            return False
        here = below
    return True


def _rules_named(data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
    for path, aspect in _aspects(data):
        for key in ("rules", "documents"):
            for place, rule in enumerate(aspect.get(key, ())):
                yield (*path, key, place), rule
    for name, fault in data.get("critical", {}).items():
        for place, rule in enumerate(fault.get("rules", ())):
            if rule != ANY:
                yield ("critical", name, "rules", place), rule


def _aspects(data: Mapping[str, Any]) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    for id_, section in data["sections"].items():
        for name, aspect in section["aspects"].items():
            yield ("sections", id_, "aspects", name), aspect


def _reference(data: Mapping[str, Any], reference: str | None) -> Iterator[_Bad]:
    for path, aspect in _aspects(data):
        for key in (AGREES, GIVEN):
            if key in aspect and reference is None:
                yield (*path, key), "there is no layout to compare with", "name it at the top:  reference: layout.plan.yaml"
    if reference is None:
        return
    if not os.path.isfile(reference):
        mend = "name the plan file of the reference layout, relative to this one"
        yield ("reference",), f"there is no file {reference}", mend
        return
    layout = read_plan(reference).data
    for path, aspect in _aspects(data):
        for place, key in enumerate(aspect.get(GIVEN, ())):
            if value_at(layout, key) is None:
                yield (*path, GIVEN, place), f"the reference layout says nothing at {key}", "name a key it has, such as water/static"


def _critical(id_: str, data: Mapping[str, Any]) -> Critical:
    rules, fewest = tuple(data.get("rules", ())), tuple(data.get("fewest", {}).items())
    return Critical(id_, data["title"], rules, data.get("severity", "hazard"), data.get("cap"), data.get("fails"), fewest, bool(data.get("unsaid", False)), tuple(data.get("says", ())))
