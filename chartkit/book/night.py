"""A set with its charts: every song read, named, and moved to tonight's key."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from chartkit.book.guitar_requests import all_guitars_asked, pairs_asked
from chartkit.book.night_plan import NightPlan, night_plan, rehearsed_songs
from chartkit.book.player_plan import RehearsedSongs
from chartkit.book.read_song import SongFacts, SongRequest, song_facts
from chartkit.book.set_list import SetList, SongEntry
from chartkit.book.workshop import Failed, Job, Progress, Workshop, no_progress
from chartkit.diagnostics import Diagnostic, Source, diagnostic_text
from chartkit.phrases import listed, nearest

FACTS = Job(song_facts, SongFacts, "reading charts", few=3)
NOTHING_KNOWN: Mapping[int, SongFacts] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class ChartText:
    """A chart's text; None if it cannot be read, with the reason and a hint."""

    text: str | None
    problem: str = ""
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Night:
    """A set that has been read: its songs' texts, facts about them, and messages.

    ``sat_out`` numbers, player by player, the songs they sit out.  ``of_songs`` has the messages
    about each song, ``of_names`` those about names; ``failed`` says that there were errors.
    ``wrong`` are the mistakes in the set file itself, for which nothing is made. ``rehearsed`` is
    the part of the plan that stays if only some songs are moved tonight. ``in_file_order`` is how
    each song would be played in the order of the set file, if tonight's is another.
    """

    set_list: SetList
    texts: tuple[ChartText, ...]
    facts: tuple[SongFacts, ...]
    sat_out: tuple[frozenset[int], ...]
    of_songs: tuple[tuple[str, ...], ...]
    of_names: tuple[str, ...]
    failed: bool
    wrong: tuple[Diagnostic, ...] = ()
    rehearsed: RehearsedSongs = ()
    in_file_order: RehearsedSongs = ()

    @property
    def messages(self) -> tuple[str, ...]:
        """Every message, song by song, each once."""
        return (*dict.fromkeys(one for song in self.of_songs for one in song), *self.of_names)


class UnknownSong(Exception):
    """A song that was named is not in the set, or there are several; in plain words.

    ``hint`` is what would mend it.
    """

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def song_number(name: str, facts: Sequence[SongFacts], set_list: SetList) -> int:
    """The number, from 0, of the song that a title, chart file name or number means.

    Titles and file names are compared without case, and straight quotes are those that pages print;
    a part of one is enough if only one song has it.  If two songs share a title, only the number
    decides.  Raises UnknownSong.
    """
    plain = _plain(name)
    if plain.isdecimal() and 1 <= int(plain[:9]) <= len(facts):
        return int(plain) - 1
    names = [_names(one, song.name) for one, song in zip(facts, set_list.songs, strict=True)]
    whole = [number for number, own in enumerate(names) if plain in own]
    part = [number for number, own in enumerate(names) if any(plain in one for one in own)]
    matches = whole or (part if plain else [])
    if len(matches) == 1:
        return matches[0]
    if whole:
        songs = listed(number + 1 for number in whole)
        raise UnknownSong(f'"{name}" is the name of songs {songs}', "give the number instead")
    if matches:
        titles = ", ".join(f"{number + 1} {facts[number].title}" for number in matches[:6])
        more = ", …" if len(matches) > 6 else ""
        raise UnknownSong(f'"{name}" may be one of several songs', f"which one? {titles}{more}")
    if plain.isdecimal():
        raise UnknownSong(
            f"there is no song {plain[:9]} in the set", f"its songs are 1 to {len(facts)}"
        )
    near = nearest(plain, (own for every in names for own in every), 0.7)
    number = next((i for i, own in enumerate(names) if near and near in own), None)
    hint = f"give a title, or a number from 1 to {len(facts)}"
    if number is not None:
        hint = f'did you mean "{facts[number].title}"?'
    raise UnknownSong(f'no song of the set is called "{name}"', hint)


def _names(one: SongFacts, chart: str) -> tuple[str, ...]:
    """What a song may be called: its title, or what its chart may be."""
    return _plain(one.title), *chart_names(chart)


def _plain(name: str) -> str:
    """A name as it is compared."""
    return " ".join(name.split()).casefold().translate(_TYPED_QUOTES)


_TYPED_QUOTES = str.maketrans("‘’“”", "''\"\"")


def chart_names(chart: str) -> tuple[str, str, str]:
    """The names of a chart in small letters: its path, its file name, and that without suffix."""
    path = chart.casefold()
    file_name = path.rpartition("/")[2]
    return path, file_name, file_name.removesuffix(".chart")


