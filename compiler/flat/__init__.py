"""Weave to a flat drawing: where each ring would lie if the piece were spread out on the table."""
