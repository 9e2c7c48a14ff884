"""Sheets that are put together at random from the habits in which people type songs, each with the
chart that it stands for.

A song is made first: its sections, their chords and words, and the order in which they are played.
Then it is typed: names with one sign or another, what comes again by its name or by a line that
gives the order, above the song or below it, within a letter or not.

    python -m tests.interchange.made_sheets SEED COUNT [-v]
"""

import random
import sys
from dataclasses import dataclass, field

from tests.interchange.made_words import (
    ENGLISH,
    KEYS,
    LINES,
    NAMED_ENDS,
    OTHERS,
    REFRAINS,
    TITLES,
    WRITERS,
)
from tests.interchange.typed_sheets import TypedSheet, differences, silent

_HEADS = ("{}:", "[{}]", "{}", "{upper}", "{upper}:", "{}", "{}:", "**{}**", "- {} -", "({})")
"""Signs around the names of sections."""
_PLAIN_HEADS = ("{}", "{}:", "{upper}")
_SHORT = {"Verse ": "V", "Pre-chorus": "Pre"}
_INITIALS = {"Verse ": "V", "Chorus": "C", "Pre-chorus": "PC", "Bridge": "B"}


@dataclass
class Row:
    """A row of chords as it is typed and as the chart has it, with its words as typed and sung."""

    typed: str
    chords: str
    under: str = ""
    words: str = ""


@dataclass
class Part:
    """A section as it is played: written out, with its own words to the music of ``like``, or
    ``again``."""

    name: str
    rows: list[Row] = field(default_factory=list)
    like: str = ""
    words: list[str] = field(default_factory=list)
    again: bool = False
    times: int = 1


