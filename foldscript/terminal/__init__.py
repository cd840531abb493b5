"""What people are told while a command runs, and what they may ask of it."""
