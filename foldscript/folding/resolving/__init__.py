"""From the words of a statement to points, lines and amounts on the paper."""
