"""Booklet files: what a person asks a booklet to be, as plain data."""
