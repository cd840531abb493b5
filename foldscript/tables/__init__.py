"""TOML files of a person's own, with the place of every value, so that mistakes can be pointed at."""
