"""The commands of the command line, a module each: `configure` its arguments, `run` it."""
