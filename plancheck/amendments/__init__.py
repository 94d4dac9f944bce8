"""Local rules: an amendments file read, checked against the rules, and told at the head of a report."""
