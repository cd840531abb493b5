"""foldscript's own words in other languages: catalogues, and what is kept in them."""
