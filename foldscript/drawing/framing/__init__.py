"""How large a figure is drawn, and where its paper stands in its frame."""
