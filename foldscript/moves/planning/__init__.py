"""What moves plan with: alignments, flaps, layers, and the words for them."""
