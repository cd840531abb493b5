"""The part of a figure that is drawn larger, in a circle beside it."""
