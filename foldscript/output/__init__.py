"""Documents and steps to bytes: SVG, PDF, PNG, states."""
