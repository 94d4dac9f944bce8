"""The isometric of the whole supply: verticals vertical, horizontals at 30 degrees, everything in its place once.

Lines of one water are dashed alike; where lines cross without a joint the one behind is interrupted (ISO 6412-2); joints
are dots. Narrow gaps are widened and long ones shortened so that ports and parallel runs are told apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from plancheck.drawing.glyphs import INK, MARK_MM, box_at, kind_of, label_box, mark, placed
from plancheck.drawing.letters import box_of, width
from plancheck.drawing.placing import Room, around, beside_line, centred
from plancheck.drawing.sheet import frame, legend_of, north_arrow, room_of, sizes_of
from plancheck.drawing.spots import Line, Spots, spots_of
from plancheck.drawing.stretch import Axes, axes_of, north_of
from plancheck.drawing.svg import Box, Picture, Segment, element, escape, line, number, segments, whole, words
from plancheck.drawing.waters import WIDTH_MM, look_of
from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.model import ManifoldOwn, Part, Point, Ref
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport

_LEAST, _MOST = 3.4, 55.0
_SCALES = (40.0, 30.0, 24.0, 18.0, 13.0, 9.0)  # millimetres of paper for a metre, between the two
_LABEL, _NAME, _TEXT_HIGH = 2.2, 2.5, 0.95
_GREY = "#4d585c"
_Spot = tuple[float, float]
NOTE = "Directions are true; narrow gaps are drawn wider and long ones shorter."


class Drawn(NamedTuple):
    """A run on paper: the run, its corners in millimetres, its water, whether its path is the plan's own."""

    line: Line
    corners: tuple[_Spot, ...]
    service: str | None


class Scene(NamedTuple):
    """Everything on paper before texts are placed. levels: of storeys, metres, with their place on a post at a corner."""

    facts: Facts
    spots: Spots
    runs: tuple[Drawn, ...]
    parts: Mapping[str, _Spot]
    ports: Mapping[Ref, _Spot]
    sheet: tuple[float, float]
    turned: int
    levels: tuple[tuple[float, _Spot], ...]


def isometric(facts: Facts, report: PlanReport | None = None, key: str = "", linked: bool = False) -> Picture:
    """The isometric of a plan. report: its findings are marked; linked: marks lead to them; key: what anchors begin with."""
    scene = _scene(facts)
    room = Room(room_of(scene.sheet))
    lines = (*(piece for run in scene.runs for piece in segments(run.corners)), *_made_up(scene))
    for piece in lines:
        room.add_line(piece)
    symbols = list(_symbols(scene, room))
    labels: list[tuple[str, Box]] = []
    levels = list(_levels(scene, room, labels))
    leads, marks, marked = _marks(scene, report, room, key, linked)
    texts = [*_part_names(scene, room, labels), *_run_labels(scene, room, labels)]
    kinds = [kind_of(facts.plan.parts[id_]) for id_ in scene.parts if not isinstance(facts.plan.parts[id_].own, ManifoldOwn)]
    legend = legend_of(facts, kinds, [run.service for run in scene.runs], report, marked, any(not run.line.shown for run in scene.runs), (NOTE, *_notes(scene)))
    title = "Isometric of the water supply"
    about = f"{len(scene.runs)} runs and {len(scene.parts)} parts, seen from above at 30 degrees; {len(marked)} findings marked."
    north = north_arrow(scene.sheet[0] - 94, 26, north_of(scene.turned))
    body = [*frame(facts, report, title, scene.sheet, legend), *_pipes(scene), *_rows(scene), *levels, *leads, *symbols, *texts, *marks, north]
    name = f"{key}isometric"
    return Picture("isometric", title, about, whole(name, title, about, *scene.sheet, body), *scene.sheet, tuple(labels), lines)


def _notes(scene: Scene) -> Iterator[str]:
    if scene.spots.apart:
        names = ", ".join(scene.spots.apart[:4]) + (" and more" if len(scene.spots.apart) > 4 else "")
        yield f"Joined to nothing that is drawn: {names}."


