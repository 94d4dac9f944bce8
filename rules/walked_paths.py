"""Paths, heights and lengths of the plan agree with each other

Looks at: positions that are reached twice, by two walks or by a walk and a height; and lengths of tube against the paths
    and rises they lie on.
Why: every distance in this report is measured on these paths. Where two ways of measuring differ, one of them is wrong,
    and so is what was judged by it.
To mend: measure again from a point that is sure, and correct the leg, the height or the length.
Cannot see: which of two figures is the right one; a fault that both walks share.
Ask: whoever held the tape.
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
    Outcome,
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

_BY = {
    "position": "two walks",
    "height": "a walk and a height",
    "length": "the length and the path",
}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Everything in the plan that was measured in two ways."""
    for miss in facts.geometry.compared:
        section = "runs" if miss.run in facts.plan.runs else "parts"
        path = (section, miss.run or miss.part)
        place = facts.plan.parts[miss.part].place if miss.part in facts.plan.parts else None
        name = f"the length of {miss.run}" if miss.what == "length" else f"where {miss.part} is"
        yield Subject(path, name, place, miss)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the two figures agree."""
    miss: Miss = subject.thing
    limit = limits.of(AGREE)
    if at_most(miss.gap_m, limit.number, GRACE_LENGTH_M):
        return holds(f"{_BY[miss.what]} agree", Measured(miss.gap_m, "length"), limit, _estimate(miss, facts))
    run = facts.plan.runs.get(miss.run)
    if run is not None and not is_new(run):
        return on_site("existing pipe: measure it again if anything rests on it")
    return broken(
        _says(miss, facts),
        "advice",
        measured=Measured(miss.gap_m, "length"),
        limit=limit,
        found=f"{facts.length(miss.gap_m)} apart",
        needed=f"within {facts.length(limit.number)}",
        mend=_mend(miss),
        estimate=_estimate(miss, facts),
    )


def _says(miss: Miss, facts: Facts) -> str:
    first, second = facts.length(miss.first_m), facts.length(miss.second_m)
    if miss.what == "length":
        return f"{miss.run} is {first} of tube, but its path (or rise) is {second} long."
    if miss.what == "height":
        by = f"the walk along {miss.run}" if miss.run else "the walk"
        return f"{miss.part} stands {first} up by its height, {second} up by {by}."
    return f"{miss.part} is {first} {miss.axis} by one walk, {second} {miss.axis} by the walk along {miss.run}."


def _mend(miss: Miss) -> str:
    if miss.what == "length":
        return f"Measure {miss.run} again; tube is never shorter than its path."
    return f"Measure the legs that lead to {miss.part} again, and mend the one that is off."


def _estimate(miss: Miss, facts: Facts) -> str:
    shape = facts.geometry.shapes.get(miss.run)
    run = facts.plan.runs.get(miss.run)
    if run is not None and miss.what == "length" and getattr(run.length, "about", False):
        return run.length.text  # type: ignore[union-attr]
    return f"the path of {miss.run}" if shape is not None and shape.about else ""
