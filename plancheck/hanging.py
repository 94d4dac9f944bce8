"""Judging what holds a run: how large its gaps are, guides, first supports, the kind of support."""

from plancheck.answers import GRACE_LENGTH_M, at_most, broken, holds, length, on_site
from plancheck.facts import Facts
from plancheck.limits import InForce
from plancheck.measures import Length
from plancheck.model import NONE, Path
from plancheck.outcomes import Measured, Outcome
from plancheck.spacing import Free, Hung, be_sure, first_distance, free, stated, tall_storey_m, unguided
from plancheck.supports import as_marked, longest_upright, wanting

_NAMED = 12  # so many places for supports are named; of more only how many


def judge_gaps(hung: Hung, upright: bool, limit: InForce, facts: Facts) -> Outcome:
    """Whether the gaps of one way keep their limit: as the plan states them, or else as its points leave them.

    Raises NotShown for what the plan could say.
    """
    every = stated(hung.said, upright)
    if every is not None and at_most(every.m, limit.number, GRACE_LENGTH_M):
        return holds(f"every {every.text}", Measured(every.m, "length"), limit, every.text if every.about else "")
    found = free(hung, upright)
    limit = _by_storey(limit, 1.0, hung, facts) if upright else limit
    if at_most(found.gap.m, limit.number, GRACE_LENGTH_M):
        return holds("no gap is larger", length(found.gap.m), limit, found.estimate)
    be_sure(hung, found, upright, limit.number + GRACE_LENGTH_M)
    if hung.said.kind == "channel":
        return on_site("it lies in a channel: how far apart the channel itself is held, by its maker's sheet")
    return _too_far(hung, found, upright, limit, facts)


def _by_storey(limit: InForce, part: float, hung: Hung, facts: Facts) -> InForce:
    """The limit; under the UPC that part of a storey, where the floors of the plan show one that is taller."""
    if facts.family != "upc" or hung.course is None or limit.because is not None:
        return limit
    storey_m = part * tall_storey_m(hung.run, hung.course, facts)
    return limit._replace(value=storey_m) if storey_m > limit.number else limit


def _too_far(hung: Hung, found: Free, upright: bool, limit: InForce, facts: Facts) -> Outcome:
    run, gap, most, way = hung.run, found.gap, facts.length(limit.number), "upright" if upright else "level"
    if found.every is not None:
        says = f"{run.id} is held every {facts.length(found.every.m)}"
    elif run.supports == NONE:
        says = f"Nothing holds {run.id} for {facts.length(gap.m)}"
    else:
        says = f"{run.id} hangs free from {facts.length(gap.start_m)} to {facts.length(gap.end_m)} from its start"
    return broken(
        f"{says}, {way}; at most {most}.",
        "correction",
        measured=length(gap.m),
        limit=limit,
        found=f"{facts.length(gap.m)} between supports, {way}",
        mend=_mend(hung, found, upright, limit.number, facts),
        cause=_held_by_nothing(hung) if upright else None,
        estimate=found.estimate,
    )


def _held_by_nothing(hung: Hung) -> Path | None:
    """Where it is told of a run's level parts that nothing holds it; it is the same of its risers."""
    return ("runs", hung.run.id, "supports") if hung.run.supports == NONE else None


def _mend(hung: Hung, found: Free, upright: bool, most_m: float, facts: Facts) -> str:
    """How many supports to add, and where, if the places of those there are known."""
    more, most = [], facts.length(most_m)
    if hung.course is not None and hung.course.ordered:
        more = wanting(hung.course, found.points, upright, most_m, GRACE_LENGTH_M)
    if not more:
        return f"Hold it every {most} or less."
    many = f"Add {len(more)} support{'s' if len(more) > 1 else ''}"
    if found.every is None and len(more) <= _NAMED:
        step_m = 0.0254 if facts.units.length == "ft-in" else 0.01
        more = (
            as_marked(hung.course, found.points, more, upright, most_m + GRACE_LENGTH_M, step_m)
            if hung.course
            else more
        )
        many += f" at {', '.join(facts.length(one) for one in more)} from its start"
    return f"{many}, so that no gap is over {most}."


def judge_guides(hung: Hung, limit: InForce, facts: Facts) -> Outcome | None:
    """Whether upright pipe is guided halfway between its supports; None where it is, or is too short to need a guide.

    Raises NotShown for what the plan could say.
    """
    course, every = hung.course, stated(hung.said, True)
    if course is None or (every is not None and every.m <= limit.number + GRACE_LENGTH_M):
        return None
    tall = longest_upright(course)
    if tall is None or at_most(tall.length_m, limit.number, GRACE_LENGTH_M):
        return None
    limit = _by_storey(limit, 0.5, hung, facts)
    gap, most = unguided(hung, course, limit.number + GRACE_LENGTH_M), facts.length(limit.number)
    if gap is None:
        return None
    return broken(
        f"{hung.run.id} stands {facts.length(tall.length_m)} upright without a guide halfway up.",
        "correction",
        measured=length(gap.m),
        limit=limit,
        found=f"{facts.length(gap.m)} without support or guide",
        needed=f"a support or a guide at most {most} apart",
        mend=f"Set a guide halfway between the supports, or hold the riser every {most} or less.",
        cause=_held_by_nothing(hung),
        estimate=course.estimate,
    )


def judge_first(hung: Hung, most_m: float, limit: InForce, facts: Facts) -> Outcome:
    """Whether a support stands near enough to each end, corner and fitting. most_m: what the limit, in spans, comes to.

    Raises NotShown for what the plan could say.
    """
    ends = hung.said.ends
    if type(ends) is Length and ends.m <= most_m + GRACE_LENGTH_M and type(hung.said.at) is not tuple:
        return holds("first supports near enough", Measured(ends.m, "length"), limit, ends.text if ends.about else "")
    found_m, where_m, estimate = first_distance(hung, most_m + GRACE_LENGTH_M)
    if at_most(found_m, most_m, GRACE_LENGTH_M):
        return holds("first supports near enough", length(found_m), limit, estimate)
    where = f" {facts.length(where_m)} from its start" if where_m is not None else ""
    return broken(
        f"The first support of {hung.run.id} is {facts.length(found_m)} from the fitting or corner{where}.",
        "advice",
        measured=length(found_m),
        limit=limit,
        needed=f"at most {facts.length(most_m)}: half a span at each end, corner and fitting",
        mend=f"Add a support within {facts.length(most_m)} of each fitting and corner.",
        estimate=estimate,
    )
