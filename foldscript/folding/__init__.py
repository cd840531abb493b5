"""`Program` to `Steps`: names are looked up, moves are carried out, every state is a real one."""
