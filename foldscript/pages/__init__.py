"""The page itself: paper, measures, columns, lines of type, and the laid-out document."""
