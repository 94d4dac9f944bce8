"""Finding free room on a drawing for texts: beside what they name, clear of lines, symbols and each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plancheck.drawing.svg import Box, Segment, crosses, overlaps

_CELL = 8.0


class Room:
    """What stands on a drawing, in cells so that only what is near is looked at. Millimetres."""

    def __init__(self, sheet: Box) -> None:
        self.sheet = sheet
        self._boxes: dict[tuple[int, int], list[Box]] = {}
        self._lines: dict[tuple[int, int], list[Segment]] = {}

    def add_box(self, box: Box) -> None:
        """A text or symbol that is to stay clear."""
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def add_line(self, line: Segment) -> None:
        """A line that is to stay clear."""
        wide = Box(min(line.x1, line.x2), min(line.y1, line.y2), max(line.x1, line.x2), max(line.y1, line.y2))
        for cell in _cells(wide):
            left, top = cell[0] * _CELL, cell[1] * _CELL
            if crosses(Box(left - 0.1, top - 0.1, left + _CELL + 0.1, top + _CELL + 0.1), line):
                self._lines.setdefault(cell, []).append(line)

    def is_free(self, box: Box) -> bool:
        """Whether a box lies on the sheet and touches nothing."""
        sheet = self.sheet
        if box.left < sheet.left or box.top < sheet.top or box.right > sheet.right or box.bottom > sheet.bottom:
            return False
        for cell in _cells(box):
            if any(overlaps(box, other) for other in self._boxes.get(cell, ())):
                return False
            if any(crosses(box, line) for line in self._lines.get(cell, ())):
                return False
        return True

    def first_free(self, boxes: Iterable[Box]) -> Box | None:
        """The first of the boxes that is free, taken."""
        for box in boxes:
            if self.is_free(box):
                self.add_box(box)
                return box
        return None


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    for column in range(int(box.left // _CELL), int(box.right // _CELL) + 1):
        for row in range(int(box.top // _CELL), int(box.bottom // _CELL) + 1):
            yield column, row


def beside_line(line: Segment, wide: float, high: float, clear: float) -> Iterator[Box]:
    """Boxes on both sides of a line at its middle and towards its ends, just clear of it."""
    run, rise = line.x2 - line.x1, line.y2 - line.y1
    length = (run * run + rise * rise) ** 0.5
    if length == 0.0:
        return
    across = (-rise / length, run / length)
    # how far the middle of a box must be from the line for its nearest corner to be clear of it
    far = (abs(across[0]) * wide + abs(across[1]) * high) / 2 + clear
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        x, y = line.x1 + share * run, line.y1 + share * rise
        for side in (1.0, -1.0):
            yield centred(x + side * far * across[0], y + side * far * across[1], wide, high)


def around(x: float, y: float, wide: float, high: float, first: float = 3.0, last: float = 46.0) -> Iterator[Box]:
    """Boxes further and further round a point."""
    ways = ((1, 0), (-1, 0), (0, -1), (0, 1), (0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6), (0.4, -0.9), (-0.4, -0.9), (0.4, 0.9), (-0.4, 0.9))
    far = first
    while far <= last:
        for dx, dy in ways:
            yield centred(x + dx * (far + wide / 2), y + dy * (far + high / 2), wide, high)
        far *= 1.35


def centred(x: float, y: float, wide: float, high: float) -> Box:
    """A box around its middle."""
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
