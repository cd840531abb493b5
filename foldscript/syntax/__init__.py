"""Text to `Program`: lexing, parsing, and nothing that needs paper."""
