"""The isometric of the whole supply: verticals vertical, horizontals at 30 degrees, everything in its place once.

Lines of one water are dashed alike; where lines cross without a joint the one behind is interrupted (ISO 6412-2); joints
are dots. Narrow gaps are widened and long ones shortened so that ports and parallel runs are told apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from plancheck.drawing.along import on_run
from plancheck.drawing.annotating import floor_lines, level_marks, part_names, run_labels
from plancheck.drawing.glyphs import box_at, kind_of, placed
from plancheck.drawing.marking import marks_of, told
from plancheck.drawing.placing import Room, centred
from plancheck.drawing.scene import Drawn, Scene, Spot, flows, label_of, length_of, made_up, port_of, scene_of
from plancheck.drawing.sharing import Share
from plancheck.drawing.sheet import frame, legend_of, north_arrow, room_of
from plancheck.drawing.signs import arrow_head, small_valve
from plancheck.drawing.spots import cut_words
from plancheck.drawing.stretch import north_of
from plancheck.drawing.svg import Box, Picture, element, escape, line, segments, whole
from plancheck.drawing.waters import WIDTH_MM, look_of
from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Ref
from plancheck.report.data import Finding, PlanReport

_THIN = 0.45  # mm: the line of what the plan gives no path for
NOTE = "Directions are true; narrow gaps are drawn wider and long ones shorter. Hot is drawn a little to the right of where it stands, cold to the left."


def isometric(facts: Facts, report: PlanReport | None = None, key: str = "", linked: bool = False, share: Share | None = None) -> Picture:
    """The isometric of a plan. report: its findings are marked; linked: marks lead to them; key: what anchors begin with;
    share: the part of a large plan that is drawn alone."""
    scene = scene_of(facts, share)
    room = Room(room_of(scene.sheet))
    lines = (*(piece for run in scene.runs for piece in segments(run.corners)), *made_up(scene))
    for piece in lines:
        room.add_line(piece)
    symbols = list(_symbols(scene, room))
    labels: list[tuple[str, Box]] = []
    marks = marks_of(report, lambda one: _spot_of(scene, one), room, key, linked)
    levels = list(level_marks(scene, room, labels))
    texts = [*part_names(scene, room, labels), *run_labels(scene, room, labels)]
    kinds = [kind_of(facts.plan.parts[id_]) for id_ in scene.parts if not isinstance(facts.plan.parts[id_].own, ManifoldOwn)]
    legend = legend_of(facts, kinds, [run.service for run in scene.runs], report, marks.numbers, any(not run.line.shown or run.line.before or run.line.behind for run in scene.runs), (NOTE, *_notes(scene)))
    legend = legend._replace(signs=list(_signs(scene)))
    title = "Isometric of the water supply" if share is None else f"Isometric {share.number}: {share.title}"
    about = f"{len(scene.runs)} runs and {len(scene.parts)} parts, seen from above at 30 degrees; {told(marks)}."
    north = north_arrow(scene.sheet[0] - 94, 26, north_of(scene.turned))
    body = [*frame(facts, report, title, scene.sheet, legend), *floor_lines(scene), *_pipes(scene), *_rows(scene), *levels, *marks.leads, *symbols, *texts, *marks.shapes, north]
    name = "isometric" if share is None else f"isometric-{share.number}"
    return Picture(name, title, about, whole(f"{key}{name}", title, about, *scene.sheet, body, linked), *scene.sheet, tuple(labels), lines)


def _signs(scene: Scene) -> Iterator[str]:
    """The signs that are drawn, for the legend."""
    rows = [part.own for part in scene.facts.plan.parts.values() if isinstance(part.own, ManifoldOwn) and part.id in scene.parts]
    there = {
        "row": any(own.shape != "ring" for own in rows),
        "ring": any(own.shape == "ring" for own in rows),
        "port valve": any(True for _ in _port_valves(scene)),
        "direct": any(True for _ in made_up(scene)),
        "arrow": any(flows(scene.facts, run.line.run.id) for run in scene.runs),
        "floor": bool(scene.floors),
    }
    yield from (kind for kind, is_there in there.items() if is_there)


def _notes(scene: Scene) -> Iterator[str]:
    yield from cut_words(scene.facts)
    if scene.spots.apart:
        names = ", ".join(scene.spots.apart[:4]) + (" and more" if len(scene.spots.apart) > 4 else "")
        yield f"Where these stand is not known, nothing ties them to the rest: {names}."


def _pipes(scene: Scene) -> Iterator[str]:
    """The runs from back to front, each with a rim of paper that interrupts what it crosses; arrows on top."""
    for run in sorted(scene.runs, key=_depth):
        look = look_of(run.service)
        rim = line(run.corners, stroke="#ffffff", stroke_width=WIDTH_MM + 1.4, stroke_linejoin="round")
        pipe = "".join(
            line(corners, stroke=look.colour, stroke_width=wide, stroke_dasharray=look.dashes or None, stroke_linecap="round", stroke_linejoin="round")
            for corners, wide in _as_drawn(run)
        )
        title = element("title", escape(f"{run.line.run.id}: {', '.join(filter(None, label_of(scene.facts, run.line.run)))}, {look.name.lower()}"))
        yield element("g", (title, rim, pipe), class_=look.class_)
    for piece in made_up(scene):
        yield line(((piece.x1, piece.y1), (piece.x2, piece.y2)), stroke="#000000", stroke_width=WIDTH_MM)
    for run in scene.runs:
        yield from _arrow(scene.facts, run)
    yield from _port_valves(scene)


def _as_drawn(run: Drawn) -> Iterator[tuple[Sequence[Spot], float]]:
    """The corners of a run with the width of its line: thin where the plan has no path for it, be it at an end."""
    first, last = run.line.before, len(run.corners) - 1 - run.line.behind
    if not run.line.shown or last <= first:
        yield run.corners, _THIN
        return
    yield run.corners[first : last + 1], WIDTH_MM
    for piece in (run.corners[: first + 1], run.corners[last:]):
        if len(piece) > 1:
            yield piece, _THIN


def _depth(run: Drawn) -> float:
    """How far forward a run lies: the lower on the sheet, the nearer."""
    return sum(y for _, y in run.corners) / len(run.corners)


def _arrow(facts: Facts, run: Drawn) -> Iterator[str]:
    """An arrow with the flow on the longest piece, where the way of the water is known."""
    way = flows(facts, run.line.run.id)
    piece = max(pairwise(run.corners), key=lambda ends: length_of(*ends), default=None)
    if not way or piece is None or length_of(*piece) < 5.0:
        return
    (x1, y1), (x2, y2) = piece if way > 0 else (piece[1], piece[0])
    length = length_of(*piece)
    yield arrow_head(x1 + 0.6 * (x2 - x1), y1 + 0.6 * (y2 - y1), (x2 - x1) / length, (y2 - y1) / length)


def _port_valves(scene: Scene) -> Iterator[str]:
    """The valves of ports, each at the beginning of its run."""
    for run in scene.runs:
        for ref, corners in ((run.line.run.from_, run.corners), (run.line.run.to, run.corners[::-1])):
            port = port_of(scene.facts, ref)
            if port is None or port.valve in (None, "none", "not known"):
                continue
            (x1, y1), (x2, y2) = corners[:2]
            length = length_of(corners[0], corners[1])
            if length > 5.0:
                step = ((x2 - x1) / length, (y2 - y1) / length)
                yield small_valve(x1 + 2.9 * step[0], y1 + 2.9 * step[1], *step, port.normally == "closed")


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


def _spot_of(scene: Scene, one: Finding) -> Spot | None:
    """Where a finding stands on paper: at its bend or the middle of its run, at its port or part, at the source."""
    section, _, rest = one.path.strip("/").partition("/")
    id_, *steps = rest.split("/")
    if section == "runs":
        run = next((run for run in scene.runs if run.line.run.id == id_), None)
        return on_run(scene, run, steps) if run is not None else None
    if section == "parts":
        if steps[:1] == ["ports"] and len(steps) > 1 and Ref(id_, steps[1]) in scene.ports:
            return scene.ports[Ref(id_, steps[1])]
        return scene.parts.get(id_)
    if section in ("water", "job", "code", "permit", "tests", "claims", "measured", ""):
        source = next((part.id for part in scene.facts.plan.parts.values() if part.is_ == "source"), "")
        return scene.parts.get(source)
    return None


