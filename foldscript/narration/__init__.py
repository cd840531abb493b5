"""A model told in words alone, for folders who cannot see a drawing."""
