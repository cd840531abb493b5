"""Text as it comes in: files read, places in them, and what is wrong there."""
