"""Changes: two versions of a script, a folder or a booklet, and what is to be printed again."""
