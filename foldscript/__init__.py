"""foldscript: folding sequences as text, folded for real and drawn as printable steps."""

__version__ = "0.1.0"
