"""Finding free room on a drawing for texts: beside what they name, clear of lines, symbols and each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plancheck.drawing.svg import Box, Segment

_WAYS = (
    (1, 0), (-1, 0), (0, -1), (0, 1), (0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6),
    (0.4, -0.9), (-0.4, -0.9), (0.4, 0.9), (-0.4, 0.9), (0.95, -0.3), (-0.95, -0.3), (0.95, 0.3), (-0.95, 0.3),
)  # fmt: skip
_CELL, _PER_MM = 0.5, 2.0  # millimetres of a square of the sheet, squares of a millimetre


class Room:
    """What stands on a drawing: the sheet in squares, a whole number a row whose bits are the squares that are taken.

    A square that is touched is taken, so that what is free by squares is free.
    """

    def __init__(self, sheet: Box) -> None:
        self._left, self._top = sheet.left, sheet.top
        self._columns = int((sheet.right - sheet.left) / _CELL)
        self._taken = [0] * int((sheet.bottom - sheet.top) / _CELL)

    def add_box(self, box: Box) -> None:
        """A text or symbol that is to stay clear."""
        first, last, mask = self._squares(box)
        for row in range(max(first, 0), min(last + 1, len(self._taken))):
            self._taken[row] |= mask

    def add_line(self, line: Segment) -> None:
        """A line that is to stay clear."""
        x1, y1, x2, y2 = line if line.y1 <= line.y2 else (line.x2, line.y2, line.x1, line.y1)
        taken, top = self._taken, self._top
        first, last = int((y1 - top) * _PER_MM), int((y2 - top) * _PER_MM)
        rows = range(max(first, 0), min(last + 1, len(taken)))
        if x1 == x2 or first == last:  # upright, or in one row
            mask = self._mask(min(x1, x2), max(x1, x2))
            for row in rows:
                taken[row] |= mask
            return
        slope, here = (x2 - x1) / (y2 - y1), x1 - self._left
        for row in rows:
            low = top + row * _CELL
            a = here + slope * (low - y1) if low > y1 else here
            b = here + slope * (low + _CELL - y1) if low + _CELL < y2 else x2 - self._left
            if a > b:
                a, b = b, a
            left = max(int(a * _PER_MM), 0)
            taken[row] |= ((1 << (int(b * _PER_MM) - left + 1)) - 1) << left if b >= 0.0 else 0

    def is_free(self, box: Box) -> bool:
        """Whether a box lies on the sheet and touches nothing."""
        left, top, right, bottom = box
        first, row, last = int((left - self._left) * _PER_MM), int((top - self._top) * _PER_MM), int((bottom - self._top) * _PER_MM)
        wide = int((right - self._left) * _PER_MM) - first + 1
        if left < self._left or top < self._top or first + wide > self._columns or last >= len(self._taken):
            return False
        mask = ((1 << wide) - 1) << first
        for taken in self._taken[row : last + 1]:  # noqa: SIM110 - asked tens of thousands of times
            if taken & mask:
                return False
        return True

    def free_around(self, x: float, y: float, wide: float, high: float, first: float = 3.0, last: float = 46.0) -> Box | None:
        """The first free box of this size further and further round a point, taken.

        As first_free of centred boxes, written out as it is asked tens of thousands of times for a large house.
        """
        taken, rows, columns = self._taken, len(self._taken), self._columns
        x, y = x - self._left, y - self._top
        across, along = wide / 2, high / 2
        far = first
        while far <= last:
            beside, over = far + across, far + along
            for dx, dy in _WAYS:
                left, top = x + dx * beside - across, y + dy * over - along
                if left < 0.0 or top < 0.0:
                    continue
                begin, bottom = int(left * _PER_MM), int((top + high) * _PER_MM)
                count = int((left + wide) * _PER_MM) - begin + 1
                if begin + count > columns or bottom >= rows:
                    continue
                mask = ((1 << count) - 1) << begin
                for row in range(int(top * _PER_MM), bottom + 1):
                    if taken[row] & mask:
                        break
                else:
                    for row in range(int(top * _PER_MM), bottom + 1):
                        taken[row] |= mask
                    return Box(left + self._left, top + self._top, left + self._left + wide, top + self._top + high)
            far += max(1.4, 0.4 * far)
        return None

    def first_free(self, boxes: Iterable[Box]) -> Box | None:
        """The first of the boxes that is free, taken."""
        for box in boxes:
            if self.is_free(box):
                self.add_box(box)
                return box
        return None

    def _squares(self, box: Box) -> tuple[int, int, int]:
        """The first and the last row of a box, and its squares in each."""
        top = self._top
        return int((box.top - top) // _CELL), int((box.bottom - top) // _CELL), self._mask(box.left, box.right)

    def _mask(self, left: float, right: float) -> int:
        first, last = max(int((left - self._left) // _CELL), 0), int((right - self._left) // _CELL)
        return ((1 << (last - first + 1)) - 1) << first if last >= first else 0


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


def centred(x: float, y: float, wide: float, high: float) -> Box:
    """A box around its middle."""
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
