"""A reader who has only the printed words: sentences of steps to motions, and what comes of them.

In: steps as `read_page` finds them. Out: a `Made`: kinds of rings, links with the side at which each is entered,
relations, companions, folds. Of the pattern only the list of materials is known: the eyes of each finding, and what
one ring and several of a kind are called.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from read_motion import Load, Made, Motion
from read_page import PrintedStep
from read_phrases import Name, Phrases, number, series, spread

from compiler.weave import Companionship, PoseKind, RelationKind

_ENTRY = {"from the front": 1, "from behind": -1}
_FROM = "|".join(_ENTRY)
_STRAND = {None: 1, "pair": 2, "pairs": 2, "set": 3, "sets": 3}
_LIES = {
    "beside": Companionship.SIDE_BY_SIDE,
    "behind": Companionship.FRONT_AND_BACK,
    "inside": Companionship.NESTED,
}
_LAID = {
    None: Companionship.SIDE_BY_SIDE,
    "one behind the other, the first nearest to you": Companionship.FRONT_AND_BACK,
    "one inside the other, the first outermost": Companionship.NESTED,
}
_COUNT = r"(\S+)(?: (pairs?|sets?) of(?: three)?)?"
_TAKE = re.compile(rf"Take {_COUNT} closed (.+?) as (.+?)(?:, (one .*))?\.")
_LAY = re.compile(
    rf"Lay {_COUNT} closed (.+?) as (.+?) in the holes? of (.+?)(?: at once, where they overlap)?(?:, (one .*))?"
    r"; link nothing\."
)
_OPEN = re.compile(r"Take an? open (.+?)(?: for each)?\.")
_CARRY = re.compile(
    rf"Slip {_COUNT} closed (.+?) onto the open ring as (.+?)(?:, entered ({_FROM}))?(?:(?::|,)? for .+|: .+)?\."
)
_CARRY_PART = re.compile(
    rf"Slip (?:the )?(.*?) onto the open ring(?: by its (\S+) eye)?(?:, entered ({_FROM}))?\."
)
_EACH_CARRIES = re.compile(rf"Each carries (?:{_COUNT} closed (.+?)|an? .+?)(?:, entered ({_FROM}))?: (.*)\.")
_GO = re.compile(rf"(?:({_FROM}), go|go) through (.*?)(?: each time)?\.", re.IGNORECASE)
_GO_EACH = re.compile(rf"(?:({_FROM}), )?(?:go through the \w+ \w+: )?(\S.* through .*)\.", re.IGNORECASE)
_ENTERS = re.compile(rf"Each (?:also )?enters ({_FROM}): (.*)\.")
_HANG = re.compile(rf"Hang it on (.*?)(?:, entered ({_FROM}))?\.")
_TWIN = re.compile(
    r"(?:Its twin|Each has a twin|(After each, t|T)wo more)\b.*?\bfollows? the same way"
    r"(?: and (?:lies? (\S+) it.*))?\."
)
_TITLE = re.compile(r"(?!Row |Round |Rows |Rounds )(?:[A-Z][a-z -]* \d+(?: of .*)?|The .* of .*)")
"""The title of a step that says what is made in it, so that its only sentence needs not."""
_LABEL = re.compile(r"(?:The [a-z][a-z -]*|[A-Z][a-z -]* \d+(?:(?: to | and |, )\d+)*)\.")
_SILENT = re.compile(r"Close .*|Open its .*|Put an? .* it holds the work for now\.|Take the .* out again\.")
"""What changes nothing that lasts."""
_ROW = re.compile(
    r"(?:Row|Round) (\d+) (?:lies .* and )?has (?:one ([a-z][a-z -]*?)(?:, a pair of .*)?\.|(\S+) rings.*|.*)"
)
_ALIAS = re.compile(r"(.+) is (.+), which is there already\.")
_FOLD = re.compile(r"Fold (.*?) back(?: onto (.*?))?(?:, one ring to each side)?\.")
_CLOCKWISE = re.compile(r"Work (anticlockwise|clockwise) throughout, seen from the front\.")
_STANDS = (
    (re.compile(r"(.*) lies? over (.*), nearer to you\."), RelationKind.OVER),
    (re.compile(r"(.*) lies? around (.*)\."), RelationKind.AROUND),
    (re.compile(r"(.*) lies? between the (?:two|three) rings of (.*)\."), RelationKind.BETWEEN),
    (
        re.compile(r"(.*) lies? in the holes? of (.*?)(?: at once, where they overlap)?\."),
        RelationKind.INSIDE,
    ),
)
_STANDS_NOT = re.compile(r".* do(?:es)? not lie (?:over|around|between|in the holes? of) .*\.")
_AGAIN = re.compile(r"Work (?:each as step (\d+)|steps (\d+) (?:to|and) (\d+) .*), with these changes\.")
_CHANGE = re.compile(r"(And so on to s|S)teps? (\d+)(?: (?:to|and) (\d+))?: (.*)\.")
_RELATIONS = (
    (re.compile(r"Lay it over (.*), on the side facing you; do not link them\."), RelationKind.OVER),
    (
        re.compile(r"Lay it under (.*), on the side facing away from you; do not link them\."),
        RelationKind.UNDER,
    ),
    (
        re.compile(r"Lay it in the holes? of (.*?)(?: at once, where they overlap)?; do not link them\."),
        RelationKind.INSIDE,
    ),
    (re.compile(r"Go around (?:the joint of )?(.*), not through\."), RelationKind.AROUND),
    (re.compile(r"Slip it between (.*) without going through them\."), RelationKind.BETWEEN),
)
_SERIES = (
    (re.compile(r"On the side facing you, lay (.*); do not link them\."), "over", RelationKind.OVER),
    (
        re.compile(r"On the side facing away from you, lay (.*); do not link them\."),
        "under",
        RelationKind.UNDER,
    ),
    (re.compile(r"Lay (.*); do not link them\."), "in the hole of", RelationKind.INSIDE),
    (
        re.compile(r"(.* goes around the joint of .*), not through\."),
        "around the joint of",
        RelationKind.AROUND,
    ),
    (re.compile(r"(.* goes around .*), not through\."), "around", RelationKind.AROUND),
    (re.compile(r"Slip (.*), without going through them\."), "between the rings of", RelationKind.BETWEEN),
)
_RELATION_CLAUSES = re.compile(
    r"(?:go around(?: the joint of)?|slip it between the rings of|lay it in the hole of|lay it over|lay it under) (.*)"
)


def _low(text: str) -> str:
    return text[0].lower() + text[1:]


class Reader:
    """Follows the words of one piece."""

    def __init__(self, eyes: Mapping[str, tuple[str, ...]], kinds: Mapping[str, str]) -> None:
        """`eyes`: the names of the eyes of each finding, by what it is called; `kinds`: one ring, by several."""
        self.made = Made(eyes)
        self.kinds = kinds
        self.steps: dict[int, list[Motion]] = {}

    # ------------------------------------------------------------ steps

    def step(self, step: PrintedStep) -> None:
        again = [place for place, text in enumerate(step.sentences) if _AGAIN.fullmatch(text)]
        if again:
            self.repeated(step, again[0])
            return
        motions = self.read(step)
        self.steps[step.first] = motions
        self.made.follow(motions)

    def read(self, step: PrintedStep) -> list[Motion]:
        phrases = Phrases(step.title)
        motions: list[Motion] = []
        labels: list[Name | None] = []
        if _TITLE.fullmatch(step.title):
            labels = list(phrases.names(_low(step.title)))
        for text in step.sentences:
            row = _ROW.fullmatch(text)
            if row:
                phrases.row = int(row[1])
                if row[2]:  # the only one in its row needs no number
                    labels = list(phrases.names(f"{row[2]} 1"))
                elif row[3]:
                    phrases.in_row = number(row[3])
            elif _SILENT.fullmatch(text) or self.lasting(text, phrases, motions):
                continue
            elif _LABEL.fullmatch(text) and not text.startswith(("Take ", "Slip ", "Hang it ", "Go ")):
                labels = list(phrases.names(_low(text[:-1])))
            else:
                labels = self.sentence(text, phrases, motions, labels)
        return motions

    def lasting(self, text: str, phrases: Phrases, motions: list[Motion]) -> bool:
        """What is no motion of a ring: a second name, a fold, the direction of work."""
        alias, fold, direction = _ALIAS.fullmatch(text), _FOLD.fullmatch(text), _CLOCKWISE.fullmatch(text)
        if alias:
            (same,) = phrases.names(alias[2])
            motions.append(Motion(targets=list(phrases.names(_low(alias[1]))), same_as=same))
        elif fold:
            onto = phrases.names(fold[2]) if fold[2] else []
            motions.append(Motion(pose=PoseKind.FOLDED, posed=phrases.names(fold[1]), onto=onto))
        elif direction:
            motions.append(Motion(pose=PoseKind(direction[1])))
        if _STANDS_NOT.fullmatch(text):
            return True
        for form, kind in _STANDS:
            if found := form.fullmatch(text):
                posed, onto = phrases.names(_low(found[1])), phrases.names(found[2])
                motions.append(Motion(stands=kind, posed=posed, onto=onto))
                return True
        return bool(alias or fold or direction)

    def sentence(
        self, text: str, phrases: Phrases, motions: list[Motion], labels: list[Name | None]
    ) -> list[Name | None]:
        """One sentence; gives the labels that still wait for their motion."""
        if taken := _TAKE.fullmatch(text) or _LAY.fullmatch(text):
            motions.append(self.taken(taken, phrases))
            return []
        if opened := _OPEN.fullmatch(text):
            motions.append(Motion(targets=labels or [None], kind=opened[1]))
            return []
        if re.fullmatch(r"Take the (.*)\.", text):
            motions.append(Motion(targets=[None], hung=phrases.names(text[9:-1])[0]))
            return labels
        assert motions, f"nothing is open: {text}"
        motion = motions[-1]
        if not self.related(text, phrases, motion):
            self.done(text, phrases, motion)
        return labels

    def taken(self, taken: re.Match[str], phrases: Phrases) -> Motion:
        """`Take one closed ring as ...`, `Lay one closed ring as ... in the hole of ...; link nothing.`"""
        names = phrases.names(taken[4])
        assert len(names) == number(taken[1]), taken[0]
        inside = [(RelationKind.INSIDE, [phrases.names(taken[5])])] if taken.re is _LAY else []
        return Motion(
            targets=list(names),
            kind=self.kinds[taken[3]],
            strand=_STRAND[taken[2]],
            lies=_LAID[taken[taken.re.groups]],
            relations=inside,
        )

    def related(self, text: str, phrases: Phrases, motion: Motion) -> bool:
        """Whether the sentence says where the ring lies, which is noted."""
        for form, kind in _RELATIONS:
            if found := form.fullmatch(text):
                names = phrases.names(re.sub(r"^the (?:two|three) rings of ", "", found[1]))
                motion.relations.append((kind, [names]))
                return True
        for form, verb, kind in _SERIES:
            if found := form.fullmatch(text):
                told = series(found[1], verb)
                self.told_of(told, phrases, motion)
                motion.relations.append((kind, [phrases.names(what) for _, what in told]))
                return True
        return False

    def done(self, text: str, phrases: Phrases, motion: Motion) -> None:
        """What the open ring meets, and what follows it."""
        if found := _HANG.fullmatch(text):
            motion.add(0, [(name, _ENTRY[found[2] or "from the front"]) for name in phrases.names(found[1])])
        elif found := _EACH_CARRIES.fullmatch(text):
            self.each_carries(found, phrases, motion)
        elif found := _ENTERS.fullmatch(text):
            self.each_goes(found[2], _ENTRY[found[1]], phrases, motion)
        elif (found := _GO_EACH.fullmatch(text)) and not (": " not in text and _GO.fullmatch(text)):
            self.each_goes(found[2], _ENTRY[(found[1] or "from the front").lower()], phrases, motion)
        elif found := _GO.fullmatch(text):
            sign = _ENTRY[(found[1] or "from the front").lower()]
            if motion.targets == [None] and text.endswith(" each time."):  # each of the row, the same way
                motion.targets = list(phrases.names(f"rings 1 to {phrases.in_row}"))
            for place in range(len(motion.targets) if text.endswith(" each time.") else 1):
                motion.add(place, [(name, sign) for name in phrases.names(found[2])])
        elif found := _CARRY.fullmatch(text):
            names, sign = phrases.names(found[4]), _ENTRY[found[5] or "from the front"]
            assert len(names) == number(found[1]), text
            kind, rings = self.kinds[found[3]], _STRAND[found[2]]
            motion.carried = [[Load(name=name, rings=rings, kind=kind, sign=sign) for name in names]]
        elif found := _CARRY_PART.fullmatch(text):
            part = replace(phrases.names(found[1])[0], eye=found[2] or "")
            motion.carried = [[Load(name=part, rings=0, sign=_ENTRY[found[3] or "from the front"])]]
        elif found := _TWIN.fullmatch(text):
            motion.strand = 3 if found[1] else 2
            motion.lies = _LIES[found[2] or "beside"]
        else:
            raise AssertionError(f"not understood: {text}")

    def each_goes(self, text: str, sign: int, phrases: Phrases, motion: Motion) -> None:
        told = series(text, "through")
        self.told_of(told, phrases, motion)
        for place, (_, path) in enumerate(told):
            motion.add(place, [(name, sign) for name in phrases.names(path)])

    def each_carries(self, found: re.Match[str], phrases: Phrases, motion: Motion) -> None:
        told = series(re.sub(r" \([^)]*\)", "", found[5]), "carries")
        self.told_of(told, phrases, motion)
        sign = _ENTRY[found[4] or "from the front"]
        rings, kind = (_STRAND[found[2]], self.kinds[found[3]]) if found[3] else (0, "")
        motion.carried = [
            [Load(name=name, rings=rings, kind=kind, sign=sign) for name in phrases.names(what)]
            for _, what in told
        ]

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
                self.steps[start + offset] = changed(motions, text, step.title)
                self.made.follow(self.steps[start + offset])


def changed(motions: list[Motion], text: str, title: str) -> list[Motion]:
    """The motions of a step as they are in a repetition, whose changes are told."""
    phrases = Phrases(title)
    motions = [each for each in motions if each.stands is None]
    if text.startswith("make "):
        return _made_anew(motions, text, phrases)
    rows = re.fullmatch(r"add (\d+) to every (?:row|round) number \(.*\)", text)
    if rows:
        return [each.mapped(lambda name: name.lower_by(int(rows[1]))) for each in motions]
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

    return [each.mapped(swap) for each in motions]


def _made_anew(motions: list[Motion], text: str, phrases: Phrases) -> list[Motion]:
    """`make ring 4; go through rings 2 and 3`: what is not said is as it follows from the new names."""
    clauses = re.sub(r" \([^)]*\)", "", text).split("; ")
    made = [name for each in clauses if each.startswith("make ") for name in phrases.names(each[5:])]
    old = [name for each in motions for name in each.targets if name is not None]
    assert len(made) == len(old), text
    renamed = {one: replace(two, row=one.row, owner=one.owner) for one, two in zip(old, made, strict=True)}
    out = [each.mapped(lambda name: renamed.get(name, name)) for each in motions]
    makers = [each for each in out for name in each.targets if name is not None]
    told = 0
    gone, laid = 0, 0
    """How many of the ring's path, and of its relations, have been told anew."""
    for clause in clauses:
        if clause.startswith("make "):
            told, gone, laid = told + len(phrases.names(clause[5:])), 0, 0
            continue
        motion = makers[told - 1]
        if clause.startswith("go through "):
            names = phrases.names(clause[11:])
            assert len(motion.paths) == 1 and gone + len(names) <= len(motion.paths[0]), text
            for name in names:
                motion.paths[0][gone] = (name, motion.paths[0][gone][1])
                gone += 1
        elif clause.startswith("slip on "):
            names = phrases.names(clause[8:])
            assert len(motion.carried) == 1 and len(names) == len(motion.carried[0]), text
            loads = zip(motion.carried[0], names, strict=True)
            motion.carried = [[replace(load, name=name) for load, name in loads]]
        else:
            lies = _RELATION_CLAUSES.fullmatch(clause)
            assert lies, f"not understood: {clause}"
            motion.relations[laid] = (motion.relations[laid][0], [phrases.names(lies[1])])
            laid += 1
    return out
