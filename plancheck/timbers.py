"""What a hole or a notch leaves of a stud, plate or joist, against limits given by their ids. Metres."""

from collections.abc import Callable

from plancheck.answers import GRACE_LENGTH_M, at_least, at_most
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.measures import Length
from plancheck.model import NOT_KNOWN
from plancheck.passes import Passed, left_m
from plancheck.record import NamedTuple

InForceOf = Callable[[str], InForce]  # the limit in force of an id
_NARROWEST_M = 2.5 * 0.0254  # of plates that are made: a 2x3
_APART_M = 2 * 0.0254  # between two holes in a joist


class Fault(NamedTuple):
    """One thing that is too much: in words, with the limit and what it allows here. everywhere: whatever the family."""

    says: str
    needed: str
    found_m: float
    limit: InForce
    mend: str
    everywhere: bool = False


def faults_of(one: Passed, facts: Facts, of: InForceOf) -> list[Fault]:
    """What is too much. Raises NotShown where nothing is, but a fact is missing that could tell of more."""
    faults: list[Fault] = []
    missing: NotShown | None = None
    for judge in _JUDGES[one.member.wood or ""]:
        try:
            fault = judge(one, facts, of)
        except NotShown as lack:
            missing = missing or lack
            continue
        if fault is not None:
            faults.append(fault)
    if missing is not None and not faults:
        raise missing
    return faults


def wants_strap(one: Passed) -> bool:
    """Whether a top plate that bears is cut over half its width."""
    if one.member.wood != "top plate" or bears(one) is not True or one.member.depth_m is None:
        return False
    return not at_most(cut_m(one), one.member.depth_m / 2, GRACE_LENGTH_M)


def bears(one: Passed) -> bool | None:
    """Whether the wall bears, as `bearing` says it, else the words of `through`; None where neither does."""
    said = one.said.bearing
    return said if isinstance(said, bool) else one.member.bearing if said is None else None


def _depth_m(one: Passed) -> float:
    if one.member.depth_m is None:
        raise NotShown((*one.path, "through"), "the size of the timber (through: 2x4 stud)")
    return one.member.depth_m


def cut_m(one: Passed) -> float:
    """The larger of hole and notch. Raises NotShown where neither is said."""
    cuts = [cut.m for cut in (one.said.hole, one.said.notch) if isinstance(cut, Length)]
    if not cuts:
        raise NotShown((*one.path, "hole"), "how large the hole is")
    return max(cuts)


def _hole_m(one: Passed) -> float | None:
    """The hole; None where only a notch is cut. Raises NotShown where neither is said."""
    if isinstance(one.said.hole, Length):
        return one.said.hole.m
    if isinstance(one.said.notch, Length) and one.said.hole != NOT_KNOWN:
        return None
    raise NotShown((*one.path, "hole"), "how large the hole is")


def _over(one: Passed, what: str, found_m: float, limit: InForce, facts: Facts, mend: str) -> Fault:
    depth_m = _depth_m(one)
    most = facts.length(limit.number * depth_m)
    cut = "goes through" if what == "hole" else "is cut into"
    says = f"a {what} of {facts.length(found_m)} {cut} a {one.said.through} of {facts.length(depth_m)} (at most {most})"
    return Fault(
        says, f"{what}: at most {most} ({limit.number:.0%} of the depth)", found_m, limit, mend.format(most=most)
    )


