"""Hot water: scald times, mixing, what stands in the pipe, how it cools, and what a heater is able to give."""
