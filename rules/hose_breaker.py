"""A vacuum breaker on every hose outlet

Looks at: each hose outlet, and each faucet with a hose thread: what its vacuum breaker is listed to. Each test port with a
    hose thread that stands open. Washer boxes, heater drains and capped test ports are not asked.
Why: a hose lies in a pool, a pond or a sprayer of weed killer. When the street loses pressure, the house drinks from it.
To mend: a frost-proof hose outlet with the breaker built in, or a screw-on breaker (ASSE 1011) with its break-off screw.
Cannot see: whether somebody took the breaker off because it dripped; a hose left on in winter, which holds water in a
    frost-proof stem and splits it.
Ask: what a yard hydrant that drains underground needs: it is another device.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    FixtureOwn,
    GaugePortOwn,
    Limit,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

_TEXT = "a vacuum breaker of the atmospheric, pressure or hose connection kind"
BREAKER = Limit("breaker", "hose outlets", "text", "", irc=(Value(_TEXT, printed("IRC", "", "P2902.4.3")),),
                ipc=(Value(_TEXT, recalled("IPC", "", "608")),), upc=(Value(_TEXT, recalled("UPC", "", "603.5")),),
                practice=(Value(_TEXT, printed("IRC", "", "P2902.4.3"), practice=True),))  # fmt: skip
SHUT = Limit("shut", "an atmospheric breaker with something that can shut behind it", "text", "",
             practice=(Value("nothing that can shut behind an atmospheric breaker (ASSE 1001)",
                             printed("IRC", "", "Table P2902.3, a state's copy of 2014"), practice=True),))  # fmt: skip
RULE = Rule(highest="correction", stage="layout", limits=(BREAKER, SHUT))

_HOLD = frozenset(("1011", "1019", "1052", "1020", "1056"))
_FAUCETS = ("kitchen sink", "bar sink", "laundry tray", "lavatory")


class Thread(NamedTuple):
    """The hose thread of a test port: the port's path, name, what closes it, and whether it is new."""

    path: Path
    name: str
    end: str | None
    new: bool


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each hose outlet, each faucet that says it has a hose thread, each test port with one."""
    for part in facts.plan.parts.values():
        own = part.own
        if part.work == "removed":
            continue
        name = facts.part_name(part.id)
        if part.is_ == "hose outlet" or (part.is_ in _FAUCETS and _hose(getattr(own, "thread", None))):
            yield Subject(("parts", part.id, "breaker"), f"vacuum breaker of {name}", part.place, part)
        elif isinstance(own, GaugePortOwn) and _hose(own.thread):
            thread = Thread(("parts", part.id), name, own.end, is_new(part))
            yield Subject((*thread.path, "end"), f"hose thread of {name}", part.place, thread)
        elif isinstance(own, ManifoldOwn):
            for port in own.ports.values():
                if port.use == "test" and _hose(port.thread):
                    thread = Thread(
                        ("parts", part.id, "ports", port.id), f"{part.id}/{port.id}", port.end, is_new(part)
                    )
                    yield Subject((*thread.path, "end"), f"hose thread of {thread.name}", part.place, thread)


def _hose(thread: str | None) -> bool:
    return thread is not None and ("hose" in thread.lower() or "ght" in thread.lower())


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether what a hose screws on has a breaker."""
    if isinstance(subject.thing, Thread):
        return _port(subject.thing, limits)
    part: Part = subject.thing
    assert isinstance(part.own, FixtureOwn)
    return _outlet(part, part.own.breaker, facts, limits)


def _outlet(part: Part, breaker: str | None, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.standards import numbers_in

    name = facts.part_name(part.id)
    if breaker is None or breaker == NOT_KNOWN:
        raise NotShown(
            ("parts", part.id, "breaker"), "what its vacuum breaker is listed to (breaker: ASSE 1011, or none)"
        )
    if breaker == NONE:
        return broken(
            f"{capital(name)} has no vacuum breaker.",
            "correction" if is_new(part) else "advice",
            limit=limits.of(BREAKER),
            found="none",
            needed="a vacuum breaker listed to ASSE 1011, 1019, 1052, 1020 or 1056",
            mend="Fit a frost-proof hose outlet with its breaker built in (ASSE 1019), or screw on one (ASSE 1011) and break off "
            "its screw.",
        )
    numbers = numbers_in(breaker)
    if numbers & _HOLD:
        return holds(f"listed to {breaker}")
    if "1001" not in numbers:
        return on_site(f"'{breaker}' is no breaker known here: see what it is listed to")
    if not is_new(part):
        return on_site("an atmospheric breaker: no nozzle may shut the hose behind it")
    return broken(
        f"{capital(name)} has an atmospheric breaker (ASSE 1001), and a hose nozzle can shut behind it.",
        "correction",
        limit=limits.of(SHUT),
        found="ASSE 1001 with a hose behind it",
        needed="a breaker made for a hose: ASSE 1011, 1019, 1052, 1020 or 1056",
        why="Under pressure for hours its float sticks, and it no longer opens when the street runs dry.",
        mend="Screw on one listed to ASSE 1011 and break off its screw, or fit a hose outlet with one built in.",
    )


def _port(thread: Thread, limits: Limits) -> Outcome:
    if thread.end in ("cap", "plug"):
        return holds("closed but for the gauge")
    if thread.end is None or thread.end == NOT_KNOWN:
        raise NotShown((*thread.path, "end"), "what closes its hose thread (end: cap)")
    if not thread.new:
        return on_site(f"existing {thread.name}: cap its hose thread")
    return broken(
        f"The hose thread of {thread.name} stands open, without a vacuum breaker.",
        "advice",
        limit=limits.maybe(BREAKER),
        found="an open hose thread",
        needed="a cap, or a vacuum breaker",
        mend="Cap it, and take the cap off for the gauge alone.",
        cause=thread.path,  # that it is open is told where it is asked whether it serves a gauge
    )
