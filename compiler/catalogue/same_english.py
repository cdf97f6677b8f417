"""What `annulet same` says in English.

In: the name and the arguments of a difference, as `compiler.same.compare` gives them. Out: one sentence.
"""

from __future__ import annotations

from collections.abc import Mapping

Arguments = Mapping[str, str | int]

SAME = "The same weave."

SENTENCES: Mapping[str, str] = {
    "pieces": "The first has {first} and the second {second}.",
    "counts": "{piece}: {what}: {first} in the first, {second} in the second.",
    "links": "{piece}: links: {first} in the first, {second} in the second.",
    "relations": "{piece}: {what}: {first} in the first, {second} in the second.",
    "poses": "{piece}: the first is {first}, the second {second}.",
    "undecided": "{piece}: too regular to decide in reasonable time; nothing that can be counted differs.",
    "arrangement": "{piece}: as many rings and links in both, but other rings are linked with each other.",
    "relations-place": "{piece}: the same links, but other rings lie around, between, over or beside each other.",
    "mirror": "{piece}: the second is the mirror image of the first.",
    "loops": "{piece}: the same links, entered from other sides; crossed loops of three: {first} in the first, "
    "{second} in the second.",
    "signs": "{piece}: the same links, entered from other sides: some loop is plain in one and crossed in the other.",
}

RELATIONS: Mapping[str, str] = {
    "around": "rings around another, not linked with it",
    "inside": "rings inside another, not linked with it",
    "between": "rings of a pair with another in their gap",
    "beside": "rings of a pair with another in their gap",
    "companion": "rings side by side as one strand",
    "front and back, later": "rings one before the other as one strand",
    "front and back, earlier": "rings one before the other as one strand",
    "nested, later": "rings nested in another as one strand",
    "nested, earlier": "rings nested in another as one strand",
    "over": "rings over another, not linked with it",
    "under": "rings under another, not linked with it",
    "placed on": "rings put into a stated gap on another",
    "placed on by": "rings put into a stated gap on another",
    "placed next to": "neighbours of rings put into a stated gap",
    "same finding": "further eyes of findings",
}
_COUNTED_TWICE = ("companion", "same finding", "placed next to")
"""Relations that both of the two have."""


def difference_text(name: str, arguments: Arguments) -> str:
    """The sentence of a difference."""
    fields = dict(arguments)
    if name == "pieces":
        fields = {key: _counted(value, "piece") for key, value in arguments.items()}
    elif name == "counts":
        fields["what"] = _kind(str(arguments["what"]))
    elif name == "relations":
        what = str(arguments["what"])
        fields["what"] = RELATIONS[what]
        if what in _COUNTED_TWICE:
            fields.update({key: int(arguments[key]) // 2 for key in ("first", "second")})
    elif name == "poses":
        fields.update({key: _poses(str(arguments[key])) for key in ("first", "second")})
    return SENTENCES[name].format(**fields)


def _counted(count: str | int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _kind(colour: str) -> str:
    """`ring 5 0.9 copper` and `finding drop 1.5 closed` in words."""
    what, *parts = colour.split(" ")
    if what == "ring":
        inner, wire, metal = parts
        return f"{metal} rings of {inner} mm in wire of {wire} mm"
    kind, eye, manner = parts
    return f"{kind} eyes of {eye} mm that {'open' if manner == 'opens' else 'stay closed'}"


def _poses(poses: str) -> str:
    """`half turns 1 on 1, lean left on 5` in words."""
    if not poses:
        return "neither leaned, turned nor closed with half turns"
    return ", ".join(_pose(pose) for pose in poses.split(", "))


def _pose(pose: str) -> str:
    what, _, rings = pose.rpartition(" on ")
    name, _, amount = what.rpartition(" ")
    if name == "half turns":
        return f"closed with {_counted(int(amount), 'half turn')}"
    if name == "turned":
        return f"turned by {amount} degrees ({_counted(int(rings), 'ring')})"
    return f"leaned {amount} ({_counted(int(rings), 'ring')})"
