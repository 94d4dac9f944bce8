"""Names of connections: which connection a text means, and whether each is used as often as it can be."""

from __future__ import annotations

from collections.abc import Mapping

from plancheck.building.notes import Notes, nearest
from plancheck.kinds import KINDS
from plancheck.model import FixtureOwn, ManifoldOwn, Part, Path, Ref, Supply


def connections(part: Part) -> tuple[str, ...]:
    """The names of the part's connections; a manifold's are its ports, section valves left out."""
    if isinstance(part.own, ManifoldOwn):
        return tuple(port.id for port in part.own.ports.values() if port.use != "section")
    return KINDS[part.is_].connections


def resolve(said: str, parts: Mapping[str, Part], inward: bool, path: Path, notes: Notes) -> Ref | None:
    """The connection a run's end (inward: its `to`, or a part's `onto` seen from the new part's own side) means."""
    name, slash, connection = said.partition("/")
    part = parts.get(name)
    if part is None:
        notes.add(path, f"there is no part '{name}'", f"{nearest(name, parts)}write a part of this plan")
        return None
    known = connections(part)
    if slash:
        if connection not in known:
            mend = f"{nearest(connection, known)}it has {_list(known)}"
            notes.add(path, f"{name} has no connection '{connection}'", mend)
            return None
        return Ref(name, connection)
    left_out = _left_out(part, inward)
    if left_out is None:
        how = f"write one of {_list([f'{name}/{one}' for one in known])}"
        notes.add(path, f"which connection of {name}?", how)
        return None
    return Ref(name, left_out)


def feed_of(own: ManifoldOwn) -> str | None:
    """The single feed of a manifold, or None where it has several."""
    feeds = [port.id for port in own.ports.values() if port.use == "feed"]
    return feeds[0] if len(feeds) == 1 else None


def check_uses(joined: Mapping[Ref, list[Path]], parts: Mapping[str, Part], notes: Notes) -> None:
    """Notes each connection that more ends meet at than it can take (one; the two outlets of a dual stop two)."""
    for ref, paths in joined.items():
        most = 2 if is_dual(parts[ref.part], ref.connection) else 1
        for path in paths[most:]:
            first = ".".join(str(step) for step in paths[0][:-1])
            notes.add(path, f"{ref} is used twice: {first} ends there too", _apart(parts[ref.part], ref.connection))


def _apart(part: Part, connection: str) -> str:
    """How to mend two ends at one connection: where a stop hangs there it may be one with two outlets."""
    tee = "join them in a tee, or name the right one"
    if is_dual(part, connection):
        return f"a dual stop takes two: {tee}"
    supply = side_supply(part, connection)
    if supply is None or supply.stop not in ("angle", "straight"):
        return tee
    return f"where the stop has two outlets say stop: dual; else {tee}"


def is_dual(part: Part, connection: str) -> bool:
    """Whether the side of the fixture has a dual stop, which takes two connectors."""
    supply = side_supply(part, connection)
    return supply is not None and supply.stop == "dual"


def side_supply(part: Part, connection: str) -> Supply | None:
    """Stub, stop and connector of one side of a fixture: its own, else the one said for both; None where not said."""
    if not isinstance(part.own, FixtureOwn):
        return None
    own = part.own.hot if connection == "hot" else part.own.cold
    found = own if own is not None else part.own.supply
    return found if isinstance(found, Supply) else None


def _left_out(part: Part, inward: bool) -> str | None:
    if isinstance(part.own, ManifoldOwn):
        return feed_of(part.own) if inward else None
    kind = KINDS[part.is_]
    return kind.inward if inward else kind.outward


def _list(names: object) -> str:
    shown = list(names)[:12]  # type: ignore[call-overload]
    return ", ".join(shown)