def _scene(facts: Facts) -> Scene:
    """Everything on paper, on the smallest sheet that gives it room, from the side that shows most."""
    spots = spots_of(facts)
    points = list(dict.fromkeys((*spots.parts.values(), *spots.ports.values(), *(point for one in spots.lines for point in one.corners))))
    points = points or [(0.0, 0.0, 0.0)]
    turned = max(range(4), key=lambda one: _told_apart(axes_of(points, _LEAST, _MOST, _SCALES[2], one), points))
    post = _post(facts, points, axes_of(points, _LEAST, _MOST, _SCALES[2], turned))
    points += post
    for sheet in sizes_of(facts):
        room = room_of(sheet)
        wide, high = room.right - room.left - 20, room.bottom - room.top - 16
        for per_metre in _SCALES:
            axes = axes_of(points, _LEAST, _MOST, per_metre, turned)
            extent = _extent(axes, points)
            if extent.right - extent.left <= wide and extent.bottom - extent.top <= high:
                return _on_sheet(facts, spots, axes, extent, sheet, 1.0, post)
    smaller = min(wide / (extent.right - extent.left), high / (extent.bottom - extent.top))
    return _on_sheet(facts, spots, axes, extent, sheet, smaller, post)


def _post(facts: Facts, points: Sequence[Point], axes: Axes) -> list[Point]:
    """Points at the levels of the storeys, one over the other at the corner of the house where they take least more room and
    hide nothing; none where fewer than two levels are said."""
    levels = sorted({place.level.m for place in facts.plan.places.values() if isinstance(place.level, Length)})
    if len(levels) < 2:
        return []
    sides = [[(pick(point[axis] for point in points), way) for pick, way in ((min, -0.5), (max, 0.5))] for axis in (0, 1)]
    corners = [(east, north) for east in sides[0] for north in sides[1]]
    posts = [[(east + out, north + aside, level) for level in levels] for (east, out), (north, aside) in corners]
    whole_ = _extent(axes, points)

    def cost(post: list[Point]) -> float:
        found = _extent(axes, [*points, *post])
        grown = (found.right - found.left) - (whole_.right - whole_.left) + (found.bottom - found.top) - (whole_.bottom - whole_.top)
        near = min(abs(axes.on_paper(post[0])[0] - axes.on_paper(point)[0]) for point in points)
        return grown + max(0.0, 10.0 - near)

    return min(posts, key=cost)


def _told_apart(axes: Axes, points: Sequence[tuple[float, float, float]]) -> int:
    """How many different places on paper the points have: the more, the less lies on top of each other."""
    return len({(round(x / 2.0), round(y / 2.0)) for x, y in map(axes.on_paper, points)})


def _extent(axes: Axes, points: Sequence[tuple[float, float, float]]) -> Box:
    found = [axes.on_paper(point) for point in points]
    return Box(min(x for x, _ in found), min(y for _, y in found), max(x for x, _ in found), max(y for _, y in found))


def _on_sheet(facts: Facts, spots: Spots, axes: Axes, extent: Box, sheet: tuple[float, float], scale: float, post: Sequence[Point]) -> Scene:
    room = room_of(sheet)
    left = (room.left + room.right - scale * (extent.left + extent.right)) / 2
    top = (room.top + room.bottom - scale * (extent.top + extent.bottom)) / 2

    def at(point: tuple[float, float, float]) -> _Spot:
        x, y = axes.on_paper(point)
        return left + scale * x, top + scale * y

    runs = tuple(Drawn(one, tuple(map(at, one.corners)), facts.carried(one.run.id).service) for one in spots.lines)
    parts = {id_: at(point) for id_, point in spots.parts.items()}
    return Scene(facts, spots, runs, parts, {ref: at(point) for ref, point in spots.ports.items()}, sheet, axes.turned, tuple((point[2], at(point)) for point in post))


