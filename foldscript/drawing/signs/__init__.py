"""What the signs of a figure look like."""
