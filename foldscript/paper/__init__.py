"""The folding kernel: sheets, flat-folded states, the one operation that changes them, layer order.

Knows nothing of scripts, of the moves' words, or of drawing.
"""