def _pipes(scene: Scene) -> Iterator[str]:
    """The runs from back to front, each with a rim of paper that interrupts what it crosses; arrows on top."""
    for run in sorted(scene.runs, key=_depth):
        look = look_of(run.service)
        rim = line(run.corners, stroke="#ffffff", stroke_width=WIDTH_MM + 1.4, stroke_linejoin="round")
        pipe = line(
            run.corners,
            stroke=look.colour,
            stroke_width=WIDTH_MM if run.line.shown else 0.45,
            stroke_dasharray=look.dashes or None,
            stroke_linecap="round",
            stroke_linejoin="round",
        )
        title = element("title", escape(f"{run.line.run.id}: {label_of(scene.facts, run.line)}, {look.name.lower()}"))
        yield element("g", (title, rim, pipe), class_=look.class_)
    for piece in _made_up(scene):
        yield line(((piece.x1, piece.y1), (piece.x2, piece.y2)), stroke="#000000", stroke_width=WIDTH_MM)
    for run in scene.runs:
        yield from _arrow(scene.facts, run)


def _made_up(scene: Scene) -> Iterator[Segment]:
    """The lines between things that are made up directly onto each other."""
    for part in scene.facts.plan.parts.values():
        if part.onto is not None and part.id in scene.parts and part.onto.part in scene.parts:
            yield Segment(*scene.ports.get(part.onto, scene.parts[part.onto.part]), *scene.parts[part.id])


def _depth(run: Drawn) -> float:
    """How far forward a run lies: the lower on the sheet, the nearer."""
    return sum(y for _, y in run.corners) / len(run.corners)


def _arrow(facts: Facts, run: Drawn) -> Iterator[str]:
    """An arrow with the flow on the longest piece, where the way of the water is known."""
    way = flows(facts, run.line.run.id)
    piece = max(pairwise(run.corners), key=lambda ends: _length(*ends), default=None)
    if not way or piece is None or _length(*piece) < 5.0:
        return
    (x1, y1), (x2, y2) = piece if way > 0 else (piece[1], piece[0])
    length = _length(*piece)
    dx, dy = (x2 - x1) / length, (y2 - y1) / length
    x, y = x1 + 0.6 * (x2 - x1), y1 + 0.6 * (y2 - y1)
    tip, back = (x + 1.4 * dx, y + 1.4 * dy), (x - 1.2 * dx, y - 1.2 * dy)
    path = f"M{number(tip[0])} {number(tip[1])}L{number(back[0] - 1.1 * dy)} {number(back[1] + 1.1 * dx)}L{number(back[0] + 1.1 * dy)} {number(back[1] - 1.1 * dx)}Z"
    yield element("path", d=path, fill="#000000")


def _length(a: _Spot, b: _Spot) -> float:
    return float(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5)


def flows(facts: Facts, run: str) -> int:
    """1 where water runs from `from` to `to`, -1 the other way, 0 where neither is traced."""
    edge = facts.run_edge(run)
    if edge is None or facts.carried(run).ring:
        return 0
    a, b, _, _ = facts.network.edges[edge]
    parents = facts.traced.parents
    return 1 if parents.get(b) == edge else -1 if parents.get(a) == edge else 0


def _rows(scene: Scene) -> Iterator[str]:
    """The bodies of manifolds through their ports, a ring closed, each port a dot with its name."""
    for part in scene.facts.plan.parts.values():
        if not isinstance(part.own, ManifoldOwn) or part.id not in scene.parts:
            continue
        spots = [scene.ports[Ref(part.id, port)] for port in part.own.ports if Ref(part.id, port) in scene.ports]
        title = element("title", escape(f"manifold {part.id}"))
        body = line(spots, stroke="#000000", stroke_width=1.8, stroke_linecap="round")
        if part.own.shape == "ring" and len(spots) > 1:
            (x1, y1), (x2, y2) = spots[0], spots[-1]
            way = ((x1, y1), (x1 - 1.5, y1 - 3.2), (x2 + 1.5, y2 - 3.2), (x2, y2))
            body += line(way, stroke="#000000", stroke_width=1.2, stroke_linejoin="round")
        dots = [element("circle", cx=x, cy=y, r=1.0, fill="#000000") for x, y in spots]
        yield element("g", (title, body, *dots))


