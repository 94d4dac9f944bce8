"""Symbols of parts in the manner of ISO 14617 (shapes from memory; ISO 6412 for lines): plain, black, filled where it tells.

Each is drawn around (0, 0) in millimetres and moved to its place; the legend of every drawing says what each is.
"""

from __future__ import annotations

from collections.abc import Callable

from plancheck.drawing.letters import box_of
from plancheck.drawing.svg import Box, element, number, words
from plancheck.model import Part, ValveOwn
from plancheck.record import NamedTuple

INK, PAPER = "#000000", "#ffffff"
_THIN = 0.35


class Glyph(NamedTuple):
    """A symbol: what it is called in the legend, how far it reaches from its middle, how it is drawn."""

    name: str
    wide: float
    high: float
    draw: Callable[[], str]


def _shape(path: str, fill: str = PAPER) -> str:
    return element("path", d=path, fill=fill, stroke=INK, stroke_width=_THIN, stroke_linejoin="round")


def _bow(fill: str = PAPER, second: str | None = None) -> str:
    """Two triangles point to point."""
    return _shape("M-2.2 -1.5L0 0L-2.2 1.5Z", fill) + _shape("M2.2 -1.5L0 0L2.2 1.5Z", second or fill)


def _circle(radius: float, text: str = "", fill: str = PAPER) -> str:
    ring = element("circle", cx=0, cy=0, r=radius, fill=fill, stroke=INK, stroke_width=_THIN)
    return ring + (words(0, 0.75, text, 2.1, text_anchor="middle", fill=INK) if text else "")


def _boxed(text: str, wide: float = 7.0, high: float = 4.0) -> str:
    box = element("rect", x=-wide / 2, y=-high / 2, width=wide, height=high, fill=PAPER, stroke=INK, stroke_width=_THIN)
    return box + words(0, 0.8, text, 2.2, text_anchor="middle", fill=INK)


def _heater() -> str:
    body = element("rect", x=-4, y=-6, width=8, height=12, rx=2, fill=PAPER, stroke=INK, stroke_width=_THIN)
    return body + words(0, 0.9, "WH", 2.6, text_anchor="middle", font_weight="bold", fill=INK)


def _regulator() -> str:
    spring = element("path", d="M0 0V-2.6M-1.4 -2.6H1.4", fill="none", stroke=INK, stroke_width=_THIN)
    return _bow(INK, PAPER) + spring


def _relief_tank() -> str:
    half = element("path", d="M-2.4 0A2.4 2.4 0 0 0 2.4 0Z", fill="#bbbbbb", stroke="none")
    return _circle(2.4) + half + element("path", d="M-2.4 0H2.4", stroke=INK, stroke_width=_THIN)


def _arrestor() -> str:
    return _shape("M-1.1 2.4V-1.2A1.1 1.1 0 0 1 1.1 -1.2V2.4Z") + _shape("M-1.1 0.4H1.1")


def _hose() -> str:
    return _bow() + element("path", d="M2.2 0H3.6V1.8M3 1.8H4.2", fill="none", stroke=INK, stroke_width=_THIN)


def _mixing() -> str:
    return _bow() + _shape("M-1.5 2.2L0 0L1.5 2.2Z")


def _three(letter: str) -> str:
    return _shape("M0 -2.6L2.6 0L0 2.6L-2.6 0Z") + words(0, 0.75, letter, 2.0, text_anchor="middle", fill=INK)


