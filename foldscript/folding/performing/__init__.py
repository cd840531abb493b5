"""One statement carried out on the paper."""
