"""A reader who has only the printed words: sentences of steps to motions, motions to a graph of links.

In: steps as `read_page` finds them. Out: which nodes are linked, numbered in the order in which the words bring them
in. Of the pattern only the eyes of each finding are known, as a maker knows them from the kit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from read_page import PrintedStep
from read_phrases import Name, Phrases, number, series, singular, spread

_TAKE = re.compile(
    r"(?:Take|Lay) (\S+)(?: (pairs?|threes?) of)? closed (.+?) as (.+?)(?:, one .*| in the hole of .*)?\."
)
_CARRY = re.compile(r"Carry (\S+)(?: (pairs?|threes?) of)? closed (.+?) as (.+)\.")
_STRAND = {None: 1, "pair": 2, "pairs": 2, "three": 3, "threes": 3}
_LABEL = re.compile(r"(?:The [a-z][a-z -]*|[A-Z][a-z -]* \d+(?:(?: to | and |, )\d+)*)\.")
_TITLE = re.compile(r"(?!Row |Round |Rows |Rounds )(?:[A-Z][a-z -]* \d+(?: of .*)?|The .* of .*)")
"""The title of a step that says what is made in it, so that its only sentence needs not."""
_NO_LINK = (
    "Close ",
    "Open its",
    "Fold ",
    "Spread ",
    "Lean ",
    "Slip it between",
    "Lay it ",
    "Go around ",
    "What goes around",
    "Put a ",
    "Roll ",
)
_LIES = re.compile(r"(?:.* lies (?:around|between|over|under|inside) .*|Take the .* out again\.)")
_ROW = re.compile(r"(?:Row|Round) (\d+) has (?:one ([a-z][a-z -]*?)(?: and lies .*)?\.|.*)")
_ALIAS = re.compile(r"(.+) is (.+), which is there already\.")
_AGAIN = re.compile(r"Work (?:each as step (\d+)|steps (\d+) (?:to|and) (\d+) .*), with these changes\.")
_CHANGE = re.compile(r"(And so on to s|S)teps? (\d+)(?: (?:to|and) (\d+))?: (.*)\.")


@dataclass(slots=True)
class Motion:
    """One ring or strand after another that is passed, taken or hung, each in the same way."""

    targets: list[Name | None] = field(default_factory=list)
    """None for a ring that has no name."""
    strand: int = 1
    paths: list[list[Name]] = field(default_factory=list)
    """For each target, or one for all."""
    carried: list[list[tuple[Name, int]]] = field(default_factory=list)
    """For each target, or one for all: names with the number of rings in each strand, 0 for a finding."""
    hung: Name | None = None
    """The finding that is hung, instead of a ring."""


class Reader:
    """Follows the words of one piece."""

    def __init__(self, eyes: Mapping[str, tuple[str, ...]]) -> None:
        """`eyes`: the names of the eyes of each finding, by what it is called in print."""
        self.eyes = eyes
        self.links: set[tuple[int, int]] = set()
        self.nodes = 0
        self.members: dict[Name, list[int]] = {}
        self.steps: dict[int, list[Motion]] = {}

    # ------------------------------------------------------------ steps

    def step(self, step: PrintedStep) -> None:
        again = [place for place, text in enumerate(step.sentences) if _AGAIN.fullmatch(text)]
        if again:
            self.repeated(step, again[0])
            return
        motions = self.read(step)
        self.steps[step.first] = motions
        self.follow(motions)

    def read(self, step: PrintedStep) -> list[Motion]:
        phrases = Phrases(step.title)
        motions: list[Motion] = []
        labels: list[Name | None] = []
        if _TITLE.fullmatch(step.title):
            labels = list(phrases.names(step.title[0].lower() + step.title[1:]))
        for text in step.sentences:
            row = _ROW.fullmatch(text)
            alias = _ALIAS.fullmatch(text)
            label = _LABEL.fullmatch(text)
            if row:
                phrases.row = int(row[1])
                if row[2]:  # the only one in its row needs no number
                    labels = list(phrases.names(f"{row[2]} 1"))
            elif alias:
                names = phrases.names(alias[1][0].lower() + alias[1][1:])
                motions.append(Motion(targets=list(names), paths=[phrases.names(alias[2])], strand=0))
            elif text.startswith(_NO_LINK) or _LIES.fullmatch(text):
                continue
            elif label and not text.startswith(("Take ", "Carry ", "Hang it ", "Go ")):
                labels = list(phrases.names(text[0].lower() + text[1:-1]))
            else:
                labels = self.sentence(text, phrases, motions, labels)
        return motions

    def sentence(
        self, text: str, phrases: Phrases, motions: list[Motion], labels: list[Name | None]
    ) -> list[Name | None]:
        """One sentence; gives the labels that still wait for their motion."""
        taken, carried = _TAKE.fullmatch(text), _CARRY.fullmatch(text)
        if taken:
            names = phrases.names(taken[4])
            assert len(names) == number(taken[1]), text
            motions.append(Motion(targets=list(names), strand=_STRAND[taken[2]]))
            return []
        if re.fullmatch(r"Take an? open .*\.", text):
            motions.append(Motion(targets=labels or [None]))
            return []
        motion = motions[-1] if motions else Motion()
        through = re.fullmatch(r"(?:From (?:the front|behind), go|Go) through (.*?)(?: each time)?\.", text)
        listed = re.fullmatch(r"(?:Go through the \w+ \w+: )?(.* through .*)\.", text)
        each = re.fullmatch(r"Each carries .*?: (.*)\.", text)
        part = re.fullmatch(r"Carry (?:the )?(.*?)(?: by its (\S+) eye)?(?:, entered from .*)?\.", text)
        if re.fullmatch(r"Take the (.*)\.", text):
            motions.append(Motion(targets=[None], hung=phrases.names(text[9:-1])[0]))
        elif text.startswith("Hang it on "):
            motion.paths = [phrases.names(re.sub(r", entered from .*", "", text[11:-1]))]
        elif each:
            self.each_carries(each[1], phrases, motion)
        elif listed and ((text.startswith("Go through the ") and ": " in text) or not through):
            told = series(listed[1], "through")
            self.told_of(told, phrases, motion)
            motion.paths = [phrases.names(path) for _, path in told]
        elif through:
            motion.paths = [[*(motion.paths[0] if motion.paths else []), *phrases.names(through[1])]]
        elif carried:
            names = phrases.names(re.split(r"(?:: | for )", carried[4])[0])
            assert len(names) == number(carried[1]), text
            motion.carried = [[(name, _STRAND[carried[2]]) for name in names]]
        elif part:
            motion.carried = [[(replace(phrases.names(part[1])[0], eye=part[2] or ""), 0)]]
        elif re.match(r"(?:After each, t|T)wo more ", text):
            motion.strand = 3
        elif re.match(r"(?:Its twin|Each has a twin|After each, its twin)\b", text):
            motion.strand = 2
        else:
            raise AssertionError(f"not understood: {text}")
        return labels

    def each_carries(self, text: str, phrases: Phrases, motion: Motion) -> None:
        told = series(re.sub(r" \([^)]*\)", "", text), "carries")
        self.told_of(told, phrases, motion)
        motion.carried = []
        for _, what in told:
            finding = re.fullmatch(r"(.*) \d+", what)
            is_part = finding is not None and singular(finding[1]) in self.eyes
            motion.carried.append([(name, 0 if is_part else 1) for name in phrases.names(what)])

    def told_of(self, told: list[tuple[str, str]], phrases: Phrases, motion: Motion) -> None:
        """A list is about the members that are made; where none has been named, it names them."""
        names: list[Name | None] = [phrases.names(who)[0] for who, _ in told]
        if motion.targets == [None]:
            motion.targets = names
        assert names == motion.targets, told

    # ------------------------------------------------------------ steps that repeat others

    def repeated(self, step: PrintedStep, at: int) -> None:
        """`Work steps 5 to 7 another ten times, with these changes.`"""
        again = _AGAIN.fullmatch(step.sentences[at])
        assert again is not None
        first = int(again[1] or again[2])
        base = [self.steps[each] for each in range(first, int(again[1] or again[3]) + 1)]
        changes = [found for text in step.sentences[at + 1 :] if (found := _CHANGE.fullmatch(text))]
        assert len(changes) == len(step.sentences) - at - 1, step.sentences
        listed = [change[4] for change in changes]
        times = (step.last - step.first + 1) // len(base)
        if changes[-1][1] != "S":
            listed = spread(listed, times)
        assert len(listed) == times, (times, listed)
        for place, text in enumerate(listed):
            start = step.first + place * len(base)
            for offset, motions in enumerate(base):
                self.steps[start + offset] = self.changed(motions, text, step.title)
                self.follow(self.steps[start + offset])

    def changed(self, motions: list[Motion], text: str, title: str) -> list[Motion]:
        phrases = Phrases(title)
        if text.startswith("make "):
            return self.made_anew(motions, text, phrases)
        rows = re.fullmatch(r"add (\d+) to every (?:row|round) number \(.*\)", text)
        if rows:
            return [_mapped(each, lambda name: name.lower_by(int(rows[1]))) for each in motions]
        swapped: dict[Name, Name] = {}
        owners: dict[str, str] = {}
        for part in re.split(
            r"(?:; read |, and | and (?=[a-z][^0-9]* \d+[^,]*? for )|, )", re.sub(r"^read ", "", text)
        ):
            new, old = part.split(" for ")
            for one, other in zip(phrases.names(old), phrases.names(new), strict=True):
                swapped[one.bare()] = other.bare()
                owners[f"{one.noun} {one.number}"] = f"{other.noun} {other.number}"

        def swap(name: Name) -> Name:
            other = swapped.get(name.bare())
            found = name if other is None else replace(name, noun=other.noun, number=other.number)
            return replace(found, owner=owners.get(name.owner, name.owner))

        return [_mapped(each, swap) for each in motions]

    def made_anew(self, motions: list[Motion], text: str, phrases: Phrases) -> list[Motion]:
        """`make ring 4; go through rings 2 and 3`: what is not said is as it follows from the new names."""
        clauses = re.sub(r" \([^)]*\)", "", text).split("; ")
        made = [name for each in clauses if each.startswith("make ") for name in phrases.names(each[5:])]
        old = [name for each in motions for name in each.targets if name is not None]
        assert len(made) == len(old), text
        renamed = {
            one: replace(two, row=one.row, owner=one.owner) for one, two in zip(old, made, strict=True)
        }
        carried = [name for each in motions for names in each.carried for name, _ in names]
        out = [_mapped(each, lambda name: renamed.get(name, name)) for each in motions]
        current = -1
        for clause in clauses:
            if clause.startswith("make "):
                current += 1 if current < 0 else len(phrases.names(clause[5:]))
            elif clause.startswith("go through "):
                out[current].paths = [phrases.names(clause[11:])]
            elif clause.startswith("carry "):
                names = phrases.names(clause[6:])
                assert len(names) == len(carried), text
                out[current].carried = [[(name, out[current].carried[0][0][1]) for name in names]]
            else:
                assert clause.startswith("go around "), text
        return out

    # ------------------------------------------------------------ the graph

    def follow(self, motions: Sequence[Motion]) -> None:
        for motion in motions:
            if motion.strand == 0:  # a place that is there already has a new name
                (name,), (other,) = motion.targets, motion.paths[0]
                assert name is not None
                self.members[name] = self.find(other)
                continue
            for place, target in enumerate(motion.targets):
                self.one(
                    motion,
                    target,
                    motion.paths[place if len(motion.paths) > 1 else 0] if motion.paths else [],
                    motion.carried[place if len(motion.carried) > 1 else 0] if motion.carried else [],
                )

    def one(
        self, motion: Motion, target: Name | None, path: list[Name], carried: list[tuple[Name, int]]
    ) -> None:
        met = [node for name in path for node in self.find(name)]
        strand = self.part(motion.hung) if motion.hung else self.bring_in(target, motion.strand)
        for name, rings in carried:
            met += self.bring_in(name, rings) if rings else self.part(name)
        for ring in strand:
            for node in met:
                pair = (min(ring, node), max(ring, node))
                assert pair not in self.links, f"{target} is linked twice"
                self.links.add(pair)

    def bring_in(self, name: Name | None, rings: int) -> list[int]:
        nodes = list(range(self.nodes, self.nodes + rings))
        self.nodes += rings
        if name is not None:
            assert name not in self.members, f"{name} is brought in twice"
            self.members[name] = nodes
        return nodes

    def part(self, name: Name) -> list[int]:
        """A finding that comes in: all its eyes, and the one that is met."""
        eyes = self.eyes[name.noun]
        nodes = list(range(self.nodes, self.nodes + len(eyes)))
        self.nodes += len(eyes)
        whole = replace(name, eye="")
        for eye, node in zip(eyes, nodes, strict=True):
            self.members[replace(whole, eye=eye if len(eyes) > 1 else "")] = [node]
        return self.members[name]

    def find(self, name: Name) -> list[int]:
        """What a name means: in this owner, else the one that is called so."""
        for tried in (name, replace(name, row=0), replace(name, owner=""), replace(name, owner="", row=0)):
            if tried in self.members:
                return self.members[tried]
        alike = [each for each in self.members if each.bare() == name.bare() and each.eye == name.eye]
        alike = [each for each in alike if each.owner == name.owner] or alike
        assert len(alike) == 1, f"{name}: {alike}"
        return self.members[alike[0]]


def _mapped(motion: Motion, change: object) -> Motion:
    """The motion with every name changed."""
    assert callable(change)
    return Motion(
        targets=[None if name is None else change(name) for name in motion.targets],
        strand=motion.strand,
        paths=[[change(name) for name in path] for path in motion.paths],
        carried=[[(change(name), rings) for name, rings in names] for names in motion.carried],
        hung=None if motion.hung is None else change(motion.hung),
    )
