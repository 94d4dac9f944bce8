"""From which side a house is looked at: from where least of its pipe lies over other pipe, and fewest symbols over others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from plancheck.drawing.apart import beside
from plancheck.drawing.glyphs import box_at, kind_of
from plancheck.drawing.spots import Spots
from plancheck.drawing.stretch import COS30, SIN30, Axes, Way
from plancheck.drawing.svg import Box, crosses, overlaps, segments
from plancheck.facts import Facts
from plancheck.model import Run

# quarters turned, and by how much wider what lies north is drawn: so that as far east as north does not look like neither
_WAYS: tuple[Way, ...] = tuple((turned, wider) for wider in (1.17, 1.0) for turned in range(4))
_CLOSE_MM = 0.7  # lines closer than this are one on paper
_SYMBOL_MM = 25.0  # so much hidden pipe is worth a symbol that lies over another
_MANY = 100  # runs: with so many one width is tried from all sides, as more would take long and hide no less
_SLOPE = SIN30 / COS30
Spot = tuple[float, float]
Piece = tuple[int, int, float, float]  # direction, which line of that direction, from where, to where


def best_way(facts: Facts, spots: Spots, axes: Axes) -> Way:
    """The way that hides least. axes: of a trial, not turned, north no wider than east."""
    runs = [
        (one.run, facts.carried(one.run.id).service, [axes.along(corner) for corner in one.corners])
        for one in spots.lines
    ]
    symbols = [
        (id_, axes.along(point)) for id_, point in spots.parts.items() if facts.plan.parts[id_].is_ != "manifold"
    ]
    few = len(runs) < _MANY

    def cost(way: Way) -> float:
        drawn = [
            (run, [beside(axes.turned_by(way, *corner), service) for corner in corners])
            for run, service, corners in runs
        ]
        boxes = sorted(
            (box_at(kind_of(facts.plan.parts[id_]), *axes.turned_by(way, *along)), id_) for id_, along in symbols
        )
        covered = 0
        for place, (box, _) in enumerate(boxes):
            for other, _ in boxes[place + 1 :]:
                if other.left > box.right:
                    break
                covered += overlaps(box, other)
        if few:
            covered += sum(_passes(run, corners, boxes) for run, corners in drawn)
        return hidden_mm(corners for _, corners in drawn) + _SYMBOL_MM * covered

    return min(_WAYS if few else _WAYS[:4], key=cost)


def _passes(run: Run, corners: Sequence[Spot], boxes: Sequence[tuple[Box, str]]) -> int:
    """Behind how many symbols a run passes that it does not end at: it would read as one of their pipes."""
    ends = {ref.part for ref in (run.from_, run.to) if ref is not None}
    pieces = segments(corners)
    return sum(any(crosses(box, piece) for piece in pieces) for box, id_ in boxes if id_ not in ends)


def hidden_mm(runs: Iterable[Sequence[Spot]]) -> float:
    """How much pipe lies over pipe, mm on paper, of upright lines and of those at 30 degrees."""
    lines: dict[tuple[int, int], list[tuple[float, float]]] = {}
    for corners in runs:
        for direction, line, start, end in _pieces(corners):
            lines.setdefault((direction, line), []).append((start, end))
    hidden = 0.0
    for pieces in lines.values():
        if len(pieces) > 1:
            pieces.sort()
            reached = pieces[0][1]
            for start, end in pieces[1:]:
                hidden += max(0.0, min(end, reached) - start)
                reached = max(reached, end)
    return hidden


def _pieces(corners: Sequence[Spot]) -> Iterator[Piece]:
    for (x1, y1), (x2, y2) in pairwise(corners):
        across = x2 - x1
        if abs(across) < 1e-6:
            yield 0, round(x1 / _CLOSE_MM), min(y1, y2), max(y1, y2)
            continue
        slope = (y2 - y1) / across
        if abs(abs(slope) - _SLOPE) < 0.01:
            yield (
                (1 if slope > 0 else -1),
                round((y1 - slope * x1) * COS30 / _CLOSE_MM),
                min(x1, x2) / COS30,
                max(x1, x2) / COS30,
            )