_CODES = {
    "toilet": ("WC", "water closet (toilet)"),
    "urinal": ("UR", "urinal"),
    "ice maker": ("IM", "ice maker"),
    "dishwasher": ("DW", "dishwasher"),
    "lavatory": ("LAV", "lavatory"),
    "kitchen sink": ("KS", "kitchen sink"),
    "bar sink": ("BS", "bar sink"),
    "laundry tray": ("LT", "laundry tray"),
    "shower": ("SH", "shower"),
    "bathtub": ("BT", "bathtub"),
    "tub and shower": ("TS", "tub and shower"),
    "bidet": ("BD", "bidet"),
    "clothes washer": ("CW", "clothes washer"),
    "rest of house": ("REST", "rest of the house"),
}
_GLYPHS = {
    "source": Glyph("source: main or well", 2.6, 2.6, lambda: _circle(2.4, "", INK)),
    "meter": Glyph("water meter", 2.6, 2.6, lambda: _circle(2.4, "M")),
    "valve": Glyph("shutoff valve", 2.4, 1.7, _bow),
    "closed valve": Glyph("valve kept closed", 2.4, 1.7, lambda: _bow(INK)),
    "check valve": Glyph("check valve, from white to black", 2.4, 1.7, lambda: _bow(PAPER, INK)),
    "regulator": Glyph("pressure regulator", 2.4, 2.8, _regulator),
    "backflow preventer": Glyph("backflow preventer", 3.0, 2.2, lambda: _boxed("BFP", 6.0, 3.6)),
    "filter": Glyph("filter", 2.8, 2.8, lambda: _three("F")),
    "softener": Glyph("softener", 2.8, 2.8, lambda: _three("S")),
    "pump": Glyph("pump", 2.4, 2.4, lambda: _circle(2.2) + _shape("M-1.1 -1.6L2 0L-1.1 1.6Z", INK)),
    "adapter": Glyph("adapter, change of material", 1.2, 1.6, lambda: _shape("M-0.5 -1.5H0.5V1.5H-0.5Z", INK)),
    "tee": Glyph("joint: tee", 0.9, 0.9, lambda: element("circle", cx=0, cy=0, r=0.85, fill=INK)),
    "water heater": Glyph("water heater", 4.2, 6.2, _heater),
    "mixing valve": Glyph("mixing valve", 2.4, 2.4, _mixing),
    "cap": Glyph("cap", 1.4, 1.4, lambda: element("path", d="M-1.3 0H1.3", stroke=INK, stroke_width=0.9)),
    "stub-out": Glyph("stub-out", 1.4, 1.4, lambda: _shape("M-1 -1H1V1H-1Z")),
    "expansion tank": Glyph("expansion tank", 2.6, 2.6, _relief_tank),
    "arrestor": Glyph("arrestor", 1.3, 2.6, _arrestor),
    "test port": Glyph("test port with its valve", 2.4, 2.2, lambda: _circle(1.9, "P")),
    "hose outlet": Glyph("hose outlet", 4.3, 2.0, _hose),
}


def kind_of(part: Part) -> str:
    """The symbol of a part, by name."""
    if isinstance(part.own, ValveOwn) and part.own.normally == "closed":
        return "closed valve"
    return part.is_


def glyph(kind: str) -> Glyph:
    """The symbol of a kind; fixtures are boxes with their letters."""
    found = _GLYPHS.get(kind)
    if found is not None:
        return found
    code, name = _CODES.get(kind, (kind[:4].upper(), kind))
    wide = 5.2 if len(code) < 3 else 7.2
    return Glyph(name, wide / 2, 2.0, lambda: _boxed(code, wide))


def placed(kind: str, x: float, y: float, title: str) -> str:
    """A symbol at its place, with its name for those who cannot see it."""
    from plancheck.drawing.svg import escape

    inside = element("title", escape(title)) + glyph(kind).draw()
    return element("g", inside, transform=f"translate({number(x)} {number(y)})")


def box_at(kind: str, x: float, y: float) -> Box:
    """The room a symbol takes at its place."""
    found = glyph(kind)
    return Box(x - found.wide, y - found.high, x + found.wide, y + found.high)


_MARKS = {
    "hazard": ("M0 -3.4L3.4 2.4H-3.4Z", "#a3160f", 1.5),
    "correction": ("M0 -3.1L3.1 0L0 3.1L-3.1 0Z", "#8a4b00", 0.8),
    "advice": ("M-2.5 0A2.5 2.5 0 1 0 2.5 0A2.5 2.5 0 1 0 -2.5 0Z", "#2a5d34", 0.8),
}
MARK_MM = 7.0


def mark(severity: str, text: str, x: float, y: float) -> str:
    """The mark of a finding: its number in a shape of its severity, white on dark."""
    path, colour, drop = _MARKS[severity]
    size = 2.4 if len(text) < 3 else 1.9
    shape = element("path", d=path, fill=colour, stroke=PAPER, stroke_width=0.3)
    number_ = words(0, drop, text, size, text_anchor="middle", font_weight="bold", fill=PAPER)
    return element("g", shape + number_, transform=f"translate({number(x)} {number(y)})")


def label_box(x: float, y: float, text: str, size: float, anchor: str) -> Box:
    """The box of a text, a little wider than its letters."""
    box = box_of(x, y, text, size, anchor)
    return Box(box.left - 0.2, box.top, box.right + 0.2, box.bottom)
