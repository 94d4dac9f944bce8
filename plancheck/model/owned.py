"""What each kind of part says beyond what all parts say."""

from collections.abc import Mapping

from plancheck.model.said import Reach, SaidFlag, SaidLength, SaidQuantity, SaidSize
from plancheck.record import NamedTuple


class SourceOwn(NamedTuple):
    """What only a source says."""

    kind: str | None = None
    potable: SaidFlag = None


class MeterOwn(NamedTuple):
    """What only a meter says."""

    check: SaidFlag = None


class ValveOwn(NamedTuple):
    """What only a shutoff or bypass valve says."""

    style: str | None = None
    normally: str | None = None
    drain: str | None = None
    service: SaidFlag = None
    check: SaidFlag = None
    standard: str | None = None


class RegulatorOwn(NamedTuple):
    """What only a pressure regulator says."""

    set: SaidQuantity = None
    strainer: str | None = None
    gauge_ports: str | None = None


class DeviceOwn(NamedTuple):
    """What only a check valve, backflow preventer, filter or softener says."""

    standard: str | None = None
    serves: str | None = None
    bypass: str | None = None
    check: SaidFlag = None


class PumpOwn(NamedTuple):
    """What only a pump says; hours: a day."""

    control: str | None = None
    hours: float | str | None = None
    flow: SaidQuantity = None


class AdapterOwn(NamedTuple):
    """What only an adapter says."""

    kind: str | None = None
    length: SaidLength = None


class TankOwn(NamedTuple):
    """What only an expansion tank says."""

    volume: SaidQuantity = None
    precharge: SaidQuantity = None


class ArrestorOwn(NamedTuple):
    """What only an arrestor says: its size letter."""

    letter: str | None = None


class GaugePortOwn(NamedTuple):
    """What only a test port says."""

    valve: str | None = None
    normally: str | None = None
    end: str | None = None
    thread: str | None = None


class Port(NamedTuple):
    """One port of a manifold; next: distance to the port after it."""

    id: str
    use: str = "circuit"
    label: str | None = None
    valve: str | None = None
    normally: str | None = None
    end: str | None = None
    thread: str | None = None
    reach: Reach | str | None = None
    next: SaidLength = None


class ManifoldOwn(NamedTuple):
    """What only a manifold says; ports in the order they sit, the feed among them."""

    ports: Mapping[str, Port]
    shape: str | None = None
    tube: str | None = None
    bore: SaidLength = None
    spacing: SaidLength = None
    row: str | None = None


class Discharge(NamedTuple):
    """The pipe from a relief valve; end: height of its end above floor or ground."""

    material: str | None = None
    size: SaidSize = None
    to: str | None = None
    end: SaidLength = None
    falls: SaidFlag = None
    shut: str | None = None
    fastened: SaidFlag = None


class Relief(NamedTuple):
    """The temperature and pressure relief valve of a heater."""

    pressure: SaidQuantity = None
    temperature: SaidQuantity = None
    size: SaidSize = None
    capacity: SaidQuantity = None
    discharge: Discharge | str | None = None


class Pan(NamedTuple):
    """The pan below a heater."""

    drain: SaidSize = None
    to: str | None = None
    material: str | None = None
    depth: SaidLength = None


class HeaterOwn(NamedTuple):
    """What only a water heater says; maker_clearance: metal pipe its maker asks for before plastic tube."""

    style: str | None = None
    fuel: str | None = None
    volume: SaidQuantity = None
    set: SaidQuantity = None
    input: SaidQuantity = None
    relief: Relief | str | None = None
    rated: SaidQuantity = None
    pan: Pan | str | None = None
    expansion: str | None = None
    efficiency: float | str | None = None
    least: SaidQuantity = None
    first_hour: SaidQuantity = None
    standard: str | None = None
    maker_clearance: SaidLength = None

    @property
    def tankless(self) -> bool:
        """Whether it keeps no hot water: at the point of use it does where its volume is said."""
        return self.style in ("tankless", "boiler coil") or (self.style == "point of use" and self.volume is None)


class MixingOwn(NamedTuple):
    """What only a mixing valve part says."""

    standard: str | None = None
    set: SaidQuantity = None
    least: SaidQuantity = None


class Mixer(NamedTuple):
    """The valve in a shower or tub; limit: the temperature its stop is set to."""

    kind: str | None = None
    standard: str | None = None
    least: SaidQuantity = None
    limit: SaidQuantity = None


class Supply(NamedTuple):
    """Stub, stop, connector and arrestor of one side of a fixture."""

    stub: str | None = None
    stop: str | None = None
    connector: SaidLength = None
    arrestor: str | None = None
    reach: Reach | str | None = None


class FixtureOwn(NamedTuple):
    """What only a fixture, appliance or hose outlet says. supply holds for both sides, hot and cold for one instead."""

    faucet: SaidQuantity = None
    head: SaidQuantity = None
    spray: SaidQuantity = None
    mixer: Mixer | str | None = None
    left: str | None = None
    supply: Supply | str | None = None
    hot: Supply | str | None = None
    cold: Supply | str | None = None
    arrestor: str | None = None
    breaker: str | None = None
    stem: SaidLength = None
    thread: str | None = None
    style: str | None = None
    flush: SaidQuantity = None
    fill: str | None = None
    valve: str | None = None


class RestOwn(NamedTuple):
    """What only the rest of a house, a stub-out or a cap says."""

    fixtures: Mapping[str, int | str] | str | None = None
    draw: SaidQuantity = None
    serves: str | None = None
    end: str | None = None
    hot: str | None = None


Own = (
    SourceOwn
    | MeterOwn
    | ValveOwn
    | RegulatorOwn
    | DeviceOwn
    | PumpOwn
    | AdapterOwn
    | TankOwn
    | ArrestorOwn
    | GaugePortOwn
    | ManifoldOwn
    | HeaterOwn
    | MixingOwn
    | FixtureOwn
    | RestOwn
    | None
)
