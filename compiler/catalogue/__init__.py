"""The sentences of the booklet, one catalogue per language."""
