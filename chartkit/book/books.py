"""From a night to files: every player's book, single songs, the set sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import BinaryIO

from chartkit.advise.set_steps import SetStep, SongSetup
from chartkit.advise.stage import GuitarSetup
from chartkit.book.assemble import BookMaker, SongInBook
from chartkit.book.change_words import ToDo, night_setting, set_up_words, song_setup_words, to_do
from chartkit.book.make_song import PagesRequest, SongPages, make_pages
from chartkit.book.night import Night
from chartkit.book.night_plan import NightPlan
from chartkit.book.page_store import PageStore, StoredPages
from chartkit.book.plan_text import straight_before
from chartkit.book.read_song import SongFacts
from chartkit.book.readings import (
    PlayerRequests,
    capo_is_off,
    onward_of,
    player_requests,
)
from chartkit.book.set_list import Player, SetList, SongEntry
from chartkit.book.set_rules import SET_SHEET, file_stem
from chartkit.book.staging import Writer
from chartkit.book.workshop import Failed, Job, Workshop
from chartkit.fretboard.instruments import GUITAR, KNOWN, chosen_instrument
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.pdf.bind import FileDescription, Leaf, bind
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.set_sheet import set_sheet
from chartkit.sheets.set_sheet_look import GuitarCell, SheetRow
from chartkit.theory.capo import Capo, step_words
from chartkit.theory.naming import PLAIN, Naming, in_naming, short_key

UNUSABLE = "its chart cannot be used"
"""The text for a song that has no pages."""
TUNED_BACK = "tune back"
PAGES = Job(make_pages, SongPages, "engraving", lambda request: request.text, few=12)


@dataclass(frozen=True, slots=True)
class BookOptions:
    """The options of a run: single songs beside the books, and whether broken songs are left
    out."""

    per_song: bool = False
    leave_out_broken: bool = False


@dataclass(frozen=True, slots=True)
class PlayerBook:
    """A player's songs in playing order, made but not yet bound."""

    part: PlayerRequests
    songs: tuple[SongInBook, ...]


@dataclass(frozen=True, slots=True)
class MadeNight:
    """Everybody's songs, made, and the messages about them."""

    night: Night
    plan: NightPlan | None
    order: tuple[int, ...]
    books: tuple[PlayerBook, ...]
    messages: tuple[str, ...]
    failed: bool


def when_and_where(set_list: SetList) -> str:
    """Date and place in one line."""
    return " · ".join(filter(None, (set_list.date, set_list.place)))


def made_night(night: Night, plan: NightPlan | None, workshop: Workshop) -> MadeNight:
    """Makes every song for every player; a failure is reported and does not affect the rest."""
    order = plan.order if plan is not None else tuple(range(len(night.facts)))
    everyone = player_requests(night, plan)
    wanted = (
        one
        for place in range(len(order))
        for part in everyone
        if (one := part.requests[place]) is not None
    )
    store = PageStore()
    made = {
        request: one if isinstance(one, Failed) else store.put(one)
        for request, one in workshop.each(PAGES, wanted)
    }
    books = tuple(PlayerBook(part, _songs(night, plan, order, part, made)) for part in everyone)
    messages, failed = _messages(night, order, everyone, made)
    return MadeNight(
        night=night,
        plan=plan,
        order=order,
        books=books,
        messages=tuple(dict.fromkeys(messages)),
        failed=failed,
    )


def output_files(made: MadeNight, options: BookOptions) -> Iterator[tuple[str, Writer]]:
    """Every file by its name, and what writes it: the set sheet, then a book a player, with single
    songs if asked."""
    set_list = made.night.set_list
    maker = BookMaker(set_list.name, when_and_where(set_list), options.leave_out_broken)
    yield f"{SET_SHEET}.pdf", partial(_write_set_sheet, made)
    for book in made.books:
        player = book.part.player
        stem = file_stem(player.name)
        write = partial(
            maker.write_book,
            player=player.name,
            look=player.look,
            songs=book.songs,
            set_up=_set_up(book),
        )
        yield f"{stem}.pdf", write
        if options.per_song:
            for song in _singles(book.songs, options.leave_out_broken):
                name = f"{stem}/{song.number:02d}-{file_stem(song.title)}.pdf"
                yield (
                    name,
                    partial(maker.write_single, player=player.name, look=player.look, song=song),
                )


def _set_up(book: PlayerBook) -> str:
    """The instrument, and what the player does to it before the first song played."""
    player = book.part.player
    song = next((one for one in book.songs if one.pages is not None), None)
    capo = None if song is None or song.pages is None else song.pages.capos[0]
    change = "" if song is None else song.change or set_up_words(player, capo)
    before = ""
    if song is not None and change:
        which = "the first song" if song.number == 1 else f"song {song.number}"
        before = f"Before {which}: {change}"
    instrument = f"{player.instrument[:1].upper()}{player.instrument[1:]}"
    instrument += _own_tuning(player) if instrument else ""
    return ". ".join(filter(None, (instrument, before)))


