"""Fixture units by code family and by row, as data, each row with its source.

A row is named in our own words: a kind of part, or for toilets how they flush. Only private use (dwellings) is carried.
"""

from plancheck.limits import PRACTICE, Source, printed, recalled
from plancheck.record import NamedTuple


class Weight(NamedTuple):
    """Fixture units on the cold pipe, on the hot pipe, and on a pipe that brings both."""

    cold: float
    hot: float
    total: float
    source: Source


_IRC = recalled("IRC", "2021", "Table P2903.6")
_IPC = printed("IPC", "2018", "Table E103.3(2), private")
_IPC_RECALLED = recalled("IPC", "2018", "Table E103.3(2), private")
_UPC = printed("UPC", "", "Table 610.3, private, as trade pages print it")
_UPC_RECALLED = recalled("UPC", "2021", "Table 610.3, private")

UPC_SHARE = 0.75  # hot or cold alone, of the total, where a fixture has both
UPC_SHARE_SOURCE = recalled("UPC", "2021", "Table 610.3, footnote on separate demands")
# the first hose outlet counts this much more than each further one
UPC_FIRST_HOSE_MORE = 1.5

TANK, LARGE_TANK, ANY_TANK = "tank toilet", "tank toilet over 1.6 gal", "tank toilet of unknown flush"
FLUSH_VALVE, FLUSHOMETER_TANK = "flush valve toilet", "flushometer tank toilet"


def _both(total: float, source: Source) -> Weight:
    return Weight(UPC_SHARE * total, UPC_SHARE * total, total, source)


_IRC_TANK = Weight(2.2, 0.0, 2.2, _IRC)
_IPC_TANK = Weight(2.2, 0.0, 2.2, _IPC_RECALLED)

# no row of their own in the ICC's tables: counted as what is most like them
_LIKE = {
    "ice maker": Weight(0.25, 0.0, 0.25, PRACTICE),  # a drinking fountain of 3/8 in
    "bar sink": Weight(1.0, 1.0, 1.4, PRACTICE),  # a kitchen sink
}

WEIGHTS: dict[str, dict[str, Weight]] = {
    "irc": {
        "bathtub": Weight(1.0, 1.0, 1.4, _IRC),
        "tub and shower": Weight(1.0, 1.0, 1.4, _IRC),
        "shower": Weight(1.0, 1.0, 1.4, _IRC),
        "lavatory": Weight(0.5, 0.5, 0.7, _IRC),
        "kitchen sink": Weight(1.0, 1.0, 1.4, _IRC),
        "laundry tray": Weight(1.0, 1.0, 1.4, _IRC),
        "clothes washer": Weight(1.0, 1.0, 1.4, _IRC),
        "dishwasher": Weight(0.0, 1.4, 1.4, _IRC),
        "hose outlet": Weight(2.5, 0.0, 2.5, _IRC),
        **_LIKE,
        "bidet": Weight(1.5, 1.5, 2.0, PRACTICE),  # as the IPC has it
        TANK: _IRC_TANK,
        LARGE_TANK: _IRC_TANK,
        ANY_TANK: _IRC_TANK,
    },
    "ipc": {
        "bathtub": Weight(1.0, 1.0, 1.4, _IPC),
        "tub and shower": Weight(1.0, 1.0, 1.4, _IPC),
        "shower": Weight(1.0, 1.0, 1.4, _IPC_RECALLED),
        "lavatory": Weight(0.5, 0.5, 0.7, _IPC),
        "bidet": Weight(1.5, 1.5, 2.0, _IPC),
        "kitchen sink": Weight(1.0, 1.0, 1.4, _IPC),
        "laundry tray": Weight(1.0, 1.0, 1.4, _IPC),
        "clothes washer": Weight(1.0, 1.0, 1.4, _IPC_RECALLED),
        "dishwasher": Weight(0.0, 1.4, 1.4, _IPC),
        **_LIKE,
        TANK: _IPC_TANK,
        LARGE_TANK: _IPC_TANK,
        ANY_TANK: _IPC_TANK,
        FLUSH_VALVE: Weight(6.0, 0.0, 6.0, _IPC_RECALLED),
    },
    "upc": {
        "bathtub": _both(4.0, _UPC),
        "tub and shower": _both(4.0, _UPC),
        "shower": _both(2.0, _UPC),  # each head
        "lavatory": _both(1.0, _UPC),
        "bidet": _both(1.0, _UPC_RECALLED),
        "kitchen sink": _both(1.5, _UPC),
        "bar sink": _both(1.0, _UPC_RECALLED),
        "laundry tray": _both(1.5, _UPC_RECALLED),
        "clothes washer": _both(4.0, _UPC),
        "dishwasher": Weight(0.0, 1.5, 1.5, _UPC),
        "ice maker": Weight(0.5, 0.0, 0.5, PRACTICE),  # as a drinking fountain
        "hose outlet": Weight(1.0, 0.0, 1.0, _UPC),  # each further; the first counts UPC_FIRST_HOSE_MORE more
        TANK: Weight(2.5, 0.0, 2.5, _UPC),
        LARGE_TANK: Weight(3.0, 0.0, 3.0, _UPC_RECALLED),
    },
}


class Group(NamedTuple):
    """Fixtures of one room that count together, less than one by one; roles: one fixture of each."""

    name: str
    roles: tuple[str, ...]
    weight: Weight


# what a row does in a group; any bath counts alike
ROLES = ("bath", "lavatory", TANK, FLUSH_VALVE, "kitchen sink", "dishwasher", "clothes washer", "laundry tray")
ROLE_OF = {role: role for role in ROLES} | {
    "bathtub": "bath",
    "tub and shower": "bath",
    "shower": "bath",
    LARGE_TANK: TANK,
    ANY_TANK: TANK,
}
# in the order they are looked for: larger groups first
GROUPS: dict[str, tuple[Group, ...]] = {
    "irc": (
        Group("bathroom", ("bath", "lavatory", TANK), Weight(2.7, 1.5, 3.6, _IRC)),
        Group("half bath", ("lavatory", TANK), Weight(2.5, 0.5, 2.6, _IRC)),
        Group("kitchen", ("kitchen sink", "dishwasher"), Weight(1.0, 1.9, 2.5, _IRC)),
        Group("laundry", ("clothes washer", "laundry tray"), Weight(1.8, 1.8, 2.5, _IRC)),
    ),
    "ipc": (
        Group("bathroom", ("bath", "lavatory", TANK), Weight(2.7, 1.5, 3.6, _IPC)),
        Group("bathroom with flush valve", ("bath", "lavatory", FLUSH_VALVE), Weight(6.0, 3.0, 8.0, _IPC)),
    ),
    # the sink's row stands for sink and dishwasher; a hot pipe to both carries no less than the dishwasher alone
    "upc": (Group("sink and dishwasher", ("kitchen sink", "dishwasher"), Weight(1.125, 1.5, 1.5, _UPC)),),
}
