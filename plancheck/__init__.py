"""plancheck: reads a residential water-supply plan in PEX tubing and writes the punch list an inspector would."""

__version__ = "0.1.0"
