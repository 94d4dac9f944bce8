"""Every port valve is named, named right, and can be reached

Looks at: the label of each port of a manifold on which something hangs, and of spare and test ports: whether it is there, whether
    one of its words names a place, a kind or a part that goes dry with the port, and whether another port says the same;
    and whether one gets at each manifold. Hot, cold, room, and endings say nothing; on hot and cold rows the same words
    are right.
Why: a label is read once in ten years, by somebody with water running down the stairs. A wrong one costs the minutes that matter.
To mend: write what goes dry, the place first: Loft bath; where two labels are exchanged, swap them.
Cannot see: labels in another tongue or by a name of the house, and whether the label is still on.
Ask: the inspector how labels are to be fixed.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Port,
    Reach,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    later,
    listed,
    on_site,
    printed,
    recalled,
)

_MARKED = "each valve of a manifold marked with what it serves"
MARKED = Limit(
    "marked",
    "labels of manifold valves",
    "text",
    "",
    irc=(Value(_MARKED, printed("IRC", "", "P2903.8.5")),),
    ipc=(Value(_MARKED, recalled("IPC", "2018", "604.10.2")),),
    upc=(Value(_MARKED, recalled("UPC", "2021", "606.5")),),
    practice=(Value(_MARKED, printed("IRC", "", "P2903.8.5"), practice=True),),
)
REACHED = Limit(
    "reached",
    "access to manifold valves",
    "text",
    "",
    irc=(Value("accessible", printed("IRC", "", "P2903.8.5")),),
    ipc=(Value("accessible", recalled("IPC", "2018", "604.10.3")),),
    practice=(Value("accessible", printed("IRC", "", "P2903.8.5"), practice=True),),
)
RULE = Rule("correction", "rough-in", (MARKED, REACHED))

_EMPTY = frozenset(("hot", "cold", "and", "the", "room", "of", "water", "line", "port", "valve", "supply"))
_IDLE = {"spare": frozenset(("spare",)), "test": frozenset(("test", "gauge"))}
_MINOR = 4  # letters from which one word may begin another: bath, bathroom


class Named(NamedTuple):
    """A port: its manifold, the words that would name it, by place ("" for what has none), and what it dries, in words."""

    part: Part
    port: Port
    name: str
    words: dict[str, frozenset[str]]
    dries: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """Its label; empty where none is written."""
        return self.port.label if self.port.label not in (None, NONE, NOT_KNOWN) else ""


class Row(NamedTuple):
    """A manifold's ports, named."""

    part: Part
    ports: tuple[Named, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each port that is used, spare or for the gauge; then its manifold, for the hand that has to reach it."""
    for part in facts.plan.parts.values():
        if not isinstance(part.own, ManifoldOwn) or part.work == "removed":
            continue
        ports = tuple(named for port in part.own.ports.values() if (named := _named(part, port, facts)) is not None)
        row = Row(part, ports)
        for named in ports:
            yield Subject(("parts", part.id, "ports", named.port.id), named.name, part.place, (named, row))
        if ports:
            yield Subject(("parts", part.id), f"access to {facts.part_name(part.id)}", part.place, row)


def _named(part: Part, port: Port, facts: Facts) -> Named | None:
    name = f"{part.id}/{port.id}"
    if port.use in _IDLE:
        return Named(part, port, name, {"": _IDLE[port.use]})
    if port.use in ("feed", "section", NOT_KNOWN):
        return None
    words: dict[str, frozenset[str]] = {}
    dries = []
    for id_ in _dried(part, port, facts):
        thing = facts.plan.parts[id_]
        place = facts.plan.places.get(thing.place or "")
        own = _split(f"{thing.is_} {thing.id} {thing.name or ''}")
        if place is not None:
            own |= _split(f"{place.id} {place.title}")
        key = "" if place is None else place.id
        dries.append(facts.part_name(id_) if place is None or thing.is_ == "water heater" else place.title)
        words[key] = words.get(key, frozenset()) | own
    return Named(part, port, name, words, tuple(dict.fromkeys(dries))) if words or port.use == "onward" else None


def _dried(part: Part, port: Port, facts: Facts) -> list[str]:
    """The parts that go dry with the port: the heater alone where it hangs there, else the fixtures."""
    shutoffs, graph = facts.shutoffs, facts.network
    vertex = graph.number.get(f"{part.id}/{port.id}")
    zones = shutoffs.zones_at(vertex) if vertex is not None else None
    if vertex is None or zones is None:
        return []
    heaters = [one.id for one in facts.plan.parts.values() if one.is_ == "water heater" and one.work != "removed"]
    dry = [one for one in heaters if zones.shuts(vertex, graph.number[f"{one}/cold"])]
    sides = [side.split("/") for side in shutoffs.dried(zones, vertex)]
    return list(dict.fromkeys([*dry, *(side[0] for side in sides if not dry or side[-1] != "hot")]))


def _split(text: str) -> frozenset[str]:
    letters = "".join(letter if letter.isalnum() else " " for letter in text.casefold())
    return frozenset(word.removesuffix("s") for word in letters.split()) - _EMPTY


def _meets(label: frozenset[str], words: frozenset[str]) -> bool:
    return any(
        one == two or (min(len(one), len(two)) >= _MINOR and (one.startswith(two) or two.startswith(one)))
        for one in label
        for two in words
    )


def _all(named: Named) -> frozenset[str]:
    return frozenset().union(*named.words.values())


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a port's label is there and true, or whether one gets at the manifold."""
    if isinstance(subject.thing, Row):
        return _reach(subject.thing, limits)
    named, row = subject.thing
    if not is_new(row.part):
        return on_site("old manifold: close each port and see what goes dry")
    path = (*subject.path, "label")
    if named.label:
        return _true(named, row, facts, limits)
    if facts.stage != "finished":
        return later("labels are judged when the house is finished")
    if named.port.label != NONE:
        raise NotShown(path, "the label of the port")
    said = f": {', '.join(named.dries)}" if named.dries else ""
    return broken(
        f"{named.name} has no label.",
        "correction",
        limit=limits.of(MARKED),
        found="no label",
        needed="what goes dry when it is closed",
        mend=f"Label {named.name} with what it dries, the place first{said}.",
    )


def _true(named: Named, row: Row, facts: Facts, limits: Limits) -> Outcome:
    """Whether what is written names what goes dry."""
    label = _split(named.label)
    if _meets(label, _all(named)):
        return _whole(named, row, label, facts, limits)
    other = next((one for one in row.ports if one is not named and _meets(label, _all(one))), None)
    if other is None or named.port.use == "onward":
        return on_site(f"label {named.label}: close it and see what goes dry")
    swapped = other.label and _meets(_split(other.label), _all(named))
    follows = swapped and row.ports.index(other) < row.ports.index(named)  # of two exchanged the first is told
    dries = listed(named.dries) or "nothing"
    mend = f"Write on {named.name} {f'what it dries: {dries}' if named.dries else 'that it is left over'}."
    return broken(
        f"{named.name} says '{named.label}' and dries {dries}; '{named.label}' is {other.name}.",
        "correction",
        limit=limits.of(MARKED),
        found=f"label {named.label}",
        needed="the name of what goes dry when it is closed",
        why="Somebody with water on the floor closes the wrong valve.",
        mend=f"Swap the labels of {named.name} and {other.name}." if swapped else mend,
        cause=("parts", other.part.id, "ports", other.port.id) if follows else None,
    )


def _whole(named: Named, row: Row, label: frozenset[str], facts: Facts, limits: Limits) -> Outcome:
    """Whether a true label is the only one of its row, and names every place."""
    twins = [one for one in row.ports if one.label and _split(one.label) == label and one.port.use not in _IDLE]
    if len(twins) > 1 and twins[0] is not named and named.port.use not in _IDLE:
        from plancheck.astray import port_astray

        return broken(
            f"{named.name} and {twins[0].name} both say '{named.label}'.",
            "advice",
            limit=limits.of(MARKED),
            found="the same label twice",
            needed="a label that tells the two apart",
            mend="Add the fixture to each: Bath shower, Bath lavatory.",
            cause=port_astray(facts, {(one.part.id, one.port.id) for one in (named, twins[0])}),
        )
    unnamed = [place for place, words in named.words.items() if place and not _meets(label, words)]
    heater = any("heater" in words for words in named.words.values())
    if unnamed and len(named.words) > 1 and not heater and named.port.use == "circuit":
        return broken(
            f"{named.name} says '{named.label}' and dries {', '.join(unnamed)} too.",
            "advice",
            limit=limits.of(MARKED),
            found=f"label {named.label}",
            needed="every place that goes dry",
            mend=f"Add {', '.join(unnamed)} to the label.",
        )
    return holds(f"says {named.label}")


def _reach(row: Row, limits: Limits) -> Outcome:
    """Whether one gets at the valves of a manifold; its ports are told together."""
    if not is_new(row.part):
        return on_site("old manifold: see that one gets at its valves")
    ports = [named.port for named in row.ports]
    shut = [port.id for port in ports if isinstance(port.reach, Reach) and port.reach.kind == NONE]
    if shut:
        return broken(
            f"Nobody gets at {'port' if len(shut) == 1 else 'ports'} {', '.join(shut)} of {row.part.id}.",
            "correction",
            limit=limits.of(REACHED),
            found="no way to reach it",
            needed="open, or behind a panel",
            mend="Leave it open, or put a panel before it large enough for a hand.",
            at=("parts", row.part.id, "ports", shut[0], "reach"),
        )
    for port in ports:
        if not isinstance(port.reach, Reach):
            raise NotShown(("parts", row.part.id, "ports", port.id, "reach"), "how one gets at it (open, or a panel)")
    return holds("within reach")
