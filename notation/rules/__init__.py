"""Every rule of the notation: its name, how bad it is, its sentences and its page for `annulet explain`."""
