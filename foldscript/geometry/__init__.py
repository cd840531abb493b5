"""Plane geometry as free functions over plain tuples; knows nothing of paper."""
