"""Joins the ends of runs to connections, and parts made up directly to others."""

from __future__ import annotations

from plancheck.building.notes import Notes
from plancheck.building.refs import check_uses, resolve
from plancheck.building.section import Section
from plancheck.model import Part, Path, Ref, Run


def join(section: Section, parts: dict[str, Part], runs: dict[str, Run]) -> dict[str, Part]:
    """Joins the ends of runs and the parts made up directly to others; runs is filled in place."""
    notes = section.notes
    joined: dict[Ref, list[Path]] = {}
    for id_, entry in section.entries("runs").items():
        ends: dict[str, Ref | None] = {"from_": None, "to": None}
        for key, field in (("from", "from_"), ("to", "to")):
            if key in entry:
                ref = resolve(str(entry[key]), parts, key == "to", ("runs", id_, key), notes)
                ends[field] = ref
                if ref is not None:
                    joined.setdefault(ref, []).append(("runs", id_, key))
        if id_ in runs:
            runs[id_] = runs[id_]._replace(**ends)  # type: ignore[arg-type]
    found = dict(parts)
    for id_, entry in section.entries("parts").items():
        if "onto" in entry and id_ in parts:
            path: Path = ("parts", id_, "onto")
            target = resolve(str(entry["onto"]), parts, False, path, notes)
            own = resolve(id_, parts, True, path, notes)
            for ref in (target, own):
                if ref is not None:
                    joined.setdefault(ref, []).append(path)
            found[id_] = parts[id_]._replace(onto=target)
    check_uses(joined, parts, notes)
    _inherit_places(found, notes)
    return found


def _inherit_places(parts: dict[str, Part], notes: Notes) -> None:
    """A part made up directly to another stands in its place; a circle of such parts is noted."""
    for id_, part in parts.items():
        if part.onto is None or part.place is not None:
            continue
        seen = [id_]
        here = part
        while here.place is None and here.onto is not None:
            if here.onto.part in seen:
                circle = " onto ".join((*seen, here.onto.part))
                notes.add(("parts", id_, "onto"), f"a circle: {circle}", "let one of them stand by itself")
                break
            seen.append(here.onto.part)
            here = parts[here.onto.part]
        parts[id_] = part._replace(place=here.place)
