"""A gauge can be put on, and it reads what one wants to know

Looks at: test ports, manifold ports used for testing, and washer, laundry tray or hose valves with a thread and no vacuum
    breaker; and whether one of them stands right: with the main open and every circuit valve shut it reads the supply,
    with the main shut it holds the test of the house. Between it and the main there is no other valve, no check (nor a
    device with a check in it), and no regulator without a gauge connection of its own. A backflow preventer right behind
    the main belongs to the entry: the house is tested behind it.
Why: a gauge is the only way to see inside the pipe. The pressure test, the setting of the regulator and every later
    hunt for a leak begin by putting one on; without a place for it somebody takes a joint apart.
To mend: a port of the cold manifold, or a tee right behind the main, with a ball valve, a hose thread and a cap, normally
    closed, where a hand gets at it.
Cannot see: whether the thread fits the gauge in the van, whether the cap is tight, whether the port is in anybody's way.
Ask: no model code demands a permanent port; the inspector says where the test gauge is to be seen.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Gauge,
    Limits,
    NotShown,
    Outcome,
    Rule,
    Subject,
    broken,
    capital,
    entry_remark,
    gauges_of,
    holds,
    mend_of,
    misplaced,
)

RULE = Rule(highest="advice", stage="layout")

_KEYS = {
    "valve": "its own valve (valve: ball)",
    "end": "what closes its end (end: cap or plug)",
    "normally": "how its valve normally stands (normally: closed)",
    "thread": "the thread a gauge screws on (thread: 3/4 hose)",
    "reach": "how one gets at it (reach: open, or a panel)",
}


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, once; then every connection meant for a gauge."""
    gauges = list(gauges_of(facts))
    yield Subject(("parts",), "a gauge connection for the house", None, gauges)
    for gauge in gauges:
        if gauge.said:
            yield Subject(gauge.path, gauge.name, gauge.place, gauge)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the house has a gauge connection that stands right, or whether one is complete."""
    if isinstance(subject.thing, Gauge):
        return _complete(subject.thing)
    return _house(subject.thing, facts)


def _complete(gauge: Gauge) -> Outcome:
    said = gauge.said
    wrong = []
    if said["valve"] == NONE:
        wrong.append("has no valve of its own")
    if said["end"] == NONE:
        wrong.append("is not capped")
    if said["normally"] == "open":
        wrong.append("normally stands open")
    if said["thread"] == NONE:
        wrong.append("has no thread for a gauge")
    if said["reach"] == NONE:
        wrong.append("cannot be reached")
    if wrong:
        return broken(
            f"{capital(gauge.name)} {' and '.join(wrong)}.",
            "advice",
            found=", ".join(wrong).removeprefix("is "),
            needed="a valve of its own, a thread, a cap, normally closed, within reach",
            mend="Give it a ball valve, a hose thread and a cap, leave it closed, and keep it within reach.",
        )
    for key, what in _KEYS.items():
        if said[key] is None or said[key] == NOT_KNOWN:
            raise NotShown((*gauge.path, key), what)
    return holds(f"{gauge.name} has a valve, a thread and a cap")


def _house(gauges: list[Gauge], facts: Facts) -> Outcome:
    main = facts.main_valve
    if main is None:
        return broken(
            "No valve of the plan shuts the whole house, so nothing can hold its test.",
            "advice",
            found="no main shutoff",
            needed="a main shutoff with a gauge connection behind it",
            mend="Put a full-way main valve where the service comes in, and a gauge connection behind it.",
            cause=("parts",),  # that the house has no main shutoff is told where valves are judged
        )
    reasons: list[str] = []
    blocks: list[str | None] = []
    missing: NotShown | None = None
    for gauge in gauges:
        try:
            reason = misplaced(gauge, gauges, main, facts)
        except NotShown as one:
            missing = missing or one
            continue
        if reason is None:
            return holds(f"{gauge.name} reads supply and house{entry_remark(gauge, main, facts)}")
        if gauge.doubt is None:
            reasons.append(f"{gauge.name} {reason.says}")
            blocks.append(reason.block)
    if missing is not None:
        raise missing
    found = "; ".join(reasons) if reasons else "none"
    says = (
        "There is no connection for a pressure gauge." if not reasons else f"No gauge connection stands right: {found}."
    )
    return broken(
        says,
        "advice",
        found=found,
        needed="one that all house pipe reaches without another valve, a check or a bare regulator before it",
        why="No code demands a permanent port, but without one the pressure test and every later fault means taking a "
        "joint apart.",
        mend=mend_of(blocks, main, facts),
    )
