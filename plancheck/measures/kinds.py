"""What a measure is once read, and the one exception that reading may raise."""

from plancheck.record import NamedTuple

KINDS = (
    "pressure",
    "flow",
    "volume",
    "temperature",
    "speed",
    "power",
    "duration",
    "head",
    "difference",
    "load",
    "slope",
    "angle",
)

_LONGEST_SHOWN = 60
_CUT = "..."


class Length(NamedTuple):
    """A length: m in metres, text as the writer wrote it, about when it was written as an estimate."""

    m: float
    text: str
    about: bool = False


class Size(NamedTuple):
    """A nominal size: a name, never a diameter.

    name is canonical ("1-1/4", "16 mm", "DN20"). rank orders sizes of one system, in nominal inches; it measures nothing.
    """

    name: str
    text: str
    rank: float
    metric: bool = False

    @property
    def words(self) -> str:
        """The size as one speaks of it: 3/4 in, 16 mm, DN20."""
        return self.name if self.metric else f"{self.name} in"


class Quantity(NamedTuple):
    """Any other quantity. si is in the unit of its kind (one of KINDS):

    pressure Pa gauge, flow m3/s, volume m3, temperature degC, speed m/s, power W, duration s, head m of water,
    difference (of two temperatures) K, load fixture units, slope m/m, angle rad.
    """

    si: float
    kind: str
    text: str
    about: bool = False


class MeasureError(ValueError):
    """A measure could not be read or printed. says: what was found; mend: how to write it."""

    def __init__(self, says: str, mend: str) -> None:
        super().__init__(says, mend)
        self.says = says
        self.mend = mend

    def __str__(self) -> str:
        return f"{self.says}: {self.mend}"


def shown(text: str) -> str:
    """text between quote marks, fit for a message: control characters as \\xNN, at most 60 characters."""
    return f"'{visible(text, _LONGEST_SHOWN)}'"


def visible(text: str, most: int) -> str:
    """text with control characters as \\xNN, cut to at most this many characters, between characters."""
    pieces: list[str] = []
    room = most
    for character in text[: most + 1]:
        piece = _visible(character)
        room -= len(piece)
        pieces.append(piece)
    if room >= 0:
        return "".join(pieces)
    while room < len(_CUT):
        room += len(pieces.pop())
    return "".join(pieces) + _CUT


def _visible(character: str) -> str:
    if character.isprintable():
        return character
    number = ord(character)
    if number >= 0xA0 and character.isspace():
        return " "
    return f"\\x{number:02x}" if number < 0x100 else f"\\u{number:04x}"
