"""How a pipe is drawn by the water it carries: dashes that tell waters apart in black and white, a colour on top.

Cold is a long dash and a dot, hot a long dash and two dots, hot return a long dash and three dots (US Navy training
course 14069 citing ANSI Y32.4-1977: read; return: common practice). Millimetres on paper; a dot is a dash of no length
with round ends.
"""

from __future__ import annotations

from plancheck.record import NamedTuple

WIDTH_MM = 0.7
_LONG, _GAP = 6.0, 1.5


class Look(NamedTuple):
    """How one water is drawn and what its line is called. dashes: for stroke-dasharray, empty for a plain line."""

    name: str
    code: str
    dashes: str
    colour: str
    class_: str


def _dashes(dots: int) -> str:
    return " ".join(str(piece) for piece in (_LONG, _GAP, *(0.01, _GAP) * dots))


LOOKS = {
    "cold": Look("Cold water", "CW", _dashes(1), "#1f5fa8", "cold"),
    "hot": Look("Hot water", "HW", _dashes(2), "#b3261e", "hot"),
    "hot return": Look("Hot water return", "HWR", _dashes(3), "#8a3ca0", "return"),
    "mixed": Look("Mixed (tempered) water", "TW", "3 1.5", "#9a5b00", "mixed"),
    "not potable": Look("Water not for drinking", "NP", "1.2 1.2", "#4f6b00", "not-potable"),
}
UNKNOWN = Look("Pipe with no water traced", "", "", "#555555", "untraced")


def look_of(service: str | None) -> Look:
    """How water of a service is drawn; a plain grey line where none is traced."""
    return LOOKS.get(service or "", UNKNOWN)
