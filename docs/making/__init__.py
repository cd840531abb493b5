"""The documentation site is made here: pages from the code, pictures from the examples.

It is no part of the package. In: the repository and foldscript itself. Out: pages in Markdown and pictures,
which MkDocs takes by `events.py`. Nothing is drawn by hand.
"""
