"""The vocabulary of Annulet: source text, diagnostics, lengths, metals and the pattern as written."""
