"""Which device standards a text names: ASSE numbers, and their CSA and ASME twins under the same number."""

from __future__ import annotations

from functools import cache

_TWINS = {"b125.16": "1016", "b125.3": "1070", "b125.70": "1070", "a112.1016": "1016", "a112.1070": "1070"}


@cache
def numbers_in(text: str) -> frozenset[str]:
    """The ASSE numbers in a text (10 and two digits), 1016 in `ASSE 1016`; those of twins for their twin's."""
    small = "".join(text.lower().split())
    digits = "".join(letter if letter.isdigit() else " " for letter in text).split()
    found = {one for one in digits if len(one) == 4 and one.startswith("10")}
    found.update(number for twin, number in _TWINS.items() if _names(small, twin))
    return frozenset(found)


def _names(text: str, twin: str) -> bool:
    """Whether the twin stands in the text, and not as the beginning of a longer number."""
    _, met, rest = text.partition(twin)
    return bool(met) and not rest[:1].isdigit()
