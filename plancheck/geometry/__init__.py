"""Shapes of runs and positions of connections, found by walking the paths of a plan."""

from plancheck.geometry.positions import Geometry, find_geometry
from plancheck.geometry.shape import Shape, Stretch, Turn, at_distance, point_of, shape_of_path
from plancheck.geometry.walker import Miss

__all__ = ["Geometry", "Miss", "Shape", "Stretch", "Turn", "at_distance", "find_geometry", "point_of", "shape_of_path"]
