"""Parts: the keys in force into a Part with what its kind adds; manifolds with their ports in order."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plancheck.building import tables
from plancheck.building.notes import nearest
from plancheck.building.paths import read_point
from plancheck.building.values import Bad, BadValue, fill
from plancheck.kinds import KINDS
from plancheck.measures import MeasureError
from plancheck.model import ManifoldOwn, Part, Port

_WITH_DEFAULTS = ("circuit", "test", "spare")


def build_part(id_: str, data: Mapping[str, Any], defaults: Mapping[str, Any]) -> Part:
    """The part made of the keys in force; onto is joined later. defaults: those of manifold ports. Raises BadValue."""
    kind = data["is"]
    bad: list[Bad] = []
    own = _gather(bad, _manifold if kind == "manifold" else _own, data, defaults)
    more = {}
    if "at" in data and isinstance(data["at"], list):
        more["at"] = _gather(bad, _point, data["at"], defaults)
    elif "at" in data:
        more["at"] = data["at"]
    part = _gather(bad, _part, data, {"id": id_, "is_": kind, "own": own, **more})
    if bad or not isinstance(part, Part):
        raise BadValue(*bad)
    return part


def _gather(bad: list[Bad], step: Any, *arguments: Any) -> Any:
    try:
        return step(*arguments)
    except BadValue as wrong:
        bad.extend(wrong.bad)
        return None


def _part(data: Mapping[str, Any], more: Mapping[str, Any]) -> Part:
    return fill(Part, tables.PART, data, **more)


def _point(value: Any, _: Any) -> Any:
    try:
        return read_point(value)
    except BadValue as wrong:
        raise BadValue(*((("at", *path), says, mend) for path, says, mend in wrong.bad)) from None
    except MeasureError as wrong:
        raise BadValue((("at",), wrong.says, wrong.mend)) from None


def _own(data: Mapping[str, Any], _: Any) -> Any:
    kind = data["is"]
    if kind not in tables.OWN and KINDS[kind].sort != "fixture":
        return None
    cls, table = tables.fixture_table(kind)
    return fill(cls, table, data)


def _manifold(data: Mapping[str, Any], defaults: Mapping[str, Any]) -> ManifoldOwn:
    said = data.get("ports") or {}
    bad: list[Bad] = []
    ports: dict[str, Port] = {}
    for name in _order(data, said, bad):
        entry = said[name] if isinstance(said.get(name), dict) else {}
        use = entry.get("use", "circuit")
        full = {**defaults, **entry} if use in _WITH_DEFAULTS else entry
        try:
            ports[name] = fill(Port, tables.PORT, full, id=name)
        except BadValue as wrong:
            bad.extend((("ports", name, *path), says, mend) for path, says, mend in wrong.bad)
    if not any(port.use == "feed" for port in ports.values()):
        if "in" in ports:
            bad.append((("ports", "in"), "the port 'in' is not said to be the feed", "write  in: {use: feed}"))
        ports = {"in": Port("in", "feed"), **ports}
    if bad:
        raise BadValue(*bad)
    return fill(ManifoldOwn, tables.MANIFOLD, data, ports=ports)


def _order(data: Mapping[str, Any], said: Mapping[str, Any], bad: list[Bad]) -> list[str]:
    order = data.get("order")
    if not isinstance(order, list):
        return list(said)
    names = [str(name) for name in order]
    for number, name in enumerate(names):
        if name not in said:
            bad.append((("order", number), f"there is no port '{name}'", f"{nearest(name, said)}name each port once"))
        elif name in names[:number]:
            bad.append((("order", number), f"port '{name}' stands twice in the order", "name each port once"))
    missing = [name for name in said if name not in names]
    if missing:
        bad.append((("order",), f"the order leaves out {', '.join(missing)}", "name each port once"))
    return [name for name in dict.fromkeys(names) if name in said] + missing


