"""Reads every other quantity: pressure, flow, volume, temperature and the rest of KINDS."""

from __future__ import annotations

from plancheck.measures.kinds import KINDS, MeasureError, Quantity, shown
from plancheck.measures.spelling import HYPHENS, LONGEST, plain, take_about, take_number, take_sign, words_of
from plancheck.measures.units import unit_factor

FREEZING_DEGF = 32.0
DEGF_PER_K = 1.8
# The least that can be: full vacuum (gauge, by the standard atmosphere), absolute zero (both with room for rounding),
# nothing. Other kinds have no least.
LEAST_SI = {
    "pressure": -101325.001,
    "temperature": -273.150001,
    "flow": 0.0,
    "volume": 0.0,
    "speed": 0.0,
    "power": 0.0,
    "duration": 0.0,
    "load": 0.0,
}
_NEED_UNIT_AT_ZERO = frozenset(("temperature",))  # 0 degF is not 0 degC
_BARE = frozenset(("load",))  # a count of fixture units can only be that
_BEFORE = {"difference": ("δt", "dt"), "load": ("wsfu", "fu")}

_MEMO: dict[tuple[str, str], Quantity] = {}
_MEMO_FULL = 4096


def read_quantity(value: str | float, kind: str) -> Quantity:
    """The quantity of this kind (one of KINDS) a plumber wrote: 60 psi, 2.5 gpm, 120 degF, 40 gal, 20 min, about 4.1 bar.

    A pressure is gauge pressure. Only 0 may stand without a unit, and not for a temperature; fixture units may too.
    Raises MeasureError for anything that has no reading, or more than one.
    """
    if type(value) is str:
        known = _MEMO.get((value, kind))
        if known is not None:
            return known
    if kind not in KINDS:
        raise MeasureError(f"{shown(str(kind))} is no kind of quantity", f"use one of {', '.join(KINDS)}")
    if type(value) is str:
        text = value.strip()
        if len(text) <= LONGEST:
            measure, about = take_about(plain(text))
            found_si = _si(words_of(measure), kind)
            if found_si is not None:
                return _kept(value, Quantity(found_si, kind, text, about))
    elif isinstance(value, str):
        return read_quantity("".join(value), kind)
    elif type(value) in (int, float) and _stands_bare(value, kind):
        return Quantity(float(value), kind, f"{value:.12g}")
    from plancheck.measures.refusals import quantity_refusal

    raise quantity_refusal(value, kind)


def _kept(value: str, quantity: Quantity) -> Quantity:
    if len(_MEMO) >= _MEMO_FULL:
        _MEMO.clear()
    _MEMO[value, quantity.kind] = quantity
    return quantity


def _stands_bare(number: float, kind: str) -> bool:
    if kind in _BARE:
        return 0 <= number < 1e6
    return number == 0 and kind not in _NEED_UNIT_AT_ZERO


def _si(words: list[str], kind: str) -> float | None:
    if kind in _BEFORE and words[0].lower() in _BEFORE[kind]:
        words = words[1:]
    start, sign = take_sign(words)
    amount, at = take_number(words, start)
    if not at:
        return None
    amount = sign * amount + 0.0  # no minus zero
    if not words[at]:
        return amount if _stands_bare(amount, kind) else None
    factor = unit_factor(kind, unit_words(words, at))
    if not factor:
        return _hours_and_minutes(words) if kind == "duration" else None
    si = celsius(amount, factor) if kind == "temperature" else amount * factor
    return si if si >= LEAST_SI.get(kind, si) else None


def unit_words(words: list[str], at: int) -> str:
    """The unit that begins at words[at], without spaces; "" for a full stop after the number (6. psi)."""
    if not words[at + 1]:
        return words[at]
    if words[at] == ".":
        return ""
    if words[at] in HYPHENS:  # a 40-gal tank
        at += 1
    return "".join(words[at:]).replace(" ", "")


def _hours_and_minutes(words: list[str]) -> float | None:
    """1 h 30 min: whole hours, then a count of a smaller unit that does not fill another hour."""
    total_s, at, larger_s = 0.0, 0, 0.0
    while words[at]:
        amount, at = take_number(words, at)
        unit_s = unit_factor("duration", words[at]) if at else 0.0
        if not unit_s or (larger_s and (amount * unit_s >= larger_s or total_s % larger_s)):
            return None
        total_s, at, larger_s = total_s + amount * unit_s, at + 1, unit_s
    return total_s


def celsius(amount: float, factor: float) -> float:
    """degC of an amount in the unit whose degree is worth factor degC."""
    return amount if factor == 1.0 else (amount - FREEZING_DEGF) / DEGF_PER_K
