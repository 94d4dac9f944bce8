"""Grading: a rubric and a pile of plans in, marks, feedback and a picture of the class out."""
