"""The plural of a noun that is given in the singular only, for what is printed."""

_VOWELS = "aeiou"


def plural(noun: str) -> str:
    """Several of something that a designer has named in the singular only, by the rules of English."""
    if noun.endswith(("s", "x", "z", "ch", "sh")):
        return f"{noun}es"
    if noun.endswith("y") and noun[-2:-1] not in _VOWELS:
        return f"{noun[:-1]}ies"
    return f"{noun}s"
