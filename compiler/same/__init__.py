"""Whether two pieces are the same weave, and what differs first where they are not."""