def read_night(
    set_list: SetList,
    source: Source,
    texts: Sequence[ChartText],
    workshop: Workshop,
    *,
    with_plan: bool,
    known: Mapping[int, SongFacts] = NOTHING_KNOWN,
) -> Night:
    """The set with its songs read; every mistake of every chart is among the messages.

    ``source`` is the set file, for mistakes that stand there.  ``with_plan`` asks the
    adviser too.  Songs that are ``known``, by number from 0, are not read again.
    """
    requests = _requests(set_list, texts, with_plan, known)
    results = workshop.done(FACTS, list(requests.values()))
    made = dict(zip(requests, results, strict=True))
    facts, messages = list[SongFacts](), list[tuple[str, ...]]()
    for number, (text, entry) in enumerate(zip(texts, set_list.songs, strict=True)):
        one = known.get(number) or (
            _sound(made[number], entry.name) if number in made else _unread(entry.name)
        )
        facts.append(one)
        unusable = (diagnostic_text(lines, source) for lines in _unusable(text, one, entry))
        messages.append((*one.messages, *unusable))
    away, wrong = _sat_out(set_list, facts)
    # An unknown name may be the title of a chart that cannot be read: only that song is lost.
    certain = all(text.text is not None for text in texts)
    unknown = wrong if certain else [_uncertain(one) for one in wrong]
    return Night(
        set_list=set_list,
        texts=tuple(texts),
        facts=tuple(facts),
        sat_out=away,
        of_songs=tuple(messages),
        of_names=tuple(diagnostic_text(one, source) for one in unknown),
        failed=bool(wrong) or any(one.broken for one in facts),
        wrong=tuple(wrong) if certain else (),
    )


def _requests(
    set_list: SetList,
    texts: Sequence[ChartText],
    with_plan: bool,
    known: Mapping[int, SongFacts],
) -> dict[int, SongRequest]:
    """The questions about each song, by number from 0, that is not known and whose chart can be
    read."""
    guitars = all_guitars_asked(set_list) if with_plan else ()
    pairs = pairs_asked(set_list) if with_plan else ()
    return {
        number: SongRequest(
            text=text.text,
            name=entry.name,
            key=entry.key,
            shift=entry.shift,
            guitars=guitars,
            pairs=pairs,
        )
        for number, (text, entry) in enumerate(zip(texts, set_list.songs, strict=True))
        if text.text is not None and number not in known
    }


def _uncertain(unknown: Diagnostic) -> Diagnostic:
    """The message for an unknown name while some charts cannot be read."""
    return replace(
        unknown,
        severity="warning",
        message="no chart that can be read has this name",
        hints=("it may be the song whose chart cannot be read; correct that first",),
    )


def unread_charts(texts: Sequence[ChartText], set_list: SetList) -> tuple[Diagnostic, ...]:
    """Why charts cannot be read, each at the place in the set file that names it."""
    return tuple(
        _unread_chart(text, entry)
        for text, entry in zip(texts, set_list.songs, strict=True)
        if text.problem
    )


def _unread_chart(text: ChartText, entry: SongEntry) -> Diagnostic:
    hints = (text.hint,) if text.hint else ()
    return Diagnostic("song-unusable", "error", entry.span, text.problem, hints)


def _unusable(text: ChartText, facts: SongFacts, entry: SongEntry) -> Iterator[Diagnostic]:
    """Why a song cannot be used, where that is said in the set file."""
    if text.problem:
        yield _unread_chart(text, entry)
    if facts.key_problem:
        yield Diagnostic("song-unusable", "error", entry.key_span, facts.key_problem)


def _unread(name: str) -> SongFacts:
    return SongFacts(name, broken=True)


def _sound(facts: SongFacts | Failed, name: str) -> SongFacts:
    if isinstance(facts, Failed):
        message = f"{name}: chartkit itself failed on this song: {facts.reason}"
        return SongFacts(name, broken=True, messages=(message,))
    return facts


def _sat_out(
    set_list: SetList, facts: Sequence[SongFacts]
) -> tuple[tuple[frozenset[int], ...], list[Diagnostic]]:
    away, wrong = list[frozenset[int]](), list[Diagnostic]()
    for player in set_list.players:
        numbers = set()
        for name, span in zip(player.sits_out, player.sits_out_spans, strict=True):
            try:
                numbers.add(song_number(name, facts, set_list))
            except UnknownSong as reason:
                mistake = Diagnostic("unknown-song", "error", span, str(reason), (reason.hint,))
                wrong.append(mistake)
        away.append(frozenset(numbers))
    return tuple(away), wrong


def planned_night(
    night: Night, free_order: bool = False, progress: Progress = no_progress
) -> NightPlan:
    """The night's plan; the night must have been read with it in mind."""
    return night_plan(
        night.set_list, night.facts, night.sat_out, free_order, night.rehearsed, progress
    )


def order_of(night: Night, names: Sequence[str]) -> tuple[tuple[int, ...], tuple[UnknownSong, ...]]:
    """The numbers, from 0, of the songs given by titles, file names or numbers of the set file; and
    what is wrong with each that is not in the set, or is given twice."""
    numbers, wrong = dict[int, int](), list[UnknownSong]()
    for name in names:
        try:
            number = song_number(name, night.facts, night.set_list)
        except UnknownSong as reason:
            wrong.append(reason)
            continue
        numbers[number] = numbers.get(number, 0) + 1
        if numbers[number] == 2:
            title = night.facts[number].title
            wrong.append(UnknownSong(f"{title} is in the order twice", "name each song once"))
    return tuple(numbers), tuple(wrong)


