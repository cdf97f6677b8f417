"""A folder of patterns as a whole: what is known of each, its index, its catalogue."""
