"""Pages of their own: class plan, practice sheet, creases, poster."""