def planned_in_order(
    night: Night, numbers: Sequence[int], before: Night, moved: Collection[int]
) -> Night:
    """The night in a running order of tonight's, to be planned.

    All songs are planned anew for the order.  Those that are ``moved`` tonight, by number from 0,
    change nothing but the songs that run straight into or out of them: the other ones stay as the
    order has them ``before`` that.
    """
    ordered = in_running_order(night, numbers)
    in_file_order = rehearsed_songs(planned_night(night), ())
    rehearsed: RehearsedSongs = ()
    if moved:
        places = {place for place, number in enumerate(numbers) if number in moved}
        places = _run_together(ordered.set_list.songs, places)
        rehearsed = rehearsed_songs(planned_night(in_running_order(before, numbers)), places)
    return replace(
        ordered,
        rehearsed=rehearsed,
        in_file_order=tuple(in_file_order[number] for number in numbers),
    )


def in_running_order(night: Night, numbers: Sequence[int]) -> Night:
    """The night with only the songs of these numbers, in that order; nothing is said of others.

    A song runs straight into the next only where the file's next song follows.
    """
    songs = [
        entry if following == number + 1 else replace(entry, straight_into_next=False)
        for number, following in zip(numbers, [*numbers[1:], -1], strict=True)
        for entry in [night.set_list.songs[number]]
    ]
    facts = tuple(night.facts[number] for number in numbers)
    wrong_names = night.failed and not any(one.broken for one in night.facts)
    return replace(
        night,
        set_list=replace(night.set_list, songs=tuple(songs)),
        of_songs=tuple(night.of_songs[number] for number in numbers),
        failed=wrong_names or any(one.broken for one in facts),
        texts=tuple(night.texts[number] for number in numbers),
        facts=facts,
        sat_out=tuple(
            frozenset(place for place, number in enumerate(numbers) if number in away)
            for away in night.sat_out
        ),
        rehearsed=tuple(night.rehearsed[number] for number in numbers) if night.rehearsed else (),
    )


_MOST_NAMED = 10
"""How many songs that are left out are named; the others are counted (ours)."""


def left_out_lines(night: Night, numbers: Collection[int]) -> Iterator[str]:
    """Which songs of the night are not among these numbers, by title, and the notes of the set file
    that go with them; nothing where all are played."""
    out = [number for number in range(len(night.facts)) if number not in numbers]
    if not out:
        return
    named, more = out[:_MOST_NAMED], len(out) - _MOST_NAMED
    titles = [night.facts[number].title for number in named] + [f"{more} more"] * (more > 0)
    verb = "is" if len(out) == 1 else "are"
    yield f"{len(out)} of {len(night.facts)} songs {verb} left out tonight: {listed(titles)}"
    for number in named:
        if note := night.set_list.songs[number].note:
            yield f'{night.facts[number].title} is left out with its note: "{note}"'


def moved_night(
    night: Night,
    source: Source,
    keys: Mapping[int, str],
    shifts: Mapping[int, int],
    workshop: Workshop,
    *,
    with_plan: bool,
) -> Night:
    """The night with songs, by number from 0, moved for tonight; only these are read anew.

    The other songs stay as they are planned without that, so that a key changed before the show
    changes one song alone, and those that run straight into or out of it.
    """
    set_list = moved_tonight(night.set_list, keys, shifts)
    moved = {*keys, *shifts}
    stays = {number: one for number, one in enumerate(night.facts) if number not in moved}
    again = read_night(set_list, source, night.texts, workshop, with_plan=with_plan, known=stays)
    if not with_plan or night.wrong:
        return again
    planned_anew = _run_together(set_list.songs, moved)
    return replace(again, rehearsed=rehearsed_songs(planned_night(night), planned_anew))


def _run_together(songs: Sequence[SongEntry], moved: Collection[int]) -> set[int]:
    """The songs that are moved, and those that run straight into or out of them: between two such
    songs nobody has time to move a capo, so one place has to suit both."""
    together = set(moved)
    for number in sorted(moved):
        before, after = number, number
        while before > 0 and songs[before - 1].straight_into_next:
            before -= 1
        while after + 1 < len(songs) and songs[after].straight_into_next:
            after += 1
        together |= {*range(before, after + 1)}
    return together


def moved_tonight(set_list: SetList, keys: Mapping[int, str], shifts: Mapping[int, int]) -> SetList:
    """The set with songs, by number from 0, moved for tonight.

    A key takes the place of the one in the file and of its shift; a shift is added.
    """
    songs = list(set_list.songs)
    for number, key in keys.items():
        songs[number] = replace(songs[number], key=key, shift=0)
    for number, shift in shifts.items():
        songs[number] = replace(songs[number], shift=songs[number].shift + shift)
    return replace(set_list, songs=tuple(songs))