def _stud_hole(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    hole_m, bearing, doubled = _hole_m(one), bears(one), one.said.doubled
    if hole_m is None:
        return None
    depth_m, small, large = _depth_m(one), of("bearing_hole"), of("stud_hole")
    if at_most(hole_m, small.number * depth_m, GRACE_LENGTH_M):
        return None
    mend = "Drill {most} at most, or leave this stud whole and go through another wall."
    if not at_most(hole_m, large.number * depth_m, GRACE_LENGTH_M):
        return _over(one, "hole", hole_m, large, facts, mend)
    if bearing is False or (doubled is True and one.alike is not None and one.alike <= 2):
        return None
    if bearing is None:
        raise NotShown((*one.path, "bearing"), "whether the wall bears (bearing: true or false)")
    if doubled == NOT_KNOWN:
        raise NotShown((*one.path, "doubled"), "whether the stud is doubled")
    mend = "Drill {most} at most, or double the stud, no more than two in a row."
    return _over(one, "hole", hole_m, small, facts, mend)


def _stud_left(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    return _too_near(one, facts, of("stud_left"), False)


def _joist_left(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    return _too_near(one, facts, of("joist_left"), True)


def _too_near(one: Passed, facts: Facts, limit: InForce, ask_edge: bool) -> Fault | None:
    if _hole_m(one) is None:
        return None
    left = left_m(one)
    if left is None:
        raise NotShown((*one.path, "edge"), "how much wood is left from the hole to the nearest face")
    if at_least(left[0], limit.number, GRACE_LENGTH_M):
        if left[1] and ask_edge:
            raise NotShown((*one.path, "edge"), "how much wood is left from the hole to the nearest face")
        return None
    even = ", even centred" if left[1] else ""
    least = facts.length(limit.number)
    says = f"{facts.length(left[0])} of wood is left beside the hole{even} (at least {least})"
    mend = f"Drill so that {least} of wood stays on both sides" + (": a smaller hole." if left[1] else ".")
    return Fault(says, f"wood left: at least {least}", left[0], limit, mend)


def _stud_notch(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    if not isinstance(one.said.notch, Length):
        return None
    notch_m, depth_m, bearing = one.said.notch.m, _depth_m(one), bears(one)
    small, large = of("bearing_notch"), of("stud_notch")
    mend = "Bore the middle instead of notching, or notch {most} at most."
    if not at_most(notch_m, large.number * depth_m, GRACE_LENGTH_M):
        return _over(one, "notch", notch_m, large, facts, mend)
    if at_most(notch_m, small.number * depth_m, GRACE_LENGTH_M) or bearing is False:
        return None
    if bearing is None:
        raise NotShown((*one.path, "bearing"), "whether the wall bears (bearing: true or false)")
    return _over(one, "notch", notch_m, small, facts, mend)


def _joist_hole(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    hole_m, limit = _hole_m(one), of("joist_hole")
    if hole_m is None or at_most(hole_m, limit.number * _depth_m(one), GRACE_LENGTH_M):
        return None
    mend = "Drill {most} at most, in the middle of the depth; put two tubes through two holes, {apart} apart."
    mend = mend.replace("{apart}", facts.length(_APART_M))
    return _over(one, "hole", hole_m, limit, facts, mend)._replace(everywhere=True)


def _joist_notch(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    if not isinstance(one.said.notch, Length):
        return None
    notch_m, depth_m, span = one.said.notch.m, _depth_m(one), one.said.span
    limit, end = of("joist_notch"), of("joist_end")
    mend = "Bore the middle of the depth instead; a notch is {most} deep at most, and never in the middle third."
    if span == "middle":
        says = f"a notch of {facts.length(notch_m)} is cut into the middle third of a {one.said.through}, where none is allowed"
        fault = _over(one, "notch", notch_m, limit, facts, mend)
        return fault._replace(says=says, needed="no notch in the middle third of the span", everywhere=True)
    if not at_most(notch_m, end.number * depth_m, GRACE_LENGTH_M):
        return _over(one, "notch", notch_m, end, facts, mend)
    if span != "end":
        raise NotShown((*one.path, "span"), "where along the joist the notch is (span: end or middle)")
    return None


def _plate_cut(one: Passed, facts: Facts, of: InForceOf) -> Fault | None:
    cut, half = cut_m(one), of("plate_cut")
    if at_most(cut, half.number * (one.member.depth_m or _NARROWEST_M), GRACE_LENGTH_M) or bears(one) is False:
        return None
    _depth_m(one)
    if bears(one) is None:
        raise NotShown((*one.path, "bearing"), "whether the wall bears (bearing: true or false)")
    return None


_JUDGES = {
    "stud": (_stud_hole, _stud_left, _stud_notch),
    "joist": (_joist_hole, _joist_left, _joist_notch),
    "top plate": (_plate_cut,),
}
