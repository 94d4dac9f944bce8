"""From data with a sound shape to a typed Plan."""
