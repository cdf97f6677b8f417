"""The search for a layout: from a layout problem to circles in space; the only home of numpy."""
