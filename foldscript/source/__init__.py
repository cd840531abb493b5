"""Text as it comes in: files read, spans in them, what is wrong there and how it reads."""
