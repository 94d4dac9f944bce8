"""Pressures and flows: laws of loss, plain networks and their solution, and a plan's house as such a network."""