def _own_tuning(player: Player) -> str:
    """The tuning of the player's one guitar, where the instrument's name does not say it, and how
    far down it comes."""
    one = player.guitars[0] if len(player.guitars) == 1 else None
    own = player.part or (one.instrument if one is not None else None)
    if own is None:
        return ""
    is_named = chosen_instrument(player.instrument) == own
    tuning = "" if is_named else f", {own.name if own in KNOWN else own.tuning}"
    down = 0 if one is None or player.part else one.tuned_down
    return f"{tuning}, tuned down {step_words(down)}" if down else tuning


def _singles(songs: Sequence[SongInBook], leave_out_broken: bool) -> Iterator[SongInBook]:
    for song in songs:
        if not song.away and not (song.pages is None and leave_out_broken):
            yield song


def _messages(
    night: Night,
    order: tuple[int, ...],
    everyone: Sequence[PlayerRequests],
    made: dict[PagesRequest, StoredPages | Failed],
) -> tuple[list[str], bool]:
    """The messages about the songs made, and whether any failed.  Signs without a glyph that the
    chart's own messages name are not named again."""
    messages, failed, missing = list[str](), False, dict[int, set[str]]()
    for part in everyone:
        for place, request in enumerate(part.requests):
            name = night.set_list.songs[order[place]].name
            one = made[request] if request is not None else None
            if isinstance(one, Failed):
                failed = True
                messages.append(f"{name}: chartkit itself failed on this song: {one.reason}")
            elif one is not None:
                said = "".join(night.facts[order[place]].messages)
                missing.setdefault(place, set()).update(set(one.missing).difference(said))
    for place, signs in sorted(missing.items()):
        if signs:
            shown = " ".join(f"{c} (U+{ord(c):04X})" for c in sorted(signs)[:8])
            name = night.set_list.songs[order[place]].name
            messages.append(f"{name}: warning[no-glyph]: the fonts cannot draw {shown}")
    return messages, failed


def _songs(
    night: Night,
    plan: NightPlan | None,
    order: tuple[int, ...],
    part: PlayerRequests,
    made: dict[PagesRequest, StoredPages | Failed],
) -> tuple[SongInBook, ...]:
    dues = to_dos_of(night, plan, part, len(order))
    songs = []
    for place, number in enumerate(order):
        facts, entry, request = night.facts[number], night.set_list.songs[number], None
        request = part.requests[place]
        one = made[request] if request is not None else None
        pages = one if isinstance(one, StoredPages) else None
        messages = facts.messages + ((facts.key_problem,) if facts.key_problem else ())
        messages += (night.texts[number].problem,) if night.texts[number].problem else ()
        messages += (one.reason,) if isinstance(one, Failed) else ()
        away, due = part.away[place], dues[place]
        straight, interval, onward = onward_of(entry, place, len(order))
        note = facts.as_printed(entry.note)
        aside = " · ".join(filter(None, (_in_hand(part, place), note, onward)))
        summary = "you sit this one out" if away else UNUSABLE
        if pages is not None and not away:
            counts = part.player.look.show == "road-map"
            summary = _counted(facts) if counts else pages.summary
        songs.append(
            SongInBook(
                number=place + 1,
                title=facts.printed_title,
                pages=pages,
                away=away,
                messages=messages,
                summary=summary,
                aside=aside,
                change=" ".join(due.sentences) if due is not None else "",
                straight=straight,
                interval=interval,
            )
        )
    return tuple(songs)


def _counted(facts: SongFacts) -> str:
    """A song for somebody who counts it: meter and tempo instead of the key."""
    return " · ".join(filter(None, (facts.meter, f"tempo {facts.tempo}" if facts.tempo else "")))


def _in_hand(part: PlayerRequests, place: int) -> str:
    """That the capo is off, the guitar a song is played on, where its player has several, and a
    tuning for the song."""
    step = part.plan.steps[place] if part.plan is not None else None
    if step is None:
        return ""
    several = len(part.player.guitars) > 1
    name = part.player.guitars[step.offer.guitar].name if several else ""
    tuning = step.offer.song_tuning.name if step.offer.song_tuning is not None else ""
    off = "no capo" if capo_is_off(part.player, step) else ""
    return " · ".join(filter(None, (off, name, tuning)))


def to_dos_of(
    night: Night, plan: NightPlan | None, part: PlayerRequests, count: int
) -> tuple[ToDo | None, ...]:
    """The changes of a part's player before each song, in playing order; None for each song if
    nothing is planned."""
    if plan is None or part.plan is None:
        return (None,) * count
    helper = night.set_list.stage.costs.helper
    return to_do(part.player, part.plan.steps, straight_before(night, plan), helper)


# ---- the set sheet
def _write_set_sheet(made: MadeNight, out: BinaryIO) -> None:
    set_list = made.night.set_list
    names = [_column_name(book.part.player) for book in _guitarists(made)]
    sheet = set_sheet(
        with_typographic_quotes(set_list.name, ""),
        when_and_where(set_list),
        names,
        sheet_rows(made),
        Fonts(),
        paper=set_list.shared_paper,
        below=_part_players(set_list),
    )
    about = FileDescription(f"{set_list.name}: set sheet", "", when_and_where(set_list), "en")
    bind(out, about, map(Leaf, sheet.pages()), sheet.count)


