"""How wide text is drawn. Widths of Helvetica's printable ASCII in thousandths of its size (Adobe's published metrics for
its standard 14 fonts, from memory); Arial and Liberation Sans share them. Other letters count as wide ones."""

from __future__ import annotations

from plancheck.drawing.svg import Box

_WIDE = 1.0
_WIDTHS = (
    "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 "  # space to /
    "556 556 556 556 556 556 556 556 556 556 278 278 584 584 584 556 "  # 0 to ?
    "1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 "  # @ to O
    "667 778 722 667 611 722 667 944 667 667 611 278 278 278 469 556 "  # P to _
    "333 556 556 500 556 556 278 556 556 222 222 500 222 833 556 556 "  # ` to o
    "556 556 333 500 278 556 500 722 500 500 500 334 260 334 584"  # p to ~
)
_EM = {chr(32 + place): int(width) / 1000 for place, width in enumerate(_WIDTHS.split())}
_UP, _DOWN = 0.74, 0.21  # how far letters reach over and under the baseline
ELLIPSIS = "\u2026"


def width(text: str, size: float) -> float:
    """The width of a line of text at a letter size, in the unit of the size. Bold is a tenth wider at most."""
    return size * sum(_EM.get(sign, _WIDE) for sign in text)


def box_of(x: float, y: float, text: str, size: float, anchor: str = "start") -> Box:
    """The box around a line of text whose baseline begins, is centred or ends at (x, y)."""
    wide = width(text, size)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    return Box(left, y - _UP * size, left + wide, y + _DOWN * size)


def shortened(text: str, size: float, most: float) -> str:
    """The text, cut with an ellipsis where it would be wider than `most`."""
    if width(text, size) <= most:
        return text
    room, kept = most - _WIDE * size, 0.0
    for place, sign in enumerate(text):
        kept += size * _EM.get(sign, _WIDE)
        if kept > room:
            return text[:place].rstrip() + ELLIPSIS
    return text


def wrapped(text: str, size: float, most: float) -> tuple[str, ...]:
    """The text as lines no wider than `most`, broken at spaces; a word that is too wide is cut with an ellipsis."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size) <= most:
            lines[-1] = longer
        else:
            lines.append(shortened(word, size, most))
    return tuple(lines)
