"""Signs of a drawing that are no parts: bodies of manifolds, what is made up directly, arrows, floors. For its legend."""

from __future__ import annotations

from plancheck.drawing.svg import element, line, number
from plancheck.drawing.waters import WIDTH_MM

GREY = "#4d585c"


def small_valve(x: float, y: float, dx: float, dy: float, closed: bool) -> str:
    """The valve of a port: two triangles point to point along (dx, dy), a step of length one; filled where it is kept closed."""
    ax, ay, bx, by = 1.3 * dx, 1.3 * dy, -0.9 * dy, 0.9 * dx
    ends = [
        (x - ax + bx, y - ay + by),
        (x - ax - bx, y - ay - by),
        (x + ax + bx, y + ay + by),
        (x + ax - bx, y + ay - by),
    ]
    path = "M" + "L".join(f"{number(px)} {number(py)}" for px, py in (*ends[:2], *ends[2:])) + "Z"
    return element(
        "path",
        d=path,
        fill="#000000" if closed else "#ffffff",
        stroke="#000000",
        stroke_width=0.3,
        stroke_linejoin="round",
    )


def arrow_head(x: float, y: float, dx: float, dy: float) -> str:
    """An arrow with the flow, its tip ahead of (x, y)."""
    tip, back = (x + 1.4 * dx, y + 1.4 * dy), (x - 1.2 * dx, y - 1.2 * dy)
    path = f"M{number(tip[0])} {number(tip[1])}L{number(back[0] - 1.1 * dy)} {number(back[1] + 1.1 * dx)}L{number(back[0] + 1.1 * dy)} {number(back[1] - 1.1 * dx)}Z"
    return element("path", d=path, fill="#000000")


def level_sign(x: float, y: float) -> str:
    """The triangle that stands on a level."""
    return element("path", d=f"M{number(x)} {number(y)}l-1.1 -1.9h2.2z", fill="#000000")


def _row(x: float, y: float) -> str:
    dots = "".join(element("circle", cx=x + step, cy=y, r=0.8, fill="#000000") for step in (2.5, 6, 9.5))
    return line(((x + 1, y), (x + 11, y)), stroke="#000000", stroke_width=1.2, stroke_linecap="round") + dots


def _ring(x: float, y: float) -> str:
    way = ((x + 1, y), (x + 2, y - 2), (x + 10, y - 2), (x + 11, y))
    return _row(x, y) + line(way, stroke="#000000", stroke_width=0.8, stroke_linejoin="round")


def _direct(x: float, y: float) -> str:
    return line(((x, y), (x + 12, y)), stroke="#000000", stroke_width=WIDTH_MM)


def _port_valve(x: float, y: float) -> str:
    return line(((x, y), (x + 12, y)), stroke="#000000", stroke_width=0.3) + small_valve(x + 6, y, 1.0, 0.0, False)


def _arrow(x: float, y: float) -> str:
    return line(((x, y), (x + 12, y)), stroke="#000000", stroke_width=0.3) + arrow_head(x + 6, y, 1.0, 0.0)


def _floor(x: float, y: float) -> str:
    return line(((x, y), (x + 12, y)), stroke=GREY, stroke_width=0.25, stroke_dasharray="1.4 1") + level_sign(x + 6, y)


def open_end(x: float, y: float) -> str:
    """An end that nothing closes."""
    return element("circle", cx=x, cy=y, r=0.9, fill="#ffffff", stroke="#000000", stroke_width=0.35)


DRAWN = {
    "row": ("manifold, its ports as dots", _row),
    "ring": ("manifold closed to a ring", _ring),
    "port valve": ("valve at a port (black: kept closed)", _port_valve),
    "direct": ("made up directly, no tube", _direct),
    "arrow": ("the way water flows", _arrow),
    "floor": ("floor of a storey, with its level", _floor),
}


def sign(kind: str, x: float, y: float) -> tuple[str, str]:
    """The sign drawn from (x, y) on, twelve millimetres wide, and its name."""
    name, draw = DRAWN[kind]
    return draw(x, y), name
