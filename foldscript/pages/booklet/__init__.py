"""The pages of a booklet: cover, contents, chapters, and their places on sheets."""
