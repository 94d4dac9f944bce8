"""Paths, heights and lengths of the plan agree with each other

Looks at: whatever the plan measures in two ways. Two walks along paths that end at the same part; a walk that ends at a
    part whose height is said; a rise beside a path; and tube against what it must span: its path, its rise, or where
    its two ends stand. What a plan cannot say is granted: 4 in more between hot and cold of a lavatory, a sink or a
    heater, 8 in for each part screwed onto another, a manifold whose row is not said, a return low on a heater.
Why: bends, supports, clearances and hot water waits are all measured on these paths. Where two ways of measuring
    differ, one of them is wrong, and so is what was judged by it; tube shorter than its path is cut too short.
To mend: measure again from a point that is sure, and correct the leg, the height, the rise or the length that is off.
Cannot see: which of two figures is the right one; a fault that both walks share; what lies 6 in off or less, since a
    tape and a drawing differ by so much.
Ask: whoever held the tape. No code speaks of this.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    PRACTICE,
    Facts,
    Limit,
    Limits,
    Measured,
    Miss,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Value,
    at_most,
    broken,
    holds,
    is_new,
    on_site,
)

AGREE = Limit(
    "agree",
    "how far two ways of measuring one thing may differ",
    "length",
    "at most",
    practice=(Value(6 * 0.0254, PRACTICE, practice=True),),
)
RULE = Rule(highest="advice", stage="layout", limits=(AGREE,))

_SAME_M = 0.0254  # misses that differ by less than this are one miss carried on
_SPANS = {
    "path": "its path is {} long",
    "rise": "it rises or falls {}",
    "distance": "its two ends stand {} apart",
    "heights": "its two ends differ by {} in height",
}
_TOO_MUCH = {
    "path": "its path is too long",
    "rise": "its rise is too much",
    "distance": "its ends stand nearer",
    "heights": "the heights of its ends are off",
}
_HOLDS = {
    "position": "two walks meet",
    "joint": "both stand where they are made up",
    "height": "walk and height agree",
    "ends": "the run and the heights of its ends agree",
    "rise": "rise and path agree",
    "length": "the tube spans it",
}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Everything in the plan that is measured in two ways."""
    roots: list[tuple[Miss, Path]] = []
    for miss in facts.geometry.compared:
        part = facts.plan.parts.get(miss.part)
        yield Subject(_path(miss), _name(miss), part.place if part is not None else None, (miss, roots))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the two figures agree."""
    miss: Miss = subject.thing[0]
    limit = limits.of(AGREE)
    if at_most(miss.gap_m, limit.number, GRACE_LENGTH_M):
        return holds(_HOLDS[miss.what], Measured(miss.gap_m, "length"), limit, miss.about)
    if _is_old(miss, facts):
        return on_site("existing pipe: measure it again if anything rests on it")
    if _is_fished(miss, facts):
        return on_site("drawn through closed framing, so its path is a guess: find where it runs")
    if at_most(miss.least_m, limit.number, GRACE_LENGTH_M):
        if miss.row:
            raise NotShown(("parts", miss.row, "row"), "which way the ports of the manifold go (row: east)")
        says = f"{facts.length(miss.gap_m)} apart, no more than the fittings between may take up"
        return holds(says, Measured(miss.gap_m, "length"), limit, miss.about)
    return _apart(miss, _root(miss, subject), facts, limit.number)._replace(limit=limit)


def _path(miss: Miss) -> Path:
    if miss.what in ("height", "joint"):
        return ("parts", miss.part, "height") if miss.what == "height" else ("parts", miss.part)
    return ("runs", miss.run, miss.what) if miss.what in ("rise", "length") else ("runs", miss.run)


def _name(miss: Miss) -> str:
    if miss.what in ("rise", "length"):
        return f"the {miss.what} of {miss.run}"
    if miss.what == "joint":
        return f"where {miss.part} is made up to {miss.by}"
    return f"how high {miss.part} is" if miss.what == "height" else f"where {miss.run} meets {miss.part}"


def _is_old(miss: Miss, facts: Facts) -> bool:
    run = facts.plan.runs.get(miss.run)
    return not is_new(facts.plan.parts[miss.part] if run is None or miss.what == "height" else run)


def _is_fished(miss: Miss, facts: Facts) -> bool:
    runs = (facts.plan.runs.get(name) for name in (miss.run, miss.by))
    return miss.what != "length" and any(run is not None and run.fished not in (None, False) for run in runs)


def _apart(miss: Miss, cause: Path | None, facts: Facts, most_m: float) -> Outcome:
    gap = facts.length(miss.gap_m)
    rests = f"Everything measured on the way to {miss.part} by {miss.run or miss.by}" if miss.part else "Its figures"
    if miss.what == "length":
        rests = f"What is judged by the tube of {miss.run}"
    return broken(
        _says(miss, facts),
        "advice",
        measured=Measured(miss.gap_m, "length"),
        found=f"{gap} short" if miss.what == "length" else f"{gap} apart{_by(miss)}",
        needed=f"within {facts.length(most_m)}",
        why=f"{rests} rests on one of the two figures, and they cannot both be right.",
        mend=_mend(miss, facts),
        cause=cause,
        estimate=miss.about,
    )


def _by(miss: Miss) -> str:
    return f", by {miss.by} and by {miss.run}" if miss.what == "position" and miss.by and miss.by != miss.run else ""


def _says(miss: Miss, facts: Facts) -> str:
    first, second = facts.length(miss.first_m), facts.length(miss.second_m)
    if miss.what == "length":
        return f"{miss.run} is {first} of tube, but {_SPANS[miss.axis].format(second)}."
    if miss.what == "rise":
        return f"{miss.run} is said to rise {first}, but its path rises {second}."
    if miss.what == "ends":
        return f"{miss.run} ends {second} up at {miss.part}, which stands {first} up by its height."
    if miss.what == "height":
        by = f"the walk along {miss.run}" if miss.run else "where it is said to be"
        return f"{miss.part} stands {first} up by its height, {second} up by {by}."
    if miss.what == "joint":
        return f"{miss.part} is {first} {miss.axis}, but {miss.by}, to which it is made up, {second} {miss.axis}."
    return f"{miss.part} is {first} {miss.axis} by one walk, {second} {miss.axis} by the walk along {miss.run}."


def _mend(miss: Miss, facts: Facts) -> str:
    if miss.what == "length":
        longer, off = facts.length(miss.second_m), facts.length(miss.gap_m)
        return f"Measure {miss.run} again: it takes {longer} of tube at least, or {_TOO_MUCH[miss.axis]} by {off}."
    if miss.what == "rise":
        return f"Take the rise of {miss.run} out, since its path tells it, or correct the leg that is off."
    between = f"{miss.by} and {miss.run}" if miss.by and miss.by != miss.run else miss.run
    legs = f"along {between}" if between and miss.what != "joint" else f"that lead to {miss.part}"
    return f"Measure the legs {legs} again, and correct the one that is {facts.length(miss.gap_m)} off."


def _root(miss: Miss, subject: Subject) -> Path | None:
    """The first miss by the same offset: one wrong leg makes every later meeting miss by as much."""
    if miss.what in ("rise", "length"):
        return None
    roots: list[tuple[Miss, Path]] = subject.thing[1]
    for other, path in roots:
        if all(abs(abs(a) - abs(b)) < _SAME_M for a, b in zip(miss.off, other.off, strict=True)):
            return path
    roots.append((miss, subject.path))
    return None
