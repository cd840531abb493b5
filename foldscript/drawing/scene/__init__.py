"""What a drawing consists of: paths and texts by role, groups of them, and where the paper lies in them."""
