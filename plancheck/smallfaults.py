"""What is wrong with the shape of a small file, in words: where, what was found, how to mend it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import islice
from typing import Any

import jsonschema

from plancheck.errors import Problem
from plancheck.reading import MOST_PROBLEMS, Path, Source
from plancheck.shapenear import near
from plancheck.shapesay import cut, example, found, listed

_MOST_ERRORS = 1000
_MOST_KEYS = 12
_Fault = tuple[Path, bool, str, str]  # path, whether it stands at a key, what was found, how to mend it


def explained(source: Source, schema: str) -> tuple[tuple[Problem, ...], int]:
    """The first problems of a refused file in file order, and how many more there are at least."""
    rules = json.loads(schema)
    faults: dict[tuple[Path, str], _Fault] = {}
    for error in islice(jsonschema.Draft202012Validator(rules).iter_errors(source.data), _MOST_ERRORS):
        for fault in _faults(error, rules.get("$defs", {})):
            faults.setdefault((fault[0], fault[2]), fault)
    problems = sorted(_problem(source, fault) for fault in faults.values())
    if not problems:  # the two validators disagree
        problems = [Problem(source.file, 1, 1, "this is no such file", f"write it as {example(rules['examples'][0])}")]
    return tuple(problems[:MOST_PROBLEMS]), len(problems) - len(problems[:MOST_PROBLEMS])


def _problem(source: Source, fault: _Fault) -> Problem:
    path, at_key, says, mend = fault
    line, column = source.key_place(path) if at_key else source.place(path)
    at = where(path[:-1] if at_key else path)
    return Problem(source.file, max(1, line), max(1, column), f"{at}: {says}" if at else says, mend)


def where(path: Path) -> str:
    """A path in words; entries of lists count from 1."""
    return ", ".join(f"entry {step + 1}" if isinstance(step, int) else cut(step) for step in path)


def _faults(error: Any, defs: dict[str, Any]) -> Iterator[_Fault]:
    path: Path = tuple(error.absolute_path)
    if "propertyNames" in error.absolute_schema_path:
        yield (*path, error.instance), True, f"'{cut(error.instance)}' cannot be a name here", _write(error.schema)
    elif error.validator == "additionalProperties":
        yield from _unknown(path, error)
    elif error.validator == "required":
        yield from _missing(path, error, defs)
    elif error.validator == "anyOf" and all(set(one) == {"required"} for one in error.validator_value):
        sets = [" and ".join(one["required"]) for one in error.validator_value]
        yield path, bool(path), f"keys are missing: it needs {listed(sets)}", _write(error.schema)
    else:
        yield path, False, f"{found(error.instance)} cannot stand here", _write(error.schema)


def _unknown(path: Path, error: Any) -> Iterator[_Fault]:
    known = list(error.schema["properties"])
    for key in error.instance:
        if key not in known:
            meant = near(str(key), known)
            mend = f"did you mean {listed(meant)}? " if meant else ""
            yield (*path, key), True, f"there is no key '{cut(key)}'", f"{mend}it may have {listed(known[:_MOST_KEYS])}"


def _missing(path: Path, error: Any, defs: dict[str, Any]) -> Iterator[_Fault]:
    for key in error.validator_value:
        if key not in error.instance:
            piece = error.schema["properties"][key]
            piece = {**defs.get(str(piece.get("$ref", "")).rpartition("/")[2], {}), **piece}
            such = example(piece["examples"][0]) if "examples" in piece else example(piece.get("const"))
            yield path, bool(path), f"'{key}' is missing", f"add it, such as  {key}: {such}  ({_purpose(piece)})"


def _write(piece: dict[str, Any]) -> str:
    such = listed([example(one) for one in piece.get("examples", [])[:2]])
    return f"write {such} ({_purpose(piece)})" if such else f"write {example(piece.get('const'))}"


def _purpose(piece: dict[str, Any]) -> str:
    said = str(piece.get("description", "")).partition(". ")[0].rstrip(".")
    return said[:1].lower() + said[1:]
