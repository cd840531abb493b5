"""Scenes to pages: handouts, the key of signs, the running foot."""
