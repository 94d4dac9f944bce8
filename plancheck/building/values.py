"""Single values of a plan into typed ones. Each reader takes what stands in the file and raises BadValue."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from plancheck.measures import Length, MeasureError, Quantity, Size, read_length, read_quantity, read_size
from plancheck.model import NONE, NOT_KNOWN, Reach, SaidLength, SaidQuantity, SaidSize

Reader = Callable[[Any], Any]
Table = Mapping[str, tuple[str, Reader]]  # key in the file -> (field, reader)
Bad = tuple[tuple[str | int, ...], str, str]  # path below the thing, what was found, how to mend it
T = TypeVar("T")
_WORDS = (NONE, NOT_KNOWN)
_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


class BadValue(ValueError):
    """Values that cannot be taken: bad holds one entry each."""

    def __init__(self, *bad: Bad) -> None:
        super().__init__(bad)
        self.bad = bad


def fill(cls: Callable[..., T], table: Table, data: Mapping[str, Any], **more: Any) -> T:
    """The record made of the keys the table knows. Raises BadValue with every value that cannot be taken."""
    bad: list[Bad] = []
    for key, value in data.items():
        entry = table.get(key)
        if entry is not None:
            try:
                more[entry[0]] = entry[1](value)
            except MeasureError as wrong:
                bad.append(((key,), wrong.says, wrong.mend))
            except BadValue as wrong:
                bad.extend(((key, *path), says, mend) for path, says, mend in wrong.bad)
    if bad:
        raise BadValue(*bad)
    return cls(**more)


def same(value: Any) -> Any:
    """Text, a number or true/false as it stands."""
    return value


def text(value: Any) -> str:
    """Text; a bare number as its digits."""
    return value if isinstance(value, str) else str(value)


def number_or_words(value: Any) -> Any:
    """A number, or none / not known."""
    return value


def exact_length(value: Any) -> Length:
    """A length. Raises BadValue for one below zero."""
    found = read_length(value)
    if found.m < 0:
        raise BadValue(((), f"'{found.text}' is below zero", "write how long it is; only levels, rises and heights go below"))
    return found


def signed_length(value: Any) -> SaidLength:
    """A length that may lie below zero (a level, a rise, a height), or none / not known."""
    return value if value in _WORDS else read_length(value)


def length(value: Any) -> SaidLength:
    """A length, or none / not known. Raises BadValue for one below zero."""
    return value if value in _WORDS else exact_length(value)


def size(value: Any) -> SaidSize:
    """A nominal size, or none / not known."""
    return value if value in _WORDS else read_size(value)


def part_size(value: Any) -> SaidSize | tuple[Size, ...]:
    """A nominal size, or three of them as a tee has (in x out x branch)."""
    if isinstance(value, str) and " x " in value:
        return tuple(read_size(one.strip()) for one in value.split(" x "))
    return size(value)


def sleeve(value: Any) -> Any:
    """A sleeve: a nominal size, true or false, or a word (none, arch, conduit ell, bend support, not known)."""
    if isinstance(value, bool) or (isinstance(value, str) and value[:1].isalpha() and not value.startswith("DN")):
        return value
    return read_size(value)


def quantity(kind: str) -> Reader:
    """A reader of quantities of the kind, or none / not known."""

    def read(value: Any) -> SaidQuantity:
        return value if value in _WORDS else read_quantity(value, kind)

    return read


PRESSURE = quantity("pressure")
FLOW = quantity("flow")
VOLUME = quantity("volume")
TEMPERATURE = quantity("temperature")
POWER = quantity("power")
DURATION = quantity("duration")


def efficiency(value: Any) -> float | str:
    """A bare figure above 0, 5 at most (a heat pump gives more than it takes), or none / not known. Raises BadValue."""
    if value in _WORDS:
        return str(value)
    try:
        found = float(text(value))
    except ValueError:
        found = 0.0
    if not 0 < found <= 5:
        raise BadValue(((), f"'{value}' is no efficiency", "write a bare figure above 0, such as 0.82, or not known"))
    return found


def lengths(value: Any) -> tuple[Length, ...] | str:
    """A list of lengths, or a word."""
    return each(exact_length)(value) if isinstance(value, list) else text(value)


def texts(value: Any) -> tuple[str, ...] | str:
    """A list of texts, or one text."""
    return tuple(text(one) for one in value) if isinstance(value, list) else text(value)


def each(read: Reader) -> Reader:
    """A reader of lists whose entries the given reader takes."""

    def read_each(value: Any) -> tuple[Any, ...]:
        found: list[Any] = []
        bad: list[Bad] = []
        for number, one in enumerate(value):
            try:
                found.append(read(one))
            except MeasureError as wrong:
                bad.append(((number,), wrong.says, wrong.mend))
            except BadValue as wrong:
                bad.extend(((number, *path), says, mend) for path, says, mend in wrong.bad)
        if bad:
            raise BadValue(*bad)
        return tuple(found)

    return read_each


def list_of(read: Reader) -> Reader:
    """A reader of lists that may also be none (an empty list) or not known (None)."""
    read_each = each(read)

    def read_list(value: Any) -> tuple[Any, ...] | None:
        if isinstance(value, list):
            return tuple(read_each(value))
        return () if value == NONE else None

    return read_list


def mapping_of(read: Reader) -> Reader:
    """A reader of mappings whose values the given reader takes."""

    def read_mapping(value: Any) -> dict[str, Any]:
        found: dict[str, Any] = {}
        bad: list[Bad] = []
        for key, one in value.items():
            try:
                found[key] = read(one)
            except MeasureError as wrong:
                bad.append(((key,), wrong.says, wrong.mend))
        if bad:
            raise BadValue(*bad)
        return found

    return read_mapping


def pressure_or_flow(value: Any) -> SaidQuantity:
    """What a gauge or a bucket reads: a pressure or a flow."""
    if value in _WORDS:
        return str(value)
    try:
        return read_quantity(value, "pressure")
    except MeasureError as wrong:
        try:
            return read_quantity(value, "flow")
        except MeasureError:
            raise wrong from None


def record(cls: Callable[..., Any], table: Table) -> Reader:
    """A reader of a mapping into the record; a word stays text."""

    kept: dict[int, tuple[Any, Any]] = {}  # the same mapping of the defaults is read for many things

    def read(value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        found = kept.get(id(value))
        if found is None or found[0] is not value:
            if len(kept) > 1000:
                kept.clear()
            found = kept[id(value)] = value, fill(cls, table, value)
        return found[1]

    return read


def date(value: Any) -> str:
    """A day written 2026-04-02. Raises BadValue where there is no such day."""
    if value in _WORDS:
        return str(value)
    said = text(value).removeprefix("about ")
    year, month, day = (int(part) if part.isdigit() else 0 for part in (said[:4], said[5:7], said[8:]))
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    if not (1 <= month <= 12 and 1 <= day <= _DAYS[month - 1] and (leap or (month, day) != (2, 29))):
        raise BadValue(((), f"'{said}' is no day of the calendar", "write year-month-day, such as 2026-04-02"))
    return text(value)


def reach(value: Any) -> Reach | str:
    """How one gets at a thing: open, panel 14 x 14 in, none, not known."""
    said = text(value)
    if said == NOT_KNOWN:
        return said
    if said in (NONE, "open", "panel"):
        return Reach(said)
    body = said.removeprefix("panel").strip()
    width, cross, height = body.partition(" x ")
    if not said.startswith("panel ") or not cross:
        raise BadValue(((), f"'{said}' does not say how one gets at it", "write open, panel 14 x 14 in, or none"))
    tall = read_length(height)
    unit = height.lstrip("0123456789 ./-")
    wide = read_length(width if any(letter.isalpha() or letter in "'\"" for letter in width) else f"{width} {unit}")
    return Reach("panel", wide.m, tall.m)


def quantity_si(value: SaidQuantity) -> float | None:
    """The SI value of a quantity that is said, else None."""
    return value.si if isinstance(value, Quantity) else None
