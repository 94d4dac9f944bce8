"""The value of an amendment as the limit needs it: SI, or words."""

from __future__ import annotations

from plancheck.limits import FAMILIES, Limit
from plancheck.measures import KINDS, US, MeasureError, read_length, read_quantity
from plancheck.outcomes import Measured

_WIDEST = 1000.0  # so many times the values that are carried, or such a part of them, can only be a slip
_COLDEST_C, _HOTTEST_C = -40.0, 150.0


def carried(limit: Limit) -> list[float | str]:
    """All values a limit carries, of every family and of practice."""
    return [value.value for family in (*FAMILIES, "practice") for value in getattr(limit, family)]


def is_words(limit: Limit) -> bool:
    """Whether the limit is a demand in words."""
    return limit.unit == "text" or any(isinstance(value, str) for value in carried(limit))


def read_value(limit: Limit, value: str | float) -> float | str:
    """The value in SI, or as words. Raises MeasureError where it is no value the limit can have."""
    if is_words(limit):
        if isinstance(value, str):
            return value.strip()
        raise MeasureError(f"{value} is a figure, and this limit is a demand in words", "write what is demanded")
    si = _measure(limit, value)
    _check_possible(limit, value, si)
    return si


def _measure(limit: Limit, value: str | float) -> float:
    if limit.unit == "length":
        length = read_length(value)
        return _sure(length.m, length.about, value)
    if limit.unit in KINDS:
        quantity = read_quantity(value, limit.unit)
        return _sure(quantity.si, quantity.about, value)
    if isinstance(value, str):
        raise MeasureError(f"'{value[:60]}' is no bare figure", f"write a figure alone, such as {_such(limit)}")
    try:
        return float(value)
    except OverflowError:
        raise MeasureError("the figure is too large", f"write one such as {_such(limit)}") from None


def _sure(si: float, about: bool, value: str | float) -> float:
    if about:
        raise MeasureError(f"'{value}' is an estimate, and a limit is none", "write it without about")
    return si


def _check_possible(limit: Limit, value: str | float, si: float) -> None:
    mend = f"write a value such as {_such(limit)}"
    if limit.unit == "temperature":
        possible = _COLDEST_C <= si <= _HOTTEST_C
    elif si <= 0:
        possible = si == 0 and (limit.sense == "at most" or 0.0 in carried(limit))
        mend = "write what is asked for; to switch the limit off write  judged: false"
    else:
        sizes = [abs(one) for one in carried(limit) if not isinstance(one, str) and one]
        possible = all(size / _WIDEST <= si <= size * _WIDEST for size in sizes)
    if not possible:
        raise MeasureError(f"{value} cannot be the value of '{limit.title}'", mend)


def _such(limit: Limit) -> str:
    from plancheck.report.figures import figure

    values = carried(limit)
    return figure(Measured(values[0], limit.unit), US).words if values else f"1 ({limit.unit})"
