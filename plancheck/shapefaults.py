"""What jsonschema finds wrong with a refused plan, as plain data: one fault for one cause.

The work is kept small: a thing that jsonschema-rs accepts by itself is not looked at, nor, in a list or mapping of
hundreds, an entry that it accepts.
"""

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any

import jsonschema
import jsonschema_rs

from plancheck.reading import MOST_PROBLEMS, Path
from plancheck.record import NamedTuple
from plancheck.shape import acceptor
from plancheck.shapelevels import DEFS, SCHEMA, SECTIONS, Level, levels_at
from plancheck.shapenear import nearest

_MOST_IN_ONE = 500
_MANY = 200
_FEW = 20
_SOUND: dict[str, Any] = {"plancheck": 1, "parts": {}}
_ACCEPTORS: dict[int, jsonschema_rs.Validator] = {}
_RANKS = {rule: rank for rank, rule in enumerate(("forbidden", "const", "type", "enum", "pattern", "maxItems"))}


class Fault(NamedTuple):
    """One thing wrong. path: the wrong value; or the key that is unknown, badly named or forbidden; or what lacks keys.

    rule: missing, unknown, name, forbidden, or the keyword of the schema that a value fails. value: what stands there
    (of a missing key the mapping that lacks it). levels: those of shapelevels, of a key fault down to the mapping.
    said: the keys that are missing; or in a name fault the keyword that the name fails.
    """

    path: Path
    rule: str
    value: Any
    levels: tuple[Level, ...]
    said: tuple[str, ...] = ()

    def at_key(self) -> bool:
        """Whether the fault stands at a key rather than at a value."""
        return self.rule in ("missing", "unknown", "name", "forbidden")


def find_faults(data: dict[str, Any]) -> tuple[list[Fault], int]:
    """The faults of a refused plan, looked for in file order until there are 50; and how many more things have some."""
    accept = acceptor().is_valid
    pieces = _pieces(data)
    whole, _ = next(pieces)
    of_whole = [] if accept(whole) else _faults_of(whole, 0)[0]
    found: list[Fault] = []
    unseen = 0
    for plan, number in pieces:
        if accept(plan):
            continue
        if len(found) >= MOST_PROBLEMS:
            unseen += 1
            continue
        faults, complete = _faults_of(plan, number)
        found += faults
        unseen += not complete
    return of_whole + found or [Fault((), "", data, tuple(levels_at([])))], unseen


def _pieces(data: dict[str, Any]) -> Iterator[tuple[dict[str, Any], int]]:
    """Small plans with one thing of the file each, in file order, after one with what only the whole can lack or have.

    The number is that of a list's entry, which stands first in its small plan, else 0.
    """
    yield {key: _SOUND.get(key, value) for key, value in data.items() if key in _SOUND or key not in SECTIONS}, 0
    for section, value in data.items():
        if section not in SECTIONS:
            continue
        if isinstance(value, dict) and value and "additionalProperties" in SECTIONS[section]:
            yield from (({**_SOUND, section: {name: thing}}, 0) for name, thing in value.items())
        elif isinstance(value, list) and value and "items" in SECTIONS[section]:
            yield from (({**_SOUND, section: [thing]}, number) for number, thing in enumerate(value))
        else:
            yield {**_SOUND, section: value}, 0


def _faults_of(plan: dict[str, Any], number: int) -> tuple[list[Fault], bool]:
    """The faults of a small plan, and whether these are all."""
    errors = list(islice(_Explainer(SCHEMA).iter_errors(plan), _MOST_IN_ONE + 1))
    faults = [fault for error in errors[:_MOST_IN_ONE] for fault in _from_error(error, plan)]
    if not faults:  # the two validators disagree
        faults = [Fault(_thing_of(plan), "", plan, tuple(levels_at([])))]
    if number:
        faults = [fault._replace(path=(fault.path[0], number, *fault.path[2:])) for fault in faults]
    return _one_for_one_cause(faults), len(errors) <= _MOST_IN_ONE


def _thing_of(plan: dict[str, Any]) -> Path:
    """The path of the one thing that a small plan holds."""
    for section, value in plan.items():
        if value != _SOUND.get(section):
            return (section, *value) if isinstance(value, dict) and len(value) == 1 else (section,)
    return ()


