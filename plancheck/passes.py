"""What runs go through: framing, plates, floors, masonry, foundation and slab, read from the words of a plan. Metres."""

from collections.abc import Iterator

from plancheck.answers import fished_at, tube_of
from plancheck.facts import Facts
from plancheck.measures import Length
from plancheck.model import Pass, Path, Run, Tube
from plancheck.record import NamedTuple

STUD, TOP, SOLE, JOIST, WEB, GLUED = "stud", "top plate", "sole plate", "joist", "web", "glued"
METAL, MASONRY, FOUNDATION, SLAB, FLOOR = "metal stud", "masonry", "foundation", "slab", "floor"
WOOD = frozenset((STUD, TOP, SOLE, JOIST, WEB, GLUED))
CLOSED_AGAIN = frozenset((TOP, SOLE, FLOOR))

_KINDS = (  # words begin like this; the first that fits counts
    (
        METAL,
        ("metal stud", "steel stud", "metal fram", "steel fram", "metal joist", "steel joist", "steel beam", "track"),
    ),
    (WEB, ("i joist", "truss", "web joist", "open web")),
    (GLUED, ("glulam", "lvl", "lsl", "psl", "laminated", "engineered")),
    (FOUNDATION, ("foundation", "footing", "basement wall", "cellar wall", "stem wall", "grade beam")),
    (SLAB, ("slab", "concrete floor")),
    (MASONRY, ("masonry", "brick", "concrete", "stone", "cmu", "block wall", "cinder block", "hollow block")),
    (TOP, ("top plate", "double plate", "wall plate")),
    (SOLE, ("sole plate", "bottom plate", "sill plate", "sill", "mudsill")),
    (TOP, ("plate",)),
    (STUD, ("stud",)),
    (JOIST, ("joist", "rafter", "beam", "girder", "header")),
    (FLOOR, ("subfloor", "floor", "ceiling", "fire block")),
)
_INCH = 0.0254
_ACTUAL_FROM = 20  # a figure of more is in millimetres and as measured
_READ: dict[str, "Member"] = {}
_MOST_READ = 500


class Member(NamedTuple):
    """What is gone through. kinds: one for each thing named; depth_m: the actual depth of the timber, None if not said.

    bearing: True or False where the words say so (an outside wall bears), else None; wood: the kind of timber, or None.
    """

    kinds: tuple[str, ...]
    depth_m: float | None
    bearing: bool | None
    wood: str | None


class Passed(NamedTuple):
    """One entry of `passes`. path: down to it; name: in words; fished: its hole is in closed framing."""

    run: Run
    said: Pass
    member: Member
    tube: Tube | None
    path: Path
    name: str
    place: str | None
    fished: bool

    @property
    def alike(self) -> int | None:
        """How many alike; None where nobody could tell."""
        said = self.said.count_
        return 1 if said is None else said if isinstance(said, int) else None


def passes_of(facts: Facts) -> Iterator[Passed]:
    """Every entry of the runs that are not removed; facts.passes keeps them."""
    plan = facts.plan
    for run in plan.runs.values():
        if not run.passes or isinstance(run.passes, str) or run.work == "removed":
            continue
        tube = tube_of(run, plan)
        place = facts.run_place(run.id)
        for number, said in enumerate(run.passes):
            member, path = member_of(said.through or ""), ("runs", run.id, "passes", number)
            yield Passed(run, said, member, tube, path, f"{said.through} on {run.id}", place, _is_fished(run, said))


def _is_fished(run: Run, said: Pass) -> bool:
    return all(fished_at(run, one) for one in (said.at if isinstance(said.at, tuple) else (None,)))


def member_of(through: str) -> Member:
    """What the words of `through` name: 2x10 joist, top plate, subfloor and sole plate, 45x95 mm stud, foundation wall."""
    found = _READ.get(through)
    if found is None:
        if len(_READ) >= _MOST_READ:
            _READ.clear()
        found = _READ[through] = _member(through.lower().replace("-", " ").replace("×", "x"))
    return found


def _member(text: str) -> Member:
    pieces = text.replace(",", " and ").replace("+", " and ").replace("/", " and ").split(" and ")
    kinds = tuple(dict.fromkeys(kind for piece in pieces if (kind := _kind(piece)) is not None))
    return Member(kinds, _depth_m(text), _bearing(text), next((kind for kind in kinds if kind in WOOD), None))


def _kind(piece: str) -> str | None:
    padded = f" {' '.join(piece.split())}"
    for kind, beginnings in _KINDS:
        if any(f" {beginning}" in padded for beginning in beginnings):
            return kind
    return None


def _bearing(text: str) -> bool | None:
    if "nonbearing" in text or "non bearing" in text or "not bearing" in text:
        return False
    return True if "bearing" in text or "outside" in text or "exterior" in text else None


def _depth_m(text: str) -> float | None:
    """The larger of the two sizes of a timber, planed where they are nominal inches (2x4 is 1-1/2 by 3-1/2 in)."""
    for word in text.replace(" x ", "x").split():
        one, cross, other = word.rstrip("mcin.\"'").partition("x")
        if cross and _is_number(one) and _is_number(other):
            larger = max(float(one), float(other))
            if larger > _ACTUAL_FROM:
                return larger / 1000
            return (larger if "." in one + other else larger - (0.5 if larger < 7 else 0.75)) * _INCH
    return None


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).isdigit() and len(text) < 9


def hole_m(said: Pass) -> float | None:
    """The hole's diameter; None where it is not said."""
    return said.hole.m if isinstance(said.hole, Length) else None


def left_m(one: Passed) -> tuple[float, bool] | None:
    """The wood between hole and the nearest face, and whether it is taken as centred; None where that cannot be told."""
    hole, depth = hole_m(one.said), one.member.depth_m
    if isinstance(one.said.edge, Length):
        other = depth - hole - one.said.edge.m if hole is not None and depth is not None else one.said.edge.m
        return min(one.said.edge.m, max(other, 0.0)), False
    if hole is None or depth is None:
        return None
    return (depth - hole) / 2, True
