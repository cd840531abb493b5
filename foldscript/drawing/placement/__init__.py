"""Where signs and letters find room."""
