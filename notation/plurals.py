"""The plural of a noun that is given in the singular only, and names without a label, as they are printed."""

_VOWELS = "aeiou"


def printed(name: str) -> str:
    """A name as it is printed where no label says otherwise: what it has to join with hyphens, apart."""
    return name.replace("-", " ")


def plural(noun: str) -> str:
    """Several of something that a designer has named in the singular only, by the rules of English."""
    if noun.endswith(("s", "x", "z", "ch", "sh")):
        return f"{noun}es"
    if noun.endswith("y") and noun[-2:-1] not in _VOWELS:
        return f"{noun[:-1]}ies"
    return f"{noun}s"
