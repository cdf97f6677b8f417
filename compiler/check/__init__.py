"""Checks: a weave goes in, diagnostics come out; a rule family a file, `run.check` calls them all."""
