"""Text to pattern and back: line layer, Lark grammar, parser and canonical printer."""
