"""Pattern to paper: expansion, checks, geometry, words, booklet, and the command line."""