class Song:
    """A song made from a seed: its parts in the order in which they are played."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.key = chance.choice(list(KEYS))
        self.chords = KEYS[self.key].split()
        self._lines = chance.sample(LINES, len(LINES))
        self._refrains = chance.sample(REFRAINS, len(REFRAINS))
        others = [*OTHERS]
        self.language = ENGLISH if chance.random() < 0.6 else chance.choice(others)
        self.parts = self._made()

    def _made(self) -> list[Part]:
        chance = self.chance
        lines = chance.choice([2, 2, 3, 4])
        intro = [self._played("Intro")] if chance.random() < 0.55 else []
        verse = self._sung("Verse 1", lines, self._lines)
        before = [self._sung("Pre-chorus", 1, self._lines)] if chance.random() < 0.15 else []
        refrain = self._sung("Chorus", chance.choice([1, 2, 2]), self._refrains)
        parts = [*intro, verse, *before, refrain, self._verse(2, lines), *self._again(before, 1)]
        if chance.random() < 0.35:
            parts.append(Part(chance.choice(self.language.solos), like="Verse 1"))
        if chance.random() < 0.5:
            sung = chance.random() < 0.5
            parts.append(self._sung("Bridge", 2, self._lines) if sung else self._played("Bridge"))
        if chance.random() < 0.3:
            parts.append(self._verse(3, lines))
        parts += self._again(before, chance.choice([1, 1, 2, 3]))
        end = chance.choice(["", "", "End", "Outro"])
        if end == "Outro":
            parts.append(self._played("Outro"))
        elif end:
            parts.append(Part("End", [Row(self.chords[0], self.chords[0])]))
        return parts

    def _again(self, before: list[Part], times: int) -> list[Part]:
        """The refrain once more, with what leads to it."""
        lead = [Part(one.name, again=True) for one in before]
        return [*lead, Part("Chorus", again=True, times=times)]

    def _verse(self, number: int, lines: int) -> Part:
        words = [self._lines.pop() for _ in range(lines)]
        return Part(f"Verse {number}", like="Verse 1", words=words)

    def _row(self, count: int) -> list[str]:
        first = self.chance.random() < 0.7
        others = [self.chance.choice(self.chords) for _ in range(count - first)]
        return [*self.chords[:first], *others]

    def _played(self, name: str) -> Part:
        """A section that nobody sings."""
        chords = self._row(self.chance.choice([4, 4, 4, 8, 2]))
        style = self.chance.choice(["bars", "bars", "repeat", "dash", "plain"])
        if style == "bars":
            typed = [f"| {' | '.join(chords[at : at + 4])} |" for at in range(0, len(chords), 4)]
            return Part(name, [Row(row, row) for row in typed])
        few = chords[:4]
        if style == "repeat":
            times = self.chance.choice([2, 3, 4])
            row = f"|: {' | '.join(few)} :|" + (f" x{times}" if times > 2 else "")
            return Part(name, [Row(row, row)])
        return Part(name, [Row((" - " if style == "dash" else "  ").join(few), " ".join(few))])

    def _sung(self, name: str, count: int, words: list[str]) -> Part:
        barred = self.chance.random() < 0.1
        make = self._barred if barred else self._over_words
        return Part(name, [make(words.pop()) for _ in range(count)])

    def _over_words(self, words: str) -> Row:
        """A row of chords over some words of a line, the first mostly over its first one."""
        parts = words.split()
        starts = [sum(len(one) + 1 for one in parts[:at]) for at in range(len(parts))]
        places = sorted(self.chance.sample(range(len(parts)), self.chance.choice([1, 2, 2, 3])))
        places = sorted({0, *places[1:]}) if self.chance.random() < 0.8 else places
        typed, kept = "", list[str]()
        for chord, place in zip(self._row(len(places)), places, strict=True):
            if len(typed) <= starts[place] - bool(typed):
                typed = typed.ljust(starts[place]) + chord
                kept.append(chord)
        if len(kept) > 1 and self.chance.random() < 0.06:
            cue = self.chance.choice(self.language.cues)
            typed += self.chance.choice([f"   ({cue})", f"     <- {cue}"])
        return Row(typed, " ".join(kept), words, words)

    def _barred(self, words: str) -> Row:
        """A row of bars with the words of each right under it."""
        parts = words.split()
        count = 2 if len(parts) < 6 else 3
        cuts = [at * len(parts) // count for at in range(count + 1)]
        chords, typed, under = self._row(count), "", ""
        for at, chord in enumerate(chords):
            said = " ".join(parts[cuts[at] : cuts[at + 1]])
            width = max(len(said), len(chord)) + 1
            typed, under = f"{typed}| {chord:{width}}", f"{under}  {said:{width}}"
        return Row(f"{typed}|", f"| {' | '.join(chords)} |", under.rstrip(), words)


class Sheet:
    """A song as somebody types it."""

    def __init__(self, song: Song) -> None:
        self.song, self.chance = song, song.chance
        chance = self.chance
        self.head_sign = chance.choice(_HEADS)
        self.short = song.language is ENGLISH and chance.random() < 0.15
        self.initials = song.language is ENGLISH and chance.random() < 0.2
        self.blank_below = chance.random() < 0.15
        self.by_name = chance.random() < 0.6
        self.called: dict[str, str] = {}
        self.settings: list[str] = []

    def typed(self) -> str:
        """The text of the sheet."""
        chance, letter = self.chance, self.chance.random() < 0.2
        head = self._head()
        blocks = [block for part in self.song.parts if (block := self._block(part))]
        order = [] if self.by_name else ["", self._order()]
        above = bool(order) and chance.random() < 0.35
        lines = [*self._greeting(letter), *head, *(order if above else [])]
        before_end = self.song.parts[-1].name == "End" and chance.random() < 0.5
        for at, block in enumerate(blocks):
            if order and not above and before_end and at == len(blocks) - 1:
                lines, order = [*lines, *order], []
            lines += ["", *block]
        lines += [] if above else order
        if chance.random() < 0.15:
            lines += ["", chance.choice(self.song.language.last)]
        lines += ["", chance.choice(["Cheers,", "Best,", "Thanks!"]), "Jo"] if letter else []
        indent = "   " if chance.random() < 0.12 else ""
        return "\n".join(indent + line if line else line for line in lines) + "\n"

    def _greeting(self, letter: bool) -> list[str]:
        if not letter:
            return []
        greeting = self.chance.choice(["Hi all,", "Hello everyone!", "Hey Jo,"])
        return [greeting, "", "here is the new one for Saturday.", ""]

    def _head(self) -> list[str]:
        """The lines over the song; what they give is kept as settings."""
        chance = self.chance
        title = chance.choice(TITLES)
        writer = chance.choice(WRITERS) if chance.random() < 0.6 else ""
        said = {
            "key": self.song.key if chance.random() < 0.6 else "",
            "capo": chance.choice("2345") if chance.random() < 0.3 else "",
            "meter": chance.choice(["4/4", "6/8"]) if chance.random() < 0.25 else "",
            "tempo": chance.choice(["72", "96", "120"]) if chance.random() < 0.3 else "",
        }
        given = {name: value for name, value in said.items() if value}
        named = {"title": title, "writer": writer, **given}
        self.settings = [f"{name}: {value}" for name, value in named.items() if value]
        forms = {"key": "Key: {}", "capo": "Capo {}", "meter": "{}", "tempo": "{} bpm"}
        pieces = [forms[name].format(value) for name, value in given.items()]
        by = [chance.choice(["by {}", "Words and music: {}", "({})"]).format(writer)] * bool(writer)
        if chance.random() < 0.4:
            return [chance.choice(["Title: {}", "Song: {}", "{}"]).format(title), *by, *pieces]
        if chance.random() < 0.5 or not pieces:
            return [title, *by, *([chance.choice([", ", "   "]).join(pieces)] if pieces else [])]
        return [
            f"{title} ({', '.join(pieces)})".replace("Key:", "key").replace("Capo", "capo"),
            *by,
        ]

    def _name(self, part: Part) -> str:
        """What a section is called."""
        kind, _, number = part.name.partition(" ")
        name = f"{self.song.language.names.get(kind, kind)} {number}".strip()
        for full, short in _SHORT.items() if self.short else ():
            name = name.replace(full, short)
        self.called[part.name] = name
        return name

    def _heading(self, part: Part, behind: str = "") -> str:
        name = self._name(part)
        return self.head_sign.format(name, upper=name.upper()) + behind

    def _count(self, times: int) -> str:
        ways = [f" x{times}", f" ({times}x)", f" {times}x", f" ({times} times)"]
        return self.chance.choice([*ways, *([" twice"] if times == 2 else [])]) if times > 1 else ""

    def _block(self, part: Part) -> list[str]:
        """The lines of a section; none for what only the order names."""
        chance, language = self.chance, self.song.language
        if part.name == "End":
            phrase = chance.choice(language.ends)
            first = phrase.split()[0]
            self.called["End"] = first if first in NAMED_ENDS else "End"
            return [phrase.format(part.rows[0].chords)]
        if part.again and self.by_name:
            if part.times > 1 or chance.random() < 0.5:
                return [self._heading(part, self._count(part.times))]
            name = self._name(part)
            return [chance.choice(language.again).format(name, small=name.lower())]
        if part.like and part.words:
            behind = chance.choice(["", "", *language.same])
            behind = behind if self.head_sign in _PLAIN_HEADS else ""
            return [self._heading(part, behind), *[""] * self.blank_below, *part.words]
        if part.like and self.by_name:
            self.called[part.name] = part.name
            return [chance.choice(language.over).format(part.name)]
        return self._written(part) if part.rows else []

    def _written(self, part: Part) -> list[str]:
        """The lines of a section that is written out, at times with a remark."""
        cue = self.chance.choice(self.song.language.cues) if self.chance.random() < 0.15 else ""
        beside = bool(cue) and self.chance.random() < 0.5
        heading = self._heading(part, f" ({cue})" if beside else "")
        plain = len(part.rows) == 1 and not part.rows[0].under and not cue
        if plain and self.head_sign in ("{}:", "{upper}:") and self.chance.random() < 0.35:
            return [f"{heading} {part.rows[0].typed}"]
        lines = [heading, *([f"({cue})"] if cue and not beside else []), *[""] * self.blank_below]
        for row in part.rows:
            lines += [row.typed, row.under] if row.under else [row.typed]
        return lines

    def _order(self) -> str:
        """A line that gives the order in which the sections are played."""
        steps = []
        for part in self.song.parts[:-1] if self.song.parts[-1].name == "End" else self.song.parts:
            name = self.called.get(part.name, part.name)
            if part.like and not part.words:
                name = self.song.language.over[0].format(part.name.lower())
            for full, short in _INITIALS.items() if self.initials else ():
                name = name.replace(full, short)
            steps.append(name + (f" x{part.times}" if part.times > 1 else ""))
        label = self.chance.choice(self.song.language.labels)
        return label + self.chance.choice([", ", " - ", " / ", " > "]).join(steps)

    def expected(self) -> str:
        """The chart that a musician would make of the sheet."""
        lines = list(self.settings)
        for part in self.song.parts:
            name = self.called.get(part.name, part.name)
            times = f" x{part.times}" if part.times > 1 else ""
            if part.again:
                lines.append(f"[{name}{times}]=")
            elif part.like:
                lines.append(f"[{name}]={self.called[part.like]}")
                lines += [f": {words}" for words in part.words]
            else:
                lines.append(f"[{name}{times}]")
                for row in part.rows:
                    lines += [row.chords, *([f": {row.words}"] if row.words else [])]
        return "\n".join(lines) + "\n"


def made(seed: int) -> TypedSheet:
    """The sheet of a seed."""
    sheet = Sheet(Song(random.Random(seed)))
    text = sheet.typed()
    return TypedSheet(f"made {seed}", text, sheet.expected())


def faults_of(seed: int) -> list[str]:
    """What is wrong with the chart that is read of the sheet of a seed."""
    return differences(made(seed))


def main() -> None:
    """Prints the share of sheets that are read rightly, and the faults of the others."""
    first, count = int(sys.argv[1]), int(sys.argv[2])
    wrong = 0
    for seed in range(first, first + count):
        if faults := faults_of(seed):
            wrong += 1
            sheet = made(seed)
            print(f"--- {sheet.name}{' in silence' if silent(sheet) else ''}")
            print(sheet.text if "-v" in sys.argv else "", *faults[:3], sep="\n    ")
    print(f"{count - wrong} of {count}")


if __name__ == "__main__":
    main()
