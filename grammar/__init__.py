"""The grammar of the fold script language and its reference, shipped as `foldscript.grammar`."""
