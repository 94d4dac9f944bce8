"""What fittings, valves and devices lose, as data with sources. K is referred to the speed in the tube.

Every K is uncertain by half, and printed results carry that as a band.
"""

from plancheck.limits import PRACTICE, Source, printed, recalled
from plancheck.measures.units import GALLON_M3, INCH_M, PSI_PA
from plancheck.record import NamedTuple

SPREAD = 0.5  # every K may be off by this part of itself
GPM = GALLON_M3 / 60.0

# Families of joints: how much of the bore they leave, or flat figures.
INSERT, WIDE, SMOOTH, THREAD = "insert", "wide", "smooth", "thread"
FAMILIES = {
    "copper crimp ring": INSERT,
    "clamp ring": INSERT,
    "press sleeve": INSERT,
    "own fitting": INSERT,
    "expansion ring": WIDE,
    "expansion sleeve": WIDE,
    "press": SMOOTH,
    "push": SMOOTH,
    "solder": SMOOTH,
    "braze": SMOOTH,
    "solvent cement": SMOOTH,
    "compression": SMOOTH,
    "flare": SMOOTH,
    "union": SMOOTH,
    "thread": THREAD,
}
# Bore of an insert fitting against the bore of its tube; in sizes not listed the mean of the two is taken.
INSERT_BORE_IN = {"1/2": 0.350, "3/4": 0.530}
INSERT_SHARE = 0.76
WIDE_SHARE = 0.958  # 0.455 in of 0.475
_MORE = {"coupling": 0.0, "run": 0.1, "branch": 1.0, "ell": 1.1}
_WIDE_BRANCH = 3.2  # measured on tees for expanded tube: about 6 ft of tube at 8 ft/s, not the 2.3 ft of its geometry
_FLAT = {
    SMOOTH: {"coupling": 0.05, "run": 0.25, "branch": 0.8, "ell": 0.4},
    THREAD: {"coupling": 0.1, "run": 0.9, "branch": 2.0, "ell": 1.5},
}
TURN_K = 0.15  # a tube bent through a right angle at eight diameters
VALVE_K = {
    "ball": 0.1,
    "plug": 0.4,
    "gate": 0.15,
    "globe": 10.0,
    "needle": 10.0,
    "angle": 2.0,
    "butterfly": 0.7,
    "curb stop": 0.4,
    "stop and waste": 10.0,
    "saddle": 10.0,
}
CHECK_K = 2.0
HEATER_K = 4.0

SOURCES: dict[str, Source] = {
    "insert fittings, from contraction and expansion": printed(
        "", "", "bore 0.35 in of 1/2 in: a trade page; 3/4 in from memory"
    ),
    "tees for expanded tube": printed("a design manual, appendix", "", "tests at 8 ft/s by ISA-S75.02"),
    "solder, press and push fittings": printed("Ill. Adm. Code 77-890", "", "App. A Table Q, as K"),
    "threaded fittings and valves": printed("a public table of loss factors", "", "generic K"),
    "full-port ball valve, bends, heater": PRACTICE,
    "meters": recalled("AWWA C700", "", "safe most flow at 15 psi at most"),
    "backflow preventer ASSE 1012": printed("a maker's page", "", "8 to 15 psi at 10 gpm"),
    "other backflow preventers, softener, filter, fall-off of regulators": recalled("", "", "usual figures"),
}


class Device(NamedTuple):
    """A loss that grows as the square of the flow, through one point; low and high: what others may lose there."""

    pressure_pa: float
    flow_m3s: float
    low_pa: float
    high_pa: float

    def r_pa(self, band: float) -> float:
        """Pa for each (m3/s)2. band: -1 for the lowest, 0 for the middle, 1 for the highest loss."""
        loss = self.pressure_pa + max(band, 0.0) * (self.high_pa - self.pressure_pa)
        loss += min(band, 0.0) * (self.pressure_pa - self.low_pa)
        return loss / self.flow_m3s**2


def _device(psi: float, gpm: float, low: float, high: float) -> Device:
    return Device(psi * PSI_PA, gpm * GPM, low * PSI_PA, high * PSI_PA)


METERS = {
    "1/2": _device(15.0, 15.0, 10.0, 15.0),
    "5/8": _device(15.0, 20.0, 10.0, 15.0),
    "3/4": _device(15.0, 30.0, 10.0, 25.0 * (30.0 / 35.0) ** 2),
    "1": _device(15.0, 50.0, 10.0, 15.0),
    "1-1/4": _device(15.0, 75.0, 10.0, 15.0),
    "1-1/2": _device(15.0, 100.0, 10.0, 15.0),
    "2": _device(15.0, 160.0, 10.0, 15.0),
}
BACKFLOW = {
    "ASSE 1012": _device(11.5, 10.0, 8.0, 15.0),
    "ASSE 1013": _device(11.0, 10.0, 8.0, 15.0),
    "ASSE 1015": _device(5.0, 10.0, 3.0, 8.0),
    "ASSE 1024": _device(4.5, 10.0, 3.0, 6.0),
}
ANY_BACKFLOW = _device(8.0, 10.0, 3.0, 15.0)
SOFTENER = _device(10.0, 10.0, 5.0, 15.0)
FILTER = _device(5.0, 10.0, 2.0, 15.0)
TANKLESS = _device(10.0, 4.0, 5.0, 20.0)
# A regulator falls off by this where water runs through its nominal bore at FALL_M_S, and open loses as much as a globe.
FALL_OFF_PA, FALL_LOW_PA, FALL_HIGH_PA = 10.0 * PSI_PA, 5.0 * PSI_PA, 15.0 * PSI_PA
FALL_M_S = 8.0 * 0.3048
OPEN_REGULATOR_K = 10.0


def fitting_k(shape: str, joint: str | None, size: str | None, bore_m: float, plastic: bool) -> float:
    """K of a fitting. shape: coupling, run or branch of a tee, or ell; joint: how it is joined, not said counts as insert
    in plastic tube and as smooth in metal."""
    family = FAMILIES.get(joint or "", INSERT if plastic else SMOOTH)
    if family in _FLAT:
        return _FLAT[family][shape]
    if family == WIDE and shape == "branch":
        return _WIDE_BRANCH
    share = WIDE_SHARE
    if family == INSERT:
        inches = INSERT_BORE_IN.get(size or "")
        share = inches * INCH_M / bore_m if inches is not None and plastic else INSERT_SHARE
    return geometric_k(min(share, 1.0), shape)


def geometric_k(share: float, shape: str) -> float:
    """K of a fitting that leaves a share of the bore: contraction, expansion, and what its shape adds in its throat."""
    b2 = share * share
    return (0.5 * (1.0 - b2) + (1.0 - b2) ** 2 + _MORE[shape]) / (b2 * b2)
