"""What the kinds of parts are: their connections, which way water passes, and what sort of thing they are."""

from plancheck.record import NamedTuple


class Kind(NamedTuple):
    """One kind of part.

    connections: their names; inward and outward: the one meant when a run's `to` or `from` leaves it out;
    arrow: water passes from in to out only; sort: supply, device, fork, manifold, heater, mixing, fixture or end.
    """

    connections: tuple[str, ...]
    sort: str
    inward: str | None = None
    outward: str | None = None
    arrow: bool = False


def _end(name: str) -> Kind:
    return Kind((name,), "end", name, name)


def _device(arrow: bool = False) -> Kind:
    return Kind(("in", "out"), "device", "in", "out", arrow)


def _fixture(*sides: str) -> Kind:
    only = sides[0] if len(sides) == 1 else None
    return Kind(sides, "fixture", only, only)


KINDS: dict[str, Kind] = {
    "source": Kind(("out",), "supply", "out", "out"),
    "meter": _device(),
    "valve": _device(),
    "check valve": _device(arrow=True),
    "regulator": _device(arrow=True),
    "backflow preventer": _device(arrow=True),
    "filter": _device(),
    "softener": _device(),
    "pump": _device(arrow=True),
    "adapter": _device(),
    "tee": Kind(("in", "out", "branch"), "fork", "in", None),
    "manifold": Kind((), "manifold"),
    "water heater": Kind(("cold", "hot", "return"), "heater"),
    "mixing valve": Kind(("cold", "hot", "mixed"), "mixing"),
    "cap": _end("in"),
    "stub-out": _end("in"),
    "expansion tank": _end("in"),
    "arrestor": _end("in"),
    "test port": _end("in"),
    "toilet": _fixture("cold"),
    "urinal": _fixture("cold"),
    "hose outlet": _fixture("cold"),
    "ice maker": _fixture("cold"),
    "dishwasher": _fixture("hot"),
    "lavatory": _fixture("cold", "hot"),
    "kitchen sink": _fixture("cold", "hot"),
    "bar sink": _fixture("cold", "hot"),
    "laundry tray": _fixture("cold", "hot"),
    "shower": _fixture("cold", "hot"),
    "bathtub": _fixture("cold", "hot"),
    "tub and shower": _fixture("cold", "hot"),
    "bidet": _fixture("cold", "hot"),
    "clothes washer": _fixture("cold", "hot"),
    "rest of house": _fixture("cold", "hot"),
}

TUBS_AND_SHOWERS = frozenset(("shower", "bathtub", "tub and shower"))
APPLIANCES = frozenset(("dishwasher", "clothes washer", "ice maker"))
PLASTIC = frozenset(
    ("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT", "PEX-AL-PEX", "CPVC", "PP", "PE", "PVC", "polybutylene")
)
PEX = frozenset(("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT", "PEX-AL-PEX"))
METAL = frozenset(("copper", "brass", "galvanised steel", "stainless steel", "ductile iron", "lead"))
