"""Scripts on their way to files: read, folded and drawn once, then made into what is wanted."""
