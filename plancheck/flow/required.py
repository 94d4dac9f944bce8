"""What the codes ask of outlets: flow and least pressure while it flows, as rows that rules and answers share."""

from plancheck.measures import Quantity
from plancheck.measures.units import GALLON_M3, PSI_PA
from plancheck.model import FixtureOwn, Part
from plancheck.record import NamedTuple

GPM = GALLON_M3 / 60.0


class Row(NamedTuple):
    """One row: its title, flow (m3/s), least pressure (Pa), the least of older editions where it differs, and whether the
    IPC alone has it. IRC P2903.1 and IPC 604.3, read; older editions from memory."""

    title: str
    flow_m3s: float
    pressure_pa: float
    older_pa: float | None = None
    ipc_only: bool = False


def _row(title: str, gpm: float, psi: float, older_psi: float | None = None, ipc_only: bool = False) -> Row:
    return Row(title, gpm * GPM, psi * PSI_PA, None if older_psi is None else older_psi * PSI_PA, ipc_only)


ROWS = {
    "bathtub": _row("a bathtub", 4.0, 20.0, 8.0),
    "shower": _row("a shower", 2.5, 20.0, 8.0),
    "lavatory": _row("a lavatory", 0.8, 8.0),
    "sink": _row("a sink", 1.75, 8.0),
    "dishwasher": _row("a dishwasher", 2.75, 8.0),
    "laundry tray": _row("a laundry tray", 4.0, 8.0),
    "hose outlet": _row("a hose outlet", 5.0, 8.0),
    "bidet": _row("a bidet", 2.0, 20.0),
    "close coupled": _row("a toilet with its tank on the bowl", 3.0, 20.0, 8.0),
    "one piece": _row("a one-piece toilet", 6.0, 20.0),
    "flushometer tank": _row("a toilet with a flushometer tank", 1.6, 20.0),
    "flush valve": _row("a toilet with a flush valve", 25.0, 35.0, ipc_only=True),
    "urinal": _row("a urinal with a valve", 12.0, 25.0, ipc_only=True),
}
WASHER_M3S = 4.0 * GPM  # NSPC 10.14.2, read; no row of the IRC or IPC
TOILETS = ("flushometer tank", "close coupled", "one piece")
_SINKS = ("kitchen sink", "bar sink")


def rows_of(part: Part) -> tuple[str, ...]:
    """The rows an outlet may belong to: several for a toilet whose make is not said, none for what no row names."""
    if part.is_ in _SINKS:
        return ("sink",)
    if part.is_ == "tub and shower":
        return ("bathtub",)
    if part.is_ == "toilet":
        style = part.own.style if isinstance(part.own, FixtureOwn) else None
        return (style,) if style in ROWS else TOILETS
    return (part.is_,) if part.is_ in ROWS else ()


def rate_of(part: Part) -> float | None:
    """The flow a single outlet is reckoned with, m3/s: the row's, or its maker's lower one; None where no row names it."""
    if part.is_ == "clothes washer":
        return WASHER_M3S
    rows = rows_of(part)
    if not rows:
        return None
    row = "close coupled" if len(rows) > 1 else rows[0]
    return drawn(part, row, ROWS[row].flow_m3s)


def drawn(part: Part, row: str, rate_m3s: float) -> float:
    """The rate of a row, or the maker's lower one: a head as it is marked, but no less than its valve is tested for."""
    own = part.own
    if not isinstance(own, FixtureOwn):
        return rate_m3s
    if row == "shower":
        if not isinstance(own.head, Quantity):
            return rate_m3s
        least = own.mixer.least if own.mixer is not None and not isinstance(own.mixer, str) else None
        return min(rate_m3s, max(one.si for one in (own.head, least) if isinstance(one, Quantity)))
    return min(rate_m3s, own.faucet.si) if isinstance(own.faucet, Quantity) and row != "bathtub" else rate_m3s


def stated_m3s(part: Part) -> float:
    """The largest rate that a plan states of an outlet, m3/s: of its head or its faucet; 0 where it states none."""
    own = part.own
    said = (own.head, own.faucet) if isinstance(own, FixtureOwn) else ()
    return max((one.si for one in said if isinstance(one, Quantity)), default=0.0)


def said_rate(part: Part) -> tuple[Quantity | None, str]:
    """The rate that a plan gives of an outlet, above nought, and the key that gives it: its head, else its faucet."""
    own, key = part.own, "head" if part.is_ == "shower" else "faucet"
    if not isinstance(own, FixtureOwn):
        return None, key
    said = own.head if key == "head" else own.faucet
    return said if isinstance(said, Quantity) and said.si > 0 else None, key
