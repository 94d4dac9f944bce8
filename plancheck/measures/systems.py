"""The units a plan is written in, and so the units its report is written in."""

from collections.abc import Iterable, Iterator
from functools import lru_cache

from plancheck.measures.quantities import unit_words
from plancheck.measures.spelling import LONGEST, plain, starts_number, take_about, take_number, take_sign, words_of
from plancheck.measures.units import FOOT_TENTHS_MM, length_tenths_mm, unit_factor
from plancheck.record import NamedTuple


class Units(NamedTuple):
    """One unit for each kind that comes in several."""

    length: str  # ft-in | mm | m
    pressure: str  # psi | kPa | bar
    flow: str  # gpm | L/s | L/min
    temperature: str  # degF | degC
    volume: str  # gal | L
    speed: str  # ft/s | m/s
    power: str  # Btu/h | kW


US = Units("ft-in", "psi", "gpm", "degF", "gal", "ft/s", "Btu/h")
METRIC = Units("mm", "bar", "L/s", "degC", "L", "m/s", "kW")

# Which printed unit a written one asks for, by its worth: of each kind the printed units with the spellings that lead to them.
_ASKS_FOR: dict[str, tuple[tuple[str, str], ...]] = {
    "pressure": (("psi", "psi"), ("kPa", "kpa"), ("kPa", "MPa"), ("bar", "bar"), ("psi", "fthd"), ("bar", "mhd")),
    "flow": (("gpm", "gpm"), ("gpm", "gph"), ("L/s", "l/s"), ("L/min", "l/min"), ("L/s", "m3/h")),
    "volume": (("gal", "gal"), ("gal", "oz"), ("gal", "qt"), ("L", "l"), ("L", "ml"), ("L", "m3")),
    "temperature": (("degF", "degf"), ("degC", "degc")),
    "speed": (("ft/s", "ft/s"), ("m/s", "m/s")),
    "power": (("Btu/h", "btu/h"), ("Btu/h", "kbtu/h"), ("kW", "kw"), ("kW", "w"), ("kW", "mj/h")),
}
_METRIC_LENGTHS: dict[float, str] = {10: "mm", 100: "mm", 10000: "m"}  # by tenths of a millimetre


def texts_in(data: object) -> Iterator[str]:
    """Every text that stands in data as a value."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from texts_in(value)
    elif isinstance(data, list):
        for value in data:
            yield from texts_in(value)


def unit_system(texts: Iterable[str]) -> Units:
    """The units that most of these texts are written in, kind by kind; texts that are no measures do not count.

    A kind nobody wrote follows the lengths, or, where there are none, the majority of all. US when there is nothing to go by.
    """
    votes: dict[tuple[str, str], int] = {}
    for text in texts:
        vote = _vote(text) if isinstance(text, str) and len(text) <= LONGEST else None
        if vote:
            votes[vote] = votes.get(vote, 0) + 1
    us_votes = sum(n for (kind, unit), n in votes.items() if unit == getattr(US, kind))
    metric_votes = sum(votes.values()) - us_votes
    length = _winner(votes, "length")
    metric = length != US.length if length else metric_votes > us_votes
    rest = METRIC if metric else US
    return Units(*[_winner(votes, kind) or getattr(rest, kind) for kind in Units._fields])


def _winner(votes: dict[tuple[str, str], int], kind: str) -> str:
    """The printed unit of kind with most votes; "" without any. The system is decided first, then the unit within it."""
    counted = {unit: n for (voted, unit), n in votes.items() if voted == kind}
    if not counted:
        return ""
    us_unit = getattr(US, kind)
    us_votes = counted.pop(us_unit, 0)
    if us_votes >= sum(counted.values()):
        return str(us_unit)
    return max(counted, key=lambda unit: counted[unit])


@lru_cache(maxsize=8192)
def _vote(text: str) -> tuple[str, str] | None:
    words = words_of(take_about(plain(text))[0])
    start, _ = take_sign(words)
    _, at = take_number(words, start)
    if not at or not words[at]:
        return None
    factor = length_tenths_mm(words[at])
    if factor and (not words[at + 1] or (factor == FOOT_TENTHS_MM and starts_number(words[at + 1]))):
        return "length", _METRIC_LENGTHS.get(factor, US.length)
    unit = unit_words(words, at)
    for kind, asked in _ASKS_FOR.items():
        factor = unit_factor(kind, unit)
        if factor:
            return kind, _printed(kind, factor, asked)
    return None


def _printed(kind: str, factor: float, asked: tuple[tuple[str, str], ...]) -> str:
    for printed, spelling in asked:
        if abs(unit_factor(kind, spelling) / factor - 1) < 1e-9:
            return printed
    return asked[0][0]
