"""Layers drawn a little apart, so that a reader can tell them."""
