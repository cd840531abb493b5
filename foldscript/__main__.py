"""`python -m foldscript` does what the command `foldscript` does."""

from .cli import main

if __name__ == "__main__":
    main()