def _symbols(scene: Scene, room: Room) -> Iterator[str]:
    """The symbols of all parts but manifolds, each with its room."""
    for id_, (x, y) in scene.parts.items():
        part = scene.facts.plan.parts[id_]
        if isinstance(part.own, ManifoldOwn):
            for port in part.own.ports:
                spot = scene.ports.get(Ref(id_, port))
                if spot is not None:
                    room.add_box(centred(*spot, 2.2, 2.2))
            continue
        kind = kind_of(part)
        room.add_box(box_at(kind, x, y))
        yield placed(kind, x, y, f"{part.is_} {scene.facts.part_name(id_)}")


def _marks(scene: Scene, report: PlanReport | None, room: Room, key: str, linked: bool) -> tuple[list[str], list[str], list[int]]:
    """Thin lines to the places of findings, the findings as numbered marks beside them, and their numbers."""
    leads: list[str] = []
    found: list[str] = []
    numbers: list[int] = []
    for one in report.findings if report is not None else ():
        spot = _spot_of(scene, one)
        if spot is None:
            continue
        box = room.first_free(around(*spot, MARK_MM, MARK_MM, 1.0, 120.0))
        if box is None:
            box = centred(*spot, MARK_MM, MARK_MM)
        x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
        leads.append(line((spot, (x, y)), stroke="#000000", stroke_width=0.2))
        shape = mark(one.severity, str(one.number), x, y)
        title = element("title", escape(f"{one.number}. {one.severity}: {one.says}"))
        inside = element("g", (title, shape), id=f"{key}mark-{one.number}", class_=f"mark {one.severity}")
        found.append(element("a", inside, href=f"#{key}finding-{one.number}") if linked else inside)
        numbers.append(one.number)
    return leads, found, numbers


def _spot_of(scene: Scene, one: Finding) -> _Spot | None:
    """Where a finding stands on paper: at its bend or the middle of its run, at its port or part, at the source."""
    section, _, rest = one.path.strip("/").partition("/")
    id_, *steps = rest.split("/")
    if section == "runs":
        run = next((run for run in scene.runs if run.line.run.id == id_), None)
        return _on_run(run, steps) if run is not None else None
    if section == "parts":
        if steps[:1] == ["ports"] and len(steps) > 1 and Ref(id_, steps[1]) in scene.ports:
            return scene.ports[Ref(id_, steps[1])]
        return scene.parts.get(id_)
    if section in ("water", "job", "code", "permit", "tests", "claims", "measured", ""):
        source = next((part.id for part in scene.facts.plan.parts.values() if part.is_ == "source"), "")
        return scene.parts.get(source)
    return None


