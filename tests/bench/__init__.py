"""Timings as ratios measured in one run; run by hand, never as tests."""
