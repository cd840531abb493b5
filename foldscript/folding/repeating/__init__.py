"""Steps done again through a symmetry of the paper."""
