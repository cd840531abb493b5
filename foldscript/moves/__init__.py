"""The moves of the craft, one file each; `foldscript.moves.registry` finds them."""