def _on_run(run: Drawn, steps: Sequence[str]) -> _Spot:
    if len(steps) > 1 and steps[0] == "bends" and steps[1].isdigit() and 0 < int(steps[1]) < len(run.corners) - 1:
        return run.corners[int(steps[1])]
    a, b = max(pairwise(run.corners), key=lambda ends: _length(*ends))
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _levels(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """A post at a corner of the house with a mark at each storey's floor: a triangle on its line, and the height."""
    if not scene.levels:
        return
    top, bottom = scene.levels[-1][1], scene.levels[0][1]
    yield line((bottom, top), stroke=_GREY, stroke_width=0.2, stroke_dasharray="1 1")
    room.add_line(Segment(*bottom, *top))
    for metres, (x, y) in scene.levels:
        text = scene.facts.length(metres) if metres else "0"
        yield line(((x - 4, y), (x + 4, y)), stroke=INK, stroke_width=0.25)
        yield element("path", d=f"M{number(x)} {number(y)}l-1.1 -1.9h2.2z", fill=INK)
        room.add_box(Box(x - 4, y - 2, x + 4, y + 0.3))
        box = room.first_free(centred(x + way * (5 + width(text, _LABEL) / 2), y - 0.4, width(text, _LABEL) + 0.4, _LABEL * _TEXT_HIGH) for way in (-1, 1))
        if box is not None:
            yield _written(labels, text, _LABEL, box)


def _part_names(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """The names of fixtures, heaters, manifolds and the main valve, and the letters of ports."""
    facts = scene.facts
    for ref, (x, y) in scene.ports.items():
        yield from _text(room, labels, ref.connection, _LABEL, around(x, y, width(ref.connection, _LABEL) + 0.4, _LABEL * _TEXT_HIGH, 0.9, 7.0), (x, y), bold=True)
    for id_, spot in scene.parts.items():
        part = facts.plan.parts[id_]
        if _is_named(facts, part):
            name = facts.part_name(id_)
            first = box_at(kind_of(part), *spot).bottom - spot[1] + 0.6 if not isinstance(part.own, ManifoldOwn) else 3.0
            yield from _text(room, labels, name, _NAME, around(*spot, width(name, _NAME) + 0.4, _NAME * _TEXT_HIGH, first, 160.0), spot)


def _is_named(facts: Facts, part: Part) -> bool:
    from plancheck.kinds import KINDS

    return KINDS[part.is_].sort in ("fixture", "heater", "manifold", "supply", "mixing") or part.id == facts.main_valve or part.name is not None


def _run_labels(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """Size and length at every run, the shortest runs first as they have least room."""
    for run in sorted(scene.runs, key=lambda one: sum(_length(*ends) for ends in pairwise(one.corners))):
        text = label_of(scene.facts, run.line)
        if not text:
            continue
        wide, high = width(text, _LABEL) + 0.4, _LABEL * _TEXT_HIGH
        pieces = sorted(segments(run.corners), key=lambda one: -_length((one.x1, one.y1), (one.x2, one.y2)))
        close = (box for piece in pieces[:4] for box in beside_line(piece, wide, high, 0.7))
        box = room.first_free(close)
        if box is not None:
            yield _written(labels, text, _LABEL, box)
            continue
        middle = _on_run(run, ())
        yield from _text(room, labels, text, _LABEL, around(*middle, wide, high, 1.2, 160.0), middle)


def _text(room: Room, labels: list[tuple[str, Box]], text: str, size: float, boxes: Iterator[Box], spot: _Spot, bold: bool = False) -> Iterator[str]:
    """A text at the first free box, with a thin line to its spot where it is not beside it; beside it where none is free.

    Bold ones are the names of ports, which stand on the manifold's own drawing too: they are left out instead.
    """
    wide, high = width(text, size) + 0.4, size * _TEXT_HIGH
    box = room.first_free(boxes)
    if box is None and bold:
        return
    if box is None:
        box = centred(spot[0], spot[1] - 2, wide, high)
        room.add_box(box)
    x, y = min(max(spot[0], box.left), box.right), min(max(spot[1], box.top), box.bottom)
    if _length((x, y), spot) > 4.5:
        yield line((spot, (x, y)), stroke=_GREY, stroke_width=0.15)
    yield _written(labels, text, size, box, bold)


def _written(labels: list[tuple[str, Box]], text: str, size: float, box: Box, bold: bool = False) -> str:
    """A text in its box."""
    x, y = box.left + 0.2, box.bottom - 0.21 * size
    labels.append((text, box_of(x, y, text, size)))
    return words(x, y, text, size, font_weight="bold" if bold else None)


def label_of(facts: Facts, drawn: Line) -> str:
    """Size, material where it is no plastic, and length of a run."""
    run = drawn.run
    tube = facts.plan.tubes.get(run.tube or "")
    size = tube.size.name if tube is not None and isinstance(tube.size, Size) else ""
    material = tube.material if tube is not None and tube.material in ("copper", "brass", "galvanised steel", "stainless steel", "lead") else ""
    length = facts.run_length_m(run.id)
    return "  ".join(filter(None, (" ".join(filter(None, (size, material))), facts.length(length) if length is not None else "")))


__all__ = ["isometric", "label_box", "label_of"]
