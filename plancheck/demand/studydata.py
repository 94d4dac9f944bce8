"""Probabilities of use and flows of efficient fixtures in dwellings: the table behind the binomial method, as data."""

from plancheck.limits import printed, recalled
from plancheck.record import NamedTuple


class Use(NamedTuple):
    """How likely a fixture runs at the peak, and its flow in tenths of a gallon a minute."""

    fixture: str
    p: float
    tenths_gpm: int


TABLE_SOURCE = recalled("Peak Water Demand Study (IAPMO, ASPE, WQA), as UPC Appendix M", "2017", "Table M 102.1")
RULES_SOURCE = printed("UPC Appendix M", "2018", "M 102.1, M 102.4, M 102.5")
# one of several hose outlets is added: the study's text, not seen
ONE_HOSE_SOURCE = recalled("UPC Appendix M", "2018", "M 102.5")
HOSE_GPM = 5.0
HOSE_SOURCE = printed("IPC Table 604.3 and IRC Table P2903.1", "", "hose outlet")
# continuous loads stand outside the units and are added in gpm; one hose at a time is common practice
IPC_CONTINUOUS_SOURCE = recalled("IPC", "2018", "E103.3, continuous supply demands")

USES = (
    Use("bar sink", 0.020, 15),
    Use("bathtub", 0.010, 55),
    Use("bidet", 0.010, 20),
    Use("clothes washer", 0.055, 35),
    Use("tub and shower", 0.055, 55),
    Use("dishwasher", 0.005, 13),
    Use("kitchen sink", 0.020, 22),
    Use("laundry tray", 0.020, 20),
    Use("lavatory", 0.020, 15),
    Use("shower", 0.045, 20),  # each head
    Use("toilet", 0.010, 30),  # with a tank of at most 1.28 gal
)
PLACE = {use.fixture: number for number, use in enumerate(USES)}
