"""Booklet files: which models, in which order, on what paper."""
