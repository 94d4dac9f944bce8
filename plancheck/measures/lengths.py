"""Reads a length."""

from __future__ import annotations

from plancheck.measures.kinds import Length
from plancheck.measures.spelling import (
    HYPHENS,
    LONGEST,
    plain,
    starts_number,
    take_about,
    take_number,
    take_sign,
    words_of,
)
from plancheck.measures.units import FOOT_TENTHS_MM, INCH_TENTHS_MM, TENTHS_MM_PER_M, length_tenths_mm

_MEMO: dict[str, Length] = {}
_MEMO_FULL = 4096
_BEFORE = frozenset(("@", "max", "max."))
_AFTER = frozenset(("", "oc", "oncenter", "oncentre", "oncenters", "oncentres"))


def read_length(value: str | float) -> Length:
    """The length a plumber wrote, in metres: 18 in, 3 ft 6-1/2 in, 3'-6 1/2", 32 in o.c., 813 mm, 1.2 m, about 45 ft, 0.

    Only 0 may stand without a unit. Raises MeasureError for anything that has no reading, or more than one.
    """
    if type(value) is str:
        known = _MEMO.get(value)
        if known is not None:
            return known
        text = value.strip()
        if len(text) <= LONGEST:
            measure, about = take_about(plain(text))
            found_m = _metres(words_of(measure))
            if found_m is not None:
                return _kept(value, Length(found_m, text, about))
    elif type(value) in (int, float) and value == 0:
        return Length(0.0, "0")
    elif isinstance(value, str):
        return read_length("".join(value))  # a reader's own kind of text, made plain
    from plancheck.measures.refusals import length_refusal

    raise length_refusal(value)


def _kept(value: str, length: Length) -> Length:
    if len(_MEMO) >= _MEMO_FULL:
        _MEMO.clear()
    _MEMO[value] = length
    return length


def _metres(words: list[str]) -> float | None:
    if words[0].lower() in _BEFORE:
        words = words[1:]
    start, sign = take_sign(words)
    amount, at = take_number(words, start)
    if not at:
        return None
    if amount == 0.0 and not words[at]:
        return 0.0
    if words[at] in HYPHENS:  # 6-inch
        at += 1
    unit = length_tenths_mm(words[at])
    at += 1
    total = amount * unit
    if unit == FOOT_TENTHS_MM:
        inches, at = _inches_after_feet(words, at, amount)
        total += inches * INCH_TENTHS_MM
    if not unit or not at or not _ends(words, at):
        return None
    return sign * total / TENTHS_MM_PER_M + 0.0  # no minus zero


def _inches_after_feet(words: list[str], at: int, feet: float) -> tuple[float, int]:
    """The inches that follow feet and the position after them; 0 inches if none follow, position 0 if they are wrong."""
    joined = at + 1 if words[at] in HYPHENS or words[at] == "," else at
    if not starts_number(words[joined]):
        return 0.0, at
    inches, at = take_number(words, joined)
    if not at or inches >= 12 or not feet.is_integer():
        return 0.0, 0
    if words[at] in HYPHENS:
        at += 1
    return (inches, at + 1) if length_tenths_mm(words[at]) == INCH_TENTHS_MM else (0.0, 0)


def _ends(words: list[str], at: int) -> bool:
    return not words[at] or "".join(words[at:]).lower().replace(".", "") in _AFTER
