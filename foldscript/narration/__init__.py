"""A model narrated in words alone, for folders who cannot see a drawing."""
