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
    "poses": "{piece}: {what}: {first} in the first, {second} in the second.",
    "undecided": "{piece}: too regular to decide in reasonable time; nothing that can be counted differs.",
    "arrangement": "{piece}: as many rings and links in both, but other rings are linked with each other.",
    "relations-place": "{piece}: the same links, but other rings lie around, between, over or beside each other.",
    "poses-place": "{piece}: the same links, entered from the same sides, but other rings are folded, spread, leaned "
    "or turned.",
    "mirror": "{piece}: the second is the mirror image of the first.",
    "turned-over": "{piece}: the second is the first turned over: its back is the front.",
    "mirror-over": "{piece}: the second is the mirror image of the first, turned over: its back is the front.",
    "loops": "{piece}: the same links, entered from other sides; crossed loops of three: {first} in the first, "
    "{second} in the second.",
    "signs": "{piece}: the same links, entered from other sides: some loop is plain in one and crossed in the other.",
}

RELATIONS: Mapping[str, str] = {
    "around": "rings around one other alone, not linked with it",
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
    "around the joint": "rings around the joint of two others",
    "with a ring around their joint": "rings with another around their joint",
    "folded onto": "rings folded back onto another",
    "with others folded onto it": "rings with others folded back onto them",
    "lies there": "rings put into a stated gap on another",
    "lies there, of": "rings put into a stated gap on another",
    "on": "rings put into a stated gap on another",
    "on, of": "rings put into a stated gap on another",
    "next to": "neighbours of rings put into a stated gap",
    "next to, of": "neighbours of rings put into a stated gap",
    "same finding": "eyes of findings with several",
}


def difference_text(name: str, arguments: Arguments) -> str:
    """The sentence of a difference."""
    fields = dict(arguments)
    if name == "pieces":
        fields = {key: _counted(value, "piece") for key, value in arguments.items()}
    elif name == "counts":
        fields["what"] = _kind(str(arguments["what"]))
    elif name == "relations":
        fields["what"] = RELATIONS[str(arguments["what"])]
    elif name == "poses":
        fields["what"] = f"rings {_pose(str(arguments['what']))}"
    return SENTENCES[name].format(**fields)


def _counted(count: str | int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _kind(colour: str) -> str:
    """`ring 5 0.9 copper` and `finding drop 1.5 closed` in words."""
    if colour == "in a gap":
        return "gaps on a ring that are stated for another"
    what, *parts = colour.split(" ")
    if what == "ring":
        inner, wire, metal = parts
        return f"{metal} rings of {inner} mm in wire of {wire} mm"
    kind, eye, manner = parts
    return f"{kind} eyes of {eye} mm that {'open' if manner == 'opens' else 'stay closed'}"


def _pose(pose: str) -> str:
    """`leaned left`, `turned 120`, `half turns -1` in words."""
    name, _, amount = pose.rpartition(" ")
    if name == "half turns":
        way = "clockwise" if int(amount) > 0 else "anticlockwise"
        return f"of a round closed with {_counted(abs(int(amount)), 'half turn')} {way}"
    if name == "turned":
        return f"turned by {amount} degrees"
    said = {
        "folded": "folded back",
        "spread": "spread apart",
        "front inside": "of a round closed with its front inside",
    }
    return said.get(pose, pose)
