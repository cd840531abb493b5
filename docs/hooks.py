"""The way into the making of the site, for MkDocs: see `making/events.py`."""

from __future__ import annotations

from making.events import on_files, on_page_markdown

__all__ = ["on_files", "on_page_markdown"]
