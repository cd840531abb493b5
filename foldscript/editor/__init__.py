"""What an editor asks about a script while it is written, and the answers; needs the extra 'editor'."""
