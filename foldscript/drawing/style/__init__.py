"""How roles look: colours, line weights, and sizes of text, from the style files."""
