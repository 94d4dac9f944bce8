"""Reads a nominal size: the name a tube, valve or fitting is bought by."""

from __future__ import annotations

from plancheck.measures.kinds import Size
from plancheck.measures.spelling import HYPHENS, LONGEST, plain, take_number, words_of
from plancheck.measures.units import INCH_TENTHS_MM, MM_TENTHS_MM, length_tenths_mm

# Common practice: the copper-tube sizes that are made, by the number the name says.
INCH_NAMES = {
    0.25: "1/4",
    0.375: "3/8",
    0.5: "1/2",
    0.625: "5/8",
    0.75: "3/4",
    1.0: "1",
    1.25: "1-1/4",
    1.5: "1-1/2",
    2.0: "2",
    2.5: "2-1/2",
    3.0: "3",
    4.0: "4",
}
# Common practice: outside diameters metric tube is sold by, and nominal sizes (ISO 6708 writes DN before the number).
METRIC_MADE = (10, 12, 14, 15, 16, 17, 18, 20, 22, 25, 26, 28, 32, 35, 40, 42, 50, 54, 63)
DN_MADE = (10, 15, 20, 25, 32, 40, 50, 65, 80, 100)
MM_PER_INCH = 25.4

_MEMO: dict[str, Size] = {}
_MEMO_FULL = 1024


def read_size(value: str | float) -> Size:
    """The nominal size a plumber wrote: 1/2, 3/4", 1-1/4 in, 1/2-inch, 0.5, 16 mm, DN20, 15A (which is DN15).

    A bare number is a name in inches. Raises MeasureError for a size nobody makes, and for anything that is no size.
    """
    if type(value) is str:
        known = _MEMO.get(value)
        if known is not None:
            return known
        text = value.strip()
        found = _size(text) if len(text) <= LONGEST else None
        if found is not None:
            return _kept(value, found)
    elif type(value) in (int, float) and value in INCH_NAMES:
        return Size(INCH_NAMES[value], INCH_NAMES[value], float(value))
    elif isinstance(value, str):
        return read_size("".join(value))
    from plancheck.measures.refusals import size_refusal

    raise size_refusal(value)


def size_named(inches: float) -> str:
    """Nominal inches as one speaks of them: 3/4 in. What nobody makes is told as a number."""
    return f"{INCH_NAMES.get(inches, f'{inches:g}')} in"


def read_sizes(value: str | float) -> tuple[Size, ...]:
    """The sizes of a fitting in the order written, as in 3/4 x 3/4 x 1/2 or 3/4x1/2; one size gives a tuple of one.

    Raises MeasureError as read_size does, naming the size at fault.
    """
    if not isinstance(value, str) or len(value) > LONGEST:
        return (read_size(value),)
    return tuple([read_size(part) for part in value.replace("×", "x").replace("X", "x").split("x")])


def _kept(value: str, size: Size) -> Size:
    if len(_MEMO) >= _MEMO_FULL:
        _MEMO.clear()
    _MEMO[value] = size
    return size


def _size(text: str) -> Size | None:
    words = words_of(plain(text))
    if words[0].lower() == "dn":
        at = 2 if words[1] in HYPHENS else 1
        return _dn(text, words[at]) if not words[at + 1] else None
    if words[1] in ("A", "a") and not words[2]:
        return _dn(text, words[0])
    number, at = take_number(words, 0)
    if not at:
        return None
    if words[at] in HYPHENS:
        at += 1
        if not words[at]:
            return None
    if words[at] and words[at + 1]:
        return None
    return _named(text, number, words[at])


def _named(text: str, number: float, unit: str) -> Size | None:
    if not unit or length_tenths_mm(unit) == INCH_TENTHS_MM:
        name = INCH_NAMES.get(number)
        return Size(name, text, number) if name else None
    if length_tenths_mm(unit) == MM_TENTHS_MM and number in METRIC_MADE:
        return Size(f"{number:g} mm", text, number / MM_PER_INCH, True)
    return None


def _dn(text: str, number: str) -> Size | None:
    for made in DN_MADE:
        if number == str(made):
            return Size(f"DN{made}", text, made / MM_PER_INCH, True)
    return None
