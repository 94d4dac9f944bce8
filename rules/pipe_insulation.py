"""Hot pipe keeps its heat where the energy code asks

Looks at: each new hot run and hot return, once for each kind of place it goes through (inside the heated house, outside it, in
    ground or slab): whether its code asks for insulation there, and whether what is stated is enough. UPC from 2015: every
    hot pipe, as thick as its size. IRC and IPC by the energy code, from 2012: 3/4 and larger, R-3; in later editions also
    any size outside the heated house, in ground or slab, from the heater to a manifold, and in a loop.
Why: a bare 1/2 line has lost its heat in ten minutes, an insulated one in twenty; 3/4 in fifteen and forty-five. The second
    hand-washing of the morning gets hot water, or runs a gallon down the drain.
To mend: slip foam over it once the test is signed, slit and taped at the tees; leave the holes in the framing bare. Half an inch
    of foam counts as R-3.
Cannot see: joints of the insulation, gaps at hangers, what was closed in. From the stop to the faucet nothing is asked.
Ask: many states strike the UPC's section or keep only the energy code's; under IPC the energy code is adopted apart.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Carried,
    Facts,
    InForce,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Path,
    Place,
    Rule,
    Run,
    Subject,
    Value,
    at_least,
    broken,
    holds,
    is_new,
    length,
    on_site,
    printed,
    recalled,
    tube_of,
)

_R3 = printed("IECC", "2012 to 2018", "R403.5.3 (IRC N1103.5.3)")
_R3_2021 = printed("IECC", "2021", "R403.5.2 (IRC N1103.5.2)")
_FROM = (Value(0.75, _R3, since=2012), Value(0.75, _R3_2021, since=2021))
FROM_SIZE = Limit(
    "from_size", "hot pipe inside the house that is insulated with R-3", "in nominal", "at least", irc=_FROM, ipc=_FROM
)
_ITEMS = "R-3 on any size outside the heated house, in ground or slab, from heater to manifold, in a loop"
_ANY = (
    Value(_ITEMS, recalled("IECC", "2015 and 2018", "R403.5.3 items 3 to 7"), since=2015),
    Value(_ITEMS, recalled("IECC", "2021", "R403.5.2 (outside the heated house: read)"), since=2021),
)
ANY_SIZE = Limit("any_size", "hot pipe of any size that is insulated", "text", "", irc=_ANY, ipc=_ANY)
FOAM = Limit(
    "foam",
    "wall of foam that counts as R-3",
    "length",
    "at least",
    practice=(Value(0.5 * INCH_M, PRACTICE, practice=True),),
)
AS_THICK = Limit(
    "as_thick",
    "wall of the insulation against the pipe's size, to 2 in",
    "of the size",
    "at least",
    upc=(Value(1.0, printed("UPC", "2015", "609.11"), since=2015),),
)
RULE = Rule("correction", "finished", (FROM_SIZE, ANY_SIZE, FOAM, AS_THICK))

_FIRST_EDITION = {"irc": 2012, "ipc": 2012, "upc": 2015}
_INSIDE, _OUTSIDE, _GROUND, _UNTOLD = "the house", "the cold", "ground or slab", "a place that may be cold"
_COLD = ("outside wall", "attic", "crawl space")


class Lagged(NamedTuple):
    """A run in one kind of place. inches: its nominal size; listed: of a loop, or from a heater to a manifold."""

    run: Run
    where: str
    place: str | None
    inches: float | None
    listed: bool


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run of hot water, once for each kind of place."""
    runs = [(run, carried) for run in facts.plan.runs.values() if (carried := _hot(run, facts)) is not None]
    if not runs:
        return
    from plancheck.courses import nominal_inches
    from plancheck.lagging import on_the_way

    listed = on_the_way(facts)
    for run, carried in runs:
        tube = tube_of(run, facts.plan)
        inches = nominal_inches(tube) if tube is not None else None
        named = run.id in listed or carried.service == "hot return"
        for where, place in _kinds(run, facts).items():
            name = f"{run.id} in {where}"
            yield Subject(("runs", run.id, "insulation"), name, place, Lagged(run, where, place, inches, named))


def _hot(run: Run, facts: Facts) -> Carried | None:
    if run.work == "removed" or run.from_ is None:
        return None
    carried = facts.carried(run.id)
    return carried if carried.service in ("hot", "hot return") else None


def _kinds(run: Run, facts: Facts) -> dict[str, str | None]:
    places = facts.run_places(run.id)
    found: dict[str, str | None] = {}
    for id_ in places:
        found.setdefault(_where(facts.plan.places[id_]), id_)
    ends = [facts.plan.parts[ref.part].place for ref in (run.from_, run.to) if ref is not None]
    if run.places is None and NOT_KNOWN in ends:
        found.setdefault(_UNTOLD, None)
    return found or {_INSIDE: None}


