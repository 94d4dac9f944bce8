"""Fixture units: what a fixture weighs in a code family, and what fixtures make together, grouped and one by one."""

from plancheck.demand.weights import FLUSHOMETER_TANK, WEIGHTS, Weight
from plancheck.record import NamedTuple

_TABLES = {"irc": "IRC Table P2903.6", "ipc": "IPC Table E103.3(2)", "upc": "UPC Table 610.3"}
_NAMES = {FLUSHOMETER_TANK: "toilet with flushometer tank"}


class Units(NamedTuple):
    """Fixture units of one family: on the cold sides, on the hot sides, and together (in irc and ipc cold and hot make
    more than the total, by design). flush_valves: whether a flush valve is among them."""

    family: str
    cold: float
    hot: float
    total: float
    flush_valves: bool = False


class NoWeight(NamedTuple):
    """A family's table, as carried here, has no row for a fixture: it is not shown, and never zero."""

    row: str
    family: str

    @property
    def why(self) -> str:
        """What is missing, in words."""
        name = _NAMES.get(self.row, self.row)
        article = "an" if name[0] in "aeiou" else "a"
        return f"fixture units of {article} {name} ({_TABLES[self.family]} has no row for it here)"


def weight_of(row: str, family: str) -> Weight | NoWeight:
    """What a fixture of this row (a kind of part; a toilet by how it flushes) weighs in irc, ipc or upc."""
    return WEIGHTS[family].get(row) or NoWeight(row, family)
