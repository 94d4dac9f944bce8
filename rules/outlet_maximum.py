"""Faucets, heads and flushes within the maximum

Looks at: the maker's rated flow of each shower head, hand spray, basin and sink faucet, and the water of each flush. What a
    faucet really gives in this house is computed elsewhere and never compared with these.
Why: what is sold in a country has passed these limits for thirty years; a head that passes more was drilled out or brought
    in, and the hot water of the house was sized without it.
To mend: a head or faucet marked with the limit or less, not under the least flow of the shower's valve.
Cannot see: a flow washer that somebody took out.
Ask: whether the city has lower limits of its own: several do.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GALLON_M3,
    GPM_M3S,
    NONE,
    Facts,
    FixtureOwn,
    Limit,
    Limits,
    Measured,
    Mixer,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    later,
    printed,
    recalled,
)


def _limit(id_: str, title: str, unit: str, most: float, upc: str) -> Limit:
    """One limit; federal law has the same figures since 1994 and stands in where no code is named."""
    federal = Value(most, printed("federal law", "1994", "the same figures"), practice=True)
    return Limit(id_, title, unit, "at most", irc=(Value(most, printed("IRC", "", "P2903.2")),),
                 ipc=(Value(most, recalled("IPC", "", "604.4")),), upc=(Value(most, recalled("UPC", "", upc)),),
                 practice=(federal,))  # fmt: skip


HEAD = _limit("head", "shower head or hand spray, at 80 psi", "flow", 2.5 * GPM_M3S, "408.2")
FAUCET = _limit("faucet", "faucet of a basin or sink, at 60 psi", "flow", 2.2 * GPM_M3S, "407.2 and 420.2")
FLUSH = _limit("flush", "flush of a toilet", "volume", 1.6 * GALLON_M3, "411.2")
URINAL = Limit("urinal", "flush of a urinal", "volume", "at most", upc=(Value(1.0 * GALLON_M3, recalled("UPC", "", "412.1")),),
               ipc=(Value(1.0 * GALLON_M3, recalled("IPC", "", "604.4")),),
               practice=(Value(1.0 * GALLON_M3, printed("federal law", "1994", "urinals"), practice=True),))  # fmt: skip
RULE = Rule(highest="correction", stage="layout", limits=(HEAD, FAUCET, FLUSH, URINAL))

_KEYS = {
    "shower": ("head", "spray"),
    "tub and shower": ("head", "spray"),
    "bathtub": ("spray",),
    "lavatory": ("faucet",),
    "kitchen sink": ("faucet",),
    "bar sink": ("faucet",),
    "toilet": ("flush",),
    "urinal": ("flush",),
}
_TITLES = {"head": "head", "spray": "hand spray", "faucet": "faucet", "flush": "flush"}
_GRACE = {"flow": 0.012 * GPM_M3S, "volume": 0.005 * GALLON_M3}  # 2.5 gpm is sold as 9.5 L/min, which is 2.51


class Asked(NamedTuple):
    """One rate of a fixture: its key, and what is said of it."""

    part: Part
    key: str
    said: Quantity | str | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each rate of each fixture that is not old."""
    for part in facts.plan.parts.values():
        if part.is_ not in _KEYS or not is_new(part) or not isinstance(part.own, FixtureOwn):
            continue
        for key in _KEYS[part.is_]:
            said = getattr(part.own, key)
            if said != NONE and (said is not None or key != "spray"):
                name = f"{_TITLES[key]} of {facts.part_name(part.id)}"
                yield Subject(("parts", part.id, key), name, part.place, Asked(part, key, said))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a rate is within its maximum."""
    asked: Asked = subject.thing
    if not isinstance(asked.said, Quantity):
        if facts.stage != "finished":
            return later("heads, faucets and toilets are chosen later")
        raise NotShown(subject.path, "the maker's rating, from its mark or sheet")
    chosen = {"faucet": FAUCET, "flush": URINAL if asked.part.is_ == "urinal" else FLUSH}.get(asked.key, HEAD)
    limit, about = limits.of(chosen), estimates(asked.said)
    measured = Measured(asked.said.si, chosen.unit)
    if asked.said.si <= limit.number + _GRACE[chosen.unit]:
        return holds(_together(asked.part, facts), measured, limit, about)
    most, name = facts.quantity(limit.number, chosen.unit), facts.part_name(asked.part.id)
    return broken(
        f"{capital(_TITLES[asked.key])} of {name}: {asked.said.text}; at most {most}.",
        "correction",
        measured=measured,
        limit=limit,
        mend=f"Fit one marked {most} or less{_not_under(asked, limit.number)}.",
        estimate=about,
    )


def _together(part: Part, facts: Facts) -> str:
    """What head and hand spray pass together, where there are both."""
    own = part.own
    if isinstance(own, FixtureOwn) and isinstance(own.head, Quantity) and isinstance(own.spray, Quantity):
        return f"head and hand spray together {facts.quantity(own.head.si + own.spray.si, 'flow')}"
    return ""


def _not_under(asked: Asked, most_m3s: float) -> str:
    """The least flow of the valve behind a head."""
    mixer = asked.part.own.mixer if isinstance(asked.part.own, FixtureOwn) else None
    if asked.key not in ("head", "spray") or not isinstance(mixer, Mixer) or not isinstance(mixer.least, Quantity):
        return ""
    if mixer.least.si > most_m3s:
        return f", and a valve tested down to it (this one: {mixer.least.text})"
    return f", not under the valve's least {mixer.least.text}"
