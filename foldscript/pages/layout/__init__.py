"""A model on pages: its head, rows of figures, key and foot, and where the pages break."""
