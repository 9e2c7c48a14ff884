"""The form of a song as a page prints it: every section in full, or folded.

Folding prints the same bars once.  Verses over the same bars stand stacked under them, a chorus
with the same words stands once, and the form line under the title says in which order all of it
is played.  Only sections that share their music, or are of one kind (two verses, two choruses),
are folded together, and never one with navigation of its own.
"""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from chartkit.arrange.arrangement import ArrangedSection
from chartkit.chart.numbered_names import name_without_number
from chartkit.layout.bars_played import bars_played, bars_written
from chartkit.layout.boxes import SpacedRow
from chartkit.layout.folds import (
    Fold,
    FormEntry,
    SectionRelation,
    Words,
    is_stacked,
    is_sung,
    jump_of,
    kept_words,
    music_of,
)


@dataclass(frozen=True, slots=True)
class SongForm:
    """The sections to print, and the order in which they come.

    ``first_bars`` are the numbers of the first bars of the printed sections.  Numbers count the
    written bars of the song printed in full, so that one bar has one number on every page.
    """

    sections: tuple[ArrangedSection, ...]
    entries: tuple[FormEntry, ...]
    first_bars: tuple[int, ...]
    repeats_words: bool = False

    @property
    def jumps(self) -> int:
        """How often the song goes on elsewhere than in the next bars on the page."""
        printed = [entry.printed for entry in self.entries]
        return sum(after != before + 1 for before, after in pairwise(printed))

    @property
    def is_folded(self) -> bool:
        """Whether any printed section comes more than once."""
        return len(self.entries) > len(self.sections)


def full_form(sections: Sequence[ArrangedSection]) -> SongForm:
    """Every section printed where it comes."""
    entries = tuple(
        FormEntry(
            name=section.name, bars=bars, times=section.times, printed=i, jump=jump_of(section)
        )
        for i, (section, bars) in enumerate(zip(sections, bars_played(sections), strict=True))
    )
    return SongForm(tuple(sections), entries, _first_bars(sections))


def folded_form(full: SongForm, apart: Collection[int] = ()) -> SongForm:
    """The full form with the same bars printed once, under them the words of all sections that
    are sung over them.  The sections with the numbers ``apart`` are printed where they come."""
    sections, folds, members = full.sections, _Folds(), list[Fold]()
    for number, section in enumerate(sections):
        fold = folds.alone(section) if number in apart else folds.taking(section)
        if members and members[-1] is fold:
            fold.in_a_row.add(id(section))
        members.append(fold)
    entries = tuple(
        fold.entry(section, fold.place, entry.bars)
        for section, fold, entry in zip(sections, members, full.entries, strict=True)
    )
    repeats = any(fold.repeats_words for fold in folds.every)
    begins = {id(fold.sections[0]) for fold in folds.every}
    firsts = zip(sections, full.first_bars, strict=True)
    first_bars = tuple(bar for section, bar in firsts if id(section) in begins)
    return SongForm(tuple(fold.printed() for fold in folds.every), entries, first_bars, repeats)


class _Folds:
    """Gathers the sections of a song into folds.

    A section is compared only with folds of its music that are related to it and sing its words or
    take new ones, so that each of thousands of verses takes no longer than one of a few.
    """

    def __init__(self) -> None:
        self.every: list[Fold] = []
        self._words: dict[int, Words] = {}
        self._musics: dict[tuple[object, ...], int] = {}
        self._texts: dict[Words, int] = {}
        self._related: defaultdict[SectionRelation, list[Fold]] = defaultdict(list)
        self._open: defaultdict[SectionRelation, list[Fold]] = defaultdict(list)
        self._singing: defaultdict[tuple[SectionRelation, int], list[Fold]] = defaultdict(list)

    def alone(self, section: ArrangedSection) -> Fold:
        """A new fold for a section, which no other section joins."""
        self.every.append(Fold(len(self.every), self._words))
        self.every[-1].add(section)
        return self.every[-1]

    def taking(self, section: ArrangedSection) -> Fold:
        """The first fold that takes a section, or a new one, with the section in it."""
        music = music_of(section)
        if not music:
            return self.alone(section)
        number = self._musics.setdefault(music, len(self._musics))
        kind = SectionRelation(
            music=number, plays_again=False, name=name_without_number(section.name)
        )
        text = -1
        if is_sung(section):
            text = self._texts.setdefault(kept_words(section, self._words), len(self._texts))
        fold = self._first(
            section, text, [kind, kind._replace(plays_again=True, name=section.same_as.casefold())]
        )
        if fold is None:
            fold = self.alone(section)
            self._relate(fold, kind)
        else:
            fold.add(section)
        self._relate(fold, kind._replace(plays_again=True, name=section.name.casefold()))
        if text >= 0 and text not in fold.sung:
            fold.sung.append(text)
            for relation in fold.relations:
                self._singing[relation, text].append(fold)
        return fold

    def _first(
        self, section: ArrangedSection, text: int, relations: list[SectionRelation]
    ) -> Fold | None:
        """The first fold that can be printed with a section, whose words have the number ``text``,
        -1 where it has none; None where there is none."""
        folds = list[Fold]()
        for relation in relations if section.name else ():
            if text < 0:
                folds += self._related[relation]
                continue
            self._open[relation] = [fold for fold in self._open[relation] if fold.takes_new_words]
            folds += self._singing[relation, text]
            folds += self._open[relation] if not is_stacked(section) else ()
        able = (fold for fold in folds if fold.has_no_new_marks(section))
        return min(able, key=lambda fold: fold.place, default=None)

    def _relate(self, fold: Fold, relation: SectionRelation) -> None:
        """Makes a fold known by what relates sections to it."""
        if relation not in fold.relations:
            fold.relations.add(relation)
            self._related[relation].append(fold)
            self._open[relation].append(fold)
            for text in fold.sung:
                self._singing[relation, text].append(fold)


def _first_bars(sections: Sequence[ArrangedSection]) -> tuple[int, ...]:
    """The number of the first bar of each section, with every section printed in full."""
    return tuple(accumulate(map(bars_written, sections), initial=1))[: len(sections)]


# ---- where the music ends
_TO_FINE = "al Fine"


def song_end(
    form: SongForm, sections: Sequence[Sequence[SpacedRow]]
) -> tuple[SpacedRow | None, int]:
    """The row with which the music ends on the page, and the number of the bar in it at which the
    final bar line stands.  None and -1 where the last section has no bars of its own on the page.

    The number is -1 where something is printed after the end of the music: a final bar line in
    the middle of a page would say that nothing follows.  Such a row ends with a thin double line,
    and so does a page that is not read to its foot (common practice, no source).
    """
    played = [
        entry
        for entry in form.entries
        if any(system.bars for system in form.sections[entry.printed].systems)
    ]
    if not played:
        return None, -1
    if played[-1].jump.endswith(_TO_FINE):
        rows = [row for section in sections for row in section]
        return next(filter(None, map(_fine, rows)), (None, -1))
    printed = played[-1].printed
    rows = list(sections[printed])
    own = [row for row in rows if row.row.bars]
    if not own:
        return None, -1
    follows = own[-1] is not rows[-1] or any(one.systems for one in form.sections[printed + 1 :])
    return own[-1], -1 if follows else len(own[-1].row.bars) - 1


def _fine(row: SpacedRow) -> tuple[SpacedRow, int] | None:
    for number, box in enumerate(row.row.bars):
        if not box.broken and any(mark.kind == "fine" for mark in box.bar.marks):
            return row, number
    return None