def _from_error(error: Any, plan: dict[str, Any]) -> Iterator[Fault]:
    path, steps = tuple(error.absolute_path), tuple(error.absolute_schema_path)
    levels = tuple(levels_at(steps))
    rule, value = str(error.validator), error.instance
    if error.schema is False:
        yield from _forbidden(path, steps, plan, levels)
    elif "propertyNames" in steps:
        yield Fault((*path, value), "name", value, levels, (rule,))
    elif rule == "required":
        missing = tuple(key for key in error.validator_value if key not in value)
        yield Fault(path, "missing", value, levels, missing)
    elif rule == "additionalProperties":
        known = error.schema.get("properties", {})
        yield from (Fault((*path, key), "unknown", value[key], levels) for key in value if key not in known)
    else:
        yield Fault(path, rule, value, levels)


def _forbidden(path: Path, steps: tuple[Any, ...], plan: Any, levels: tuple[Level, ...]) -> Iterator[Fault]:
    """A key whose schema is false. jsonschema stops at the word `properties` and does not say which key it was."""
    if steps[-1] != "properties":
        path = path[:-1]
    holder = plan
    for step in path:
        holder = holder[step]
    keys = {key for node in levels[-1].nodes for key, child in node.get("properties", {}).items() if child is False}
    yield from (Fault((*path, key), "forbidden", holder[key], levels) for key in sorted(keys.intersection(holder)))


def _one_for_one_cause(faults: Iterable[Fault]) -> list[Fault]:
    """Faults without those that only follow from another one."""
    found: dict[tuple[Path, bool], Fault] = {}
    for fault in faults:
        place = (fault.path, fault.rule == "missing")
        other = found.get(place)
        if other and fault.rule == "missing":
            fault = fault._replace(said=tuple(dict.fromkeys(other.said + fault.said)))  # noqa: PLW2901
        elif other and _RANKS.get(other.rule, 99) <= _RANKS.get(fault.rule, 99):
            continue
        found[place] = fault
    above = {fault.path for fault in found.values() if fault.rule in ("unknown", "forbidden")}
    kept = [fault for fault in found.values() if not any(fault.path[:end] in above for end in range(len(fault.path)))]
    settled = (_without_misspelt(fault, kept) if fault.rule == "missing" else fault for fault in kept)
    return [fault for fault in settled if fault.rule != "missing" or fault.said]


def _without_misspelt(fault: Fault, faults: list[Fault]) -> Fault:
    """A missing fault without the keys that stand there misspelt, or whose need hangs on another wrong value."""
    if any(other.path == (*fault.path, "work") for other in faults):
        return fault._replace(said=())  # a run that may be meant as removed
    unknown = [str(other.path[-1]) for other in faults if other.rule == "unknown" and other.path[:-1] == fault.path]
    if len(unknown) > _FEW:
        return fault
    meant = {nearest(key, fault.levels[-1].known()) for key in unknown}
    return fault._replace(said=tuple(key for key in fault.said if key not in meant))


def _refused(schema: Any, entries: Iterable[tuple[Any, Any]], many: bool) -> Iterable[tuple[Any, Any]]:
    """Of (name, value) pairs those whose value the schema refuses; where they are few, all of them."""
    if not many:
        return entries
    if id(schema) not in _ACCEPTORS:
        alone = {"$schema": SCHEMA["$schema"], **schema, "$defs": DEFS}
        _ACCEPTORS[id(schema)] = jsonschema_rs.validator_for(alone)
    accept = _ACCEPTORS[id(schema)].is_valid
    return ((name, value) for name, value in entries if not accept(value))


def _items(validator: Any, items: Any, instance: Any, schema: Any) -> Iterator[Any]:
    if isinstance(instance, list) and isinstance(items, dict) and "prefixItems" not in schema:
        for number, entry in _refused(items, enumerate(instance), len(instance) > _MANY):
            yield from validator.descend(entry, items, path=number)
    else:
        yield from _PLAIN["items"](validator, items, instance, schema) or ()


def _additional(validator: Any, additional: Any, instance: Any, schema: Any) -> Iterator[Any]:
    if isinstance(instance, dict) and isinstance(additional, dict):
        known = schema.get("properties", {})
        others = ((key, value) for key, value in instance.items() if key not in known)
        for key, value in _refused(additional, others, len(instance) > _MANY):
            yield from validator.descend(value, additional, path=key)
    else:
        yield from _PLAIN["additionalProperties"](validator, additional, instance, schema) or ()


def _names(validator: Any, names: Any, instance: Any, _: Any) -> Iterator[Any]:
    if isinstance(instance, dict):
        for key, _key in _refused(names, ((key, key) for key in instance), len(instance) > _MANY):
            yield from validator.descend(key, names)


_PLAIN: dict[str, Any] = dict(jsonschema.Draft202012Validator.VALIDATORS)
_extend: Any = jsonschema.validators.extend
_Explainer = _extend(
    jsonschema.Draft202012Validator, {"items": _items, "additionalProperties": _additional, "propertyNames": _names}
)
