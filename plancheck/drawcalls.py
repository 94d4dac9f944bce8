"""One call of `draw`: a plan in, drawings as SVG out."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from plancheck.calls import NOTHING, check_day, is_same, write_whole
from plancheck.drawing.kinds import KINDS, supply
from plancheck.drawing.svg import Picture
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.record import NamedTuple

_SILENT = ("does not say enough", "plancheck flow PLAN tells what is missing")
_LACKS = {
    "isometric": ("gives no run a path", "draw it with --as riser, or write the path of its runs"),
    "manifolds": ("has no manifold", "draw it with --as riser"),
    "labels": ("has no manifold", "draw it with --as riser"),
    "showers": ("has no shower of which enough is said", "plancheck flow PLAN tells what is missing"),
}


class Call(NamedTuple):
    """The arguments of `draw`, as said. kind: a name of KINDS, all, or none for the drawing of the whole supply."""

    plan: str
    kind: str | None = None
    out: str | None = None
    marks: bool = True
    today: str = ""
    amend: str | None = None


def draw(call: Call) -> int:
    """Prints one drawing, writes it to a file, or several to a folder. Raises Unreadable."""
    from plancheck.flowcalls import facts_in

    check_day(call.today)
    if call.out is not None and is_same(call.plan, call.out):
        raise _wrong(f"--out {call.out} is the plan itself, which would be written over", "name another file; nothing was written")
    facts = facts_in(call.plan, call.today)
    made = _made(call, facts)
    pictures = tuple(picture for some in made.values() for picture in some)
    if not pictures:
        why, mend = _LACKS.get(call.kind or "", _SILENT)
        raise Unreadable((Problem(call.plan, 0, 0, f"there is nothing to draw as {call.kind}: the plan {why}", mend, "drawn"),))
    if call.kind in ("isometric", "riser") and not (call.out or "").endswith("/") and not os.path.isdir(call.out or ""):
        pictures = pictures[:1]  # the whole; the sheets of a large plan want a folder
    if call.kind == "all" or len(pictures) > 1:
        return _to_folder(call, pictures, [kind for kind, some in made.items() if not some])
    if call.out is None:
        sys.stdout.write(pictures[0].svg + "\n")
    elif call.out.endswith("/"):
        return _to_folder(call, pictures)
    else:
        write_whole(call.out, pictures[0].svg + "\n", "the drawing")
    return NOTHING


def _to_folder(call: Call, pictures: Sequence[Picture], lacking: Sequence[str] = ()) -> int:
    """Writes the drawings into a folder, and says of which kinds there is none."""
    from plancheck.folders import write_folder

    if call.out is None:
        names = ", ".join(picture.name for picture in pictures)
        raise _wrong(f"there are {len(pictures)} drawings: {names}", "name a folder for them with --out FOLDER")
    write_folder(call.out, {f"{picture.name}.svg": picture.svg + "\n" for picture in pictures})
    sys.stderr.write(f"{call.out}: {', '.join(f'{picture.name}.svg' for picture in pictures)}\n")
    for kind in lacking:
        sys.stderr.write(f"{call.out}: nothing to draw as {kind}: the plan {_LACKS.get(kind, _SILENT)[0]}\n")
    return NOTHING


def _made(call: Call, facts: Facts) -> dict[str, tuple[Picture, ...]]:
    """The drawings that are asked for, by kind."""
    report = None
    if call.marks and call.kind in (None, "all", "isometric", "riser"):
        from plancheck.judging import judged

        report = judged(facts, call.amend).report
    if call.kind is None:
        return {"": (supply(facts, report),)}
    return {kind: make(facts, report) for kind, make in KINDS.items() if call.kind in ("all", kind)}


def _wrong(says: str, mend: str) -> Unreadable:
    return Unreadable((Problem("the command line", 0, 0, says, mend),))
