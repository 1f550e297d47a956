"""Shapes as they lie on one plan: areas, edges and corners."""