def _where(place: Place) -> str:
    if place.is_ in ("ground", "slab"):
        return _GROUND
    if place.is_ == "outdoors" or place.freezes is True:
        return _OUTSIDE
    return _UNTOLD if place.is_ in _COLD and place.freezes is not False else _INSIDE


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether it needs insulation there, and has enough."""
    one: Lagged = subject.thing
    if not is_new(one.run):
        return on_site("old hot pipe: see whether it is insulated where one gets at it")
    first = _FIRST_EDITION.get(facts.family or "")
    if first is not None and facts.edition is not None and facts.edition < first:
        return holds("this edition asks for none")
    if one.run.insulation == "in wall":
        return holds("inside the insulation of the wall")
    if facts.family == "upc":
        return _as_thick(one, facts, limits.of(AS_THICK), limits)
    need = _need(one, facts, limits)
    return holds("not asked for") if need is None else _as_r3(one, facts, need, limits)


def _need(one: Lagged, facts: Facts, limits: Limits) -> InForce | None:
    """The limit that asks for R-3, or None. Raises NotShown where size, place or code would decide."""
    size, anywhere = limits.of(FROM_SIZE), limits.of(ANY_SIZE)
    if one.inches is not None and one.inches >= size.number - 0.05:
        return size
    if facts.edition is None or facts.edition >= 2015:
        if one.listed or one.where in (_OUTSIDE, _GROUND):
            return anywhere
        if one.where == _UNTOLD and one.place is None:
            raise NotShown(("runs", one.run.id, "places"), "the places it goes through (places)")
        if one.where == _UNTOLD and one.place is not None:
            raise NotShown(("places", one.place, "freezes"), "whether the place is inside the heated house (freezes)")
    if one.inches is None:
        raise NotShown(_size_key(one), "the size of the tube")
    return None


def _size_key(one: Lagged) -> Path:
    return ("tubes", one.run.tube or "", "size")


def _said(one: Lagged) -> str:
    said = one.run.insulation
    if said is None or said == NOT_KNOWN:
        raise NotShown(("runs", one.run.id, "insulation"), "its insulation (R-3, the wall of the foam, in wall, none)")
    return said


def _as_r3(one: Lagged, facts: Facts, need: InForce, limits: Limits) -> Outcome:
    from plancheck.lagging import r_value_of, wall_of

    said = _said(one)
    r_value = r_value_of(said)
    if r_value is not None and r_value >= 3:
        return holds(said)
    wall_m = None if r_value is not None else wall_of(said)
    foam = limits.of(FOAM)
    if wall_m is not None and at_least(wall_m, foam.number, GRACE_LENGTH_M):
        return holds(f"{said} of foam counts as R-3", length(wall_m), foam)
    if said != NONE and wall_m is None and r_value is None:
        raise NotShown(("runs", one.run.id, "insulation"), "its insulation as an R value or a wall thickness")
    severe = facts.family == "irc" and wall_m is None
    shown = "R-3" if wall_m is None else f"R-3, about {facts.length(foam.number)} of foam"
    return _broken(one, facts, need, shown, "correction" if severe else "advice", facts.length(foam.number))


def _as_thick(one: Lagged, facts: Facts, limit: InForce, limits: Limits) -> Outcome:
    from plancheck.lagging import r_value_of, wall_of

    said = _said(one)
    if one.inches is None and said != NONE:
        raise NotShown(_size_key(one), "the size of the tube")
    least_m = min((one.inches or 0.5) * limit.number, 2.0) * INCH_M
    wall_m = wall_of(said) if said != NONE else 0.0
    if wall_m is None:
        r_value = r_value_of(said)
        if r_value is None or r_value < 3 or least_m > limits.of(FOAM).number + GRACE_LENGTH_M:
            raise NotShown(("runs", one.run.id, "insulation"), "how thick the wall of its insulation is")
        wall_m = least_m
    if at_least(wall_m, least_m, GRACE_LENGTH_M):
        return holds("", length(wall_m), None)
    needed = facts.length(least_m) if one.inches is not None else "as much as the tube's size"
    return _broken(one, facts, limit, f"{needed} of wall", "correction", needed)


def _broken(one: Lagged, facts: Facts, limit: InForce, needed: str, severity: str, foam: str) -> Outcome:
    long_m = facts.run_length_m(one.run.id)
    far = f", {facts.long_length(long_m)}," if long_m is not None else ""
    bare = one.run.insulation == NONE
    found = "bare" if bare else f"with {one.run.insulation} of insulation"
    return broken(
        f"{one.run.id}{far} carries hot water {found} in {one.where}; this code asks for {needed}.",
        severity,
        limit=limit,
        found="none" if bare else str(one.run.insulation),
        needed=f"at least {needed}",
        mend=f"Slip foam with a wall of {foam} over it once the test is signed; leave the framing holes bare.",
    )
