"""The inspection pack: what is handed in, taken along and left behind, made of a plan and its report. Data first."""
