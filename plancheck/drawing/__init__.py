"""Drawings of a plan as SVG text: isometric, riser, manifold faces, pressure along the way, shower temperature."""
