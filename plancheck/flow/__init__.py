"""A plan's house as a network of pipes, devices and openings, and the questions asked of it."""
