"""Writing SVG: elements as text, every text of the plan escaped, numbers short. Units of a drawing are millimetres on paper.

A picture is plain presentation attributes and classes, without style elements or scripts: a page that holds it may
forbid both and colour it by its own style sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import pairwise

from plancheck.record import NamedTuple
from plancheck.report.page import clean

FONT = "Arial, Helvetica, 'Liberation Sans', sans-serif"
_UNSAFE = re.compile(r"""[^ !#-%(-;=?-~]""")  # all but plain letters, figures and signs that XML takes as they are
_NAMES = {"class_": "class", "font_size": "font-size"}


class Box(NamedTuple):
    """A rectangle on the paper, in millimetres; y goes down."""

    left: float
    top: float
    right: float
    bottom: float


class Segment(NamedTuple):
    """A straight piece of a drawn line, in millimetres."""

    x1: float
    y1: float
    x2: float
    y2: float


class Picture(NamedTuple):
    """One drawing. svg: one whole <svg> element; labels and lines: where texts and pipes stand, for tests on collisions.

    about: what the picture shows, in a sentence, for those who cannot see it (it is the picture's description too).
    """

    name: str
    title: str
    about: str
    svg: str
    width_mm: float
    height_mm: float
    labels: tuple[tuple[str, Box], ...] = ()
    lines: tuple[Segment, ...] = ()


def overlaps(one: Box, other: Box) -> bool:
    """Whether two boxes share more than an edge."""
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


def crosses(box: Box, line: Segment) -> bool:
    """Whether a straight piece passes through a box (clipping by its four sides)."""
    low, high = 0.0, 1.0
    for start, run, least, most in (
        (line.x1, line.x2 - line.x1, box.left, box.right),
        (line.y1, line.y2 - line.y1, box.top, box.bottom),
    ):
        if run == 0:
            if not least < start < most:
                return False
            continue
        one, other = sorted(((least - start) / run, (most - start) / run))
        low, high = max(low, one), min(high, other)
    return low < high


def escape(text: str) -> str:
    """Text of a plan as data: control characters shown as signs, then the five characters of XML escaped."""
    if not _UNSAFE.search(text):  # nearly every text, and every attribute
        return text
    safe = clean(text)
    for sign, name in (("&", "amp"), ("<", "lt"), (">", "gt"), ('"', "quot"), ("'", "apos")):
        safe = safe.replace(sign, f"&{name};")
    return safe


def number(value: float) -> str:
    """A coordinate to a hundredth, without useless zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"


def element(name: str, children: Iterable[str] | str = (), /, **attributes: str | float | None) -> str:
    """One element. Attributes named with an underscore are written with a hyphen (class_ is class); None is left out.

    children are elements already written; text comes from `words`.
    """
    said = "".join(
        f' {_NAMES.get(key, key.replace("_", "-"))}="{escape(value) if isinstance(value, str) else number(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    inside = children if isinstance(children, str) else "".join(children)
    return f"<{name}{said}>{inside}</{name}>" if inside else f"<{name}{said}/>"


def words(x: float, y: float, text: str, size_mm: float = 2.5, **attributes: str | float | None) -> str:
    """A line of text with its baseline at (x, y)."""
    return element("text", escape(text), x=x, y=y, font_size=size_mm, **attributes)


def line(points: Iterable[tuple[float, float]], **attributes: str | float | None) -> str:
    """A line through points."""
    path = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return element("polyline", points=path, fill="none", **attributes)


def segments(points: Iterable[tuple[float, float]]) -> tuple[Segment, ...]:
    """The straight pieces of a line through points."""
    return tuple(Segment(*a, *b) for a, b in pairwise(points))


def whole(
    name: str, title: str, about: str, width_mm: float, height_mm: float, children: Iterable[str], linked: bool = False
) -> str:
    """The svg element around a drawing, with its title and description for those who cannot see it.

    linked: there are links in it, so that it is a group and no single image.
    """
    inside = (
        element("title", escape(title), id=f"{name}-title"),
        element("desc", escape(about), id=f"{name}-about"),
        *children,
    )
    return element(
        "svg",
        inside,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width_mm)} {number(height_mm)}",
        width=f"{number(width_mm)}mm",
        height=f"{number(height_mm)}mm",
        role="group" if linked else "img",
        aria_labelledby=f"{name}-title {name}-about",
        font_family=FONT,
        class_="drawing",
    )
