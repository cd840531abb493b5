"""`Figure` to `Scene`: what is visible, where the signs go; roles, never colours."""
