"""Figures of the work as page items: schematics from flat positions, and true views from a proved layout."""
