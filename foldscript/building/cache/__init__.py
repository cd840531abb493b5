"""The build cache: what a result was made from, so that nothing unchanged is made again."""
