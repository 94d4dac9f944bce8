"""What is wrong with a value and how to mend it, in a plumber's words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from plancheck.measures.examples import readings
from plancheck.shapefaults import Fault
from plancheck.shapekeys import name_trouble
from plancheck.shapelevels import DEFS, Level
from plancheck.shapenear import near
from plancheck.shapesay import example, expected, found, listed

Words = tuple[str, str]

_NOT_HERE = "cannot stand here"
_TRUE = ("true", "yes", "on", "y")
_FALSE = ("false", "no", "off", "n")
_MOST_WORDS = 10
_MEASURES = ("length", "pressure", "flow", "volume", "temperature", "power", "duration")
_LENGTHS = ("elevation", "lengths")


def value_words(fault: Fault) -> Words:
    """(what was found, how to mend it) for a fault of a value."""
    return _BY_RULE.get(fault.rule, _other)(fault.value, fault.levels[-1])


def _other(value: Any, level: Level) -> Words:
    return f"{found(value)} {_NOT_HERE}", f"write {expected(level)}"


def _version(value: Any, level: Level) -> Words:
    mend = "write  plancheck: 1"
    if str(value).strip() == "1":
        return "the version is text here, not a number", f"{mend}  without quotes"
    return f"{found(value)} is not a version of the plan file that is known here", mend


def _type(value: Any, level: Level) -> Words:
    types = level.said("type") or ()
    says = f"{found(value)} {_NOT_HERE}"
    if isinstance(value, (bool, int, float)) and level.names[-1:] and level.names[-1] in _NAMING:
        return f"{found(value)} is not text", f"write {expected(level)}; if {found(value)} is meant, put it in quotes"
    if isinstance(value, float) and "integer" in types:
        says = f"{found(value)} is not a whole number"
    if isinstance(value, list) and len(value) == 1 and not isinstance(value[0], (list, dict)) and "string" in types:
        return says, f"leave out the square brackets: write {expected(level)}"
    if isinstance(value, str) and "part" in level.names and value in DEFS["kind"]["enum"]:
        return says, f"write {{is: {value}}}"
    return says, f"write {expected(level)}"


_NAMING = ("text", "short_text", "id", "id_or_unknown", "connection", "connection_or_unknown")


def _word(value: Any, level: Level) -> Words:
    words = level.said("enum")
    says = f"there is no kind {found(value)}" if "kind" in level.names else f"{found(value)} means nothing here"
    if not isinstance(value, str):
        return f"{found(value)} {_NOT_HERE}", f"write {expected(level)}"
    if not value.strip():
        return f"a blank text {_NOT_HERE}", f"write {expected(level)}, or leave the key out"
    if True in words and value.strip().lower() in _TRUE + _FALSE:
        truth = "true" if value.strip().lower() in _TRUE else "false"
        if truth == "true" or False in words:
            return f"{found(value)} is text here", f"write {truth} without quotes"
    meant = near(value, [word for word in words if isinstance(word, str)])
    if meant and len(words) > _MOST_WORDS:
        return says, f"did you mean {listed(meant)}?"
    asked = f"did you mean {listed(meant)}? " if meant else ""
    return says, f"{asked}write {expected(level)}"


def _no_unit(value: Any, level: Level) -> Words:
    if "count" in level.names:
        return f"{found(value)} is below 0", f"write {expected(level)}"
    number, size = found(value), abs(float(value))
    kind = next((name for name in level.names if name in _MEASURES), "length")
    if level.said("title") == "Reads":
        return f"{number} has no unit", f"{number} psi or {number} gpm? write the unit"
    return f"{number} has no unit", f"{readings(number, size, kind)}? write the unit"


def _pattern(value: Any, level: Level) -> Words:
    if not str(value).strip():
        return f"a blank text {_NOT_HERE}", f"write {expected(level)}, or leave the key out"
    for name in reversed(level.names):
        if name in _PATTERNS:
            return _PATTERNS[name](value, level)
    if level.said("pattern") == DEFS["id"]["pattern"]:
        return _one_name(value, level)
    if level.said("pattern") == "^/":
        return f"{found(value)} does not begin with a slash", f"write {expected(level)}"
    return f"{found(value)} {_NOT_HERE}", f"write {expected(level)}"


def _text_for_more(value: str, level: Level) -> Words:
    """Text where a list or keys belong, or none."""
    meant = near(value, ("none", "not known"))
    asked = f"did you mean {listed(meant)}? " if meant else ""
    types = level.said("type")
    if not asked and "array" in types and "object" not in types and "point" not in level.names:
        inside = ", ".join(piece.strip() for piece in value.split(",")) if len(value) < 60 else "..."
        return f"{found(value)} stands where a list belongs", f"put it in square brackets, such as [{inside}]"
    return f"{found(value)} {_NOT_HERE}", f"{asked}write {expected(level)}"


def _one_name(value: str, level: Level) -> Words:
    if value in ("none", "not known"):
        return f"{found(value)} {_NOT_HERE}", f"write {expected(level)}"
    return f"{found(value)} {name_trouble(value)}", f"write {expected(level)}"


def _connection(value: str, level: Level) -> Words:
    part, slash, side = value.partition("/")
    if value in ("none", "not known"):
        trouble = _NOT_HERE
    elif "/" in side:
        trouble = "has more than one slash"
    elif slash and not (part and side):
        trouble = f"has nothing {'after' if part else 'before'} its slash"
    else:
        trouble = name_trouble(part + side)
    return f"{found(value)} {trouble}", f"write {expected(level)}"


def _day(value: str, level: Level) -> Words:
    meant = _days(value)
    asked = f"did you mean {listed(meant)}? " if meant else ""
    return f"{found(value)} is no day as a plan writes it", f"{asked}write {expected(level)}"


def _days(text: str) -> list[str]:
    """The days that a text of three numbers may mean."""
    numbers = "".join(sign if sign.isascii() and sign.isdigit() else " " for sign in text[:40]).split()
    if len(numbers) != 3:
        return []
    if len(numbers[0]) == 4:
        tried = [numbers, [numbers[0], numbers[2], numbers[1]]]
    else:
        tried = [[numbers[2], numbers[0], numbers[1]], [numbers[2], numbers[1], numbers[0]]]
    good = [
        f"{year}-{int(month):02}-{int(day):02}"
        for year, month, day in tried
        if len(year) == 4 and 1 <= int(month) <= 12 and 1 <= int(day) <= 31
    ]
    return sorted(set(good[:1] if len(numbers[0]) == 4 else good))


def _whole_number(value: str, level: Level) -> Words:
    return f"{found(value)} is not a whole number", f"write {expected(level)}, without quotes"


def _too_long(value: Any, level: Level) -> Words:
    return f"{found(value)} has {len(value):,} characters", f"use at most {level.said('maxLength')}"


def _too_few(value: list[Any], level: Level) -> Words:
    least, most = level.said("minItems") or 0, level.said("maxItems")
    if not value:
        return f"an empty list {_NOT_HERE}", f"write {expected(level)}; or leave the key out"
    amount = f"{len(value)} {'entry stands' if len(value) == 1 else 'entries stand'} here where {most or least} belong"
    if "point" in level.names:
        point = example(DEFS["point"]["examples"][0])
        return amount, f"write how far east, north and up, such as {point}"
    return amount, f"write {expected(level)}"


def _no_keys(value: Any, level: Level) -> Words:
    keys = listed(level.known()) or "names"
    return f"a group without keys {_NOT_HERE}", f"write {keys}, or leave it out"


_PATTERNS: dict[str, Callable[[Any, Level], Words]] = {
    "or_none": _text_for_more,
    "id": _one_name,
    "id_or_unknown": _one_name,
    "connection": _connection,
    "connection_or_unknown": _connection,
    "date": _day,
    "count": _whole_number,
}
_BY_RULE: dict[str, Callable[[Any, Level], Words]] = {
    "": lambda value, level: ("something in it is not as a plan has it", "compare it with a plan that is accepted"),
    "const": _version,
    "type": _type,
    "enum": _word,
    "minimum": _no_unit,
    "maximum": _no_unit,
    "pattern": _pattern,
    "maxLength": _too_long,
    "minItems": _too_few,
    "maxItems": _too_few,
    "minProperties": _no_keys,
}