def _part_players(set_list: SetList) -> str:
    """Who plays a part beside whom, without a capo all night."""
    players = []
    for one in set_list.players:
        if one.part is not None:
            on = "" if one.part == GUITAR else f", {one.part.name}"
            players.append(f"{one.name}{on}: a part beside {one.beside}")
    return f"{'; '.join(players)}, no capo all night" if players else ""


def _column_name(player: Player) -> str:
    """A guitarist's name over the column, with the only instrument where that is no guitar."""
    instruments = {guitar.instrument for guitar in player.guitars}
    if len(player.guitars) > 1 or GUITAR in instruments:
        return player.name
    return f"{player.name}, {player.guitars[0].instrument.name}"


def _guitarists(made: MadeNight) -> list[PlayerBook]:
    """The players with something to set up; a ukulele without a capo has nothing."""
    return [book for book in made.books if book.part.player.guitars and _sets_up(book)]


def _sets_up(book: PlayerBook) -> bool:
    return book.part.plan is None or book.part.plan.sets_up


def _band_naming(made: MadeNight) -> Naming:
    """The naming of chords for the whole band; as in charts if its players differ."""
    namings = {book.part.player.look.naming for book in made.books}
    return namings.pop() if len(namings) == 1 else PLAIN


def sheet_rows(made: MadeNight) -> list[SheetRow]:
    """The rows of the set sheet, songs in playing order."""
    night, books = made.night, _guitarists(made)
    dues = [to_dos_of(night, made.plan, book.part, len(made.order)) for book in books]
    naming = _band_naming(made)
    rows = []
    for place, number in enumerate(made.order):
        facts, entry = night.facts[number], night.set_list.songs[number]
        straight, interval, onward = onward_of(entry, place, len(made.order))
        note = UNUSABLE if facts.broken else facts.as_printed(entry.note)
        rows.append(
            SheetRow(
                number=place + 1,
                title=facts.printed_title,
                key="" if facts.key is None else short_key(facts.key, naming),
                first="" if facts.first is None else in_naming(facts.first, naming).plain(),
                tempo=str(facts.tempo or ""),
                cells=tuple(
                    _cell(book, due[place], place) for book, due in zip(books, dues, strict=True)
                ),
                straight=straight,
                interval=interval,
                aside=" · ".join(filter(None, (note, onward))),
                meter="" if facts.meter == "4/4" else facts.meter,
                count_in=facts.as_printed(_beginning(entry, facts)),
            )
        )
    return rows


def _beginning(entry: SongEntry, facts: SongFacts) -> str:
    """How a song begins, and who: its count-in, or else the first cue of its chart, without what
    follows a colon, such as the notes of a riff."""
    return f"count-in: {entry.count_in}" if entry.count_in else facts.opening.partition(":")[0]


def _cell(book: PlayerBook, due: ToDo | None, place: int) -> GuitarCell | None:
    song, plan = book.songs[place], book.part.plan
    if song.away or song.pages is None:
        return None
    step = plan.steps[place] if plan is not None else None
    if step is None:
        capos = song.pages.capos
        before = _capo_before(book, place)
        return GuitarCell(
            song_setup_words(SongSetup(capos)),
            song.pages.first,
            "",
            before is not None and before != capos[0],
        )
    below = ", ".join(filter(None, (_guitar_below(book, place, step), _tuned_back(book, place))))
    changed = due is not None and due.is_work
    setting = night_setting(plan.steps if plan is not None else (), step)
    return GuitarCell(setting, song.pages.first, below, changed)


def _guitar_below(book: PlayerBook, place: int, step: SetStep) -> str:
    """The guitar that a song is played on, where its player has several and takes it up here."""
    player, steps = book.part.player, book.part.plan.steps if book.part.plan is not None else ()
    before = next(filter(None, reversed(steps[:place])), None)
    if len(player.guitars) < 2 or (before and before.offer.guitar == step.offer.guitar):
        return ""
    guitar = player.guitars[step.offer.guitar]
    is_named = guitar.instrument == GUITAR or guitar.instrument.name in guitar.name
    return guitar.name if is_named else f"{guitar.name}, {guitar.instrument.name}"


def _tuned_back(book: PlayerBook, place: int) -> str:
    """The reminder to tune strings back to the guitar's own tuning, which no setting shows."""
    step = book.part.plan.steps[place] if book.part.plan is not None else None
    if step is None or step.offer.before.song_tuning or step.offer.before.tuned_down:
        return ""
    guitar = step.offer.guitar
    before = GuitarSetup(book.part.player.guitars[guitar].tuned_down)
    for earlier in book.part.plan.steps[:place] if book.part.plan is not None else ():
        if earlier is not None and earlier.offer.guitar == guitar:
            before = earlier.offer.after
    return TUNED_BACK if before.song_tuning or before.tuned_down else ""


def _capo_before(book: PlayerBook, place: int) -> Capo | None:
    """Where the capo sat in the last song this player played."""
    for song in reversed(book.songs[:place]):
        if song.pages is not None:
            return song.pages.capos[-1]
    return None
