"""From a set file's text to the desk's view of the night: songs, players, everybody's plan.

Everything is worked out by ``chartkit.book``; the set file is the one source.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import get_args

from chartkit.arrange.page_look import PaperName, Sizes
from chartkit.book.books import BookOptions, made_night, output_files
from chartkit.book.cache import book_cache_folder, work_cache
from chartkit.book.change_words import night_setting, to_do
from chartkit.book.night import (
    ChartText,
    Night,
    UnknownSong,
    planned_night,
    read_night,
    song_number,
)
from chartkit.book.night_plan import NightPlan
from chartkit.book.plan_text import changes_words, reason_words, straight_before
from chartkit.book.player_plan import PlayerPlan
from chartkit.book.screen.books import screen_books
from chartkit.book.set_file import SetReading, read_set
from chartkit.book.set_list import Player, Reads, SetList
from chartkit.book.set_rules import file_stem
from chartkit.book.staging import Staging, Writer
from chartkit.book.sung_night import NO_RANGE, NoSinger, keys_to_write, sung_night
from chartkit.book.workshop import Workshop, no_progress
from chartkit.book.write_set import NotWritable, keyed_text
from chartkit.desk.folder import Folder
from chartkit.desk.pages import Facts, mistake_facts
from chartkit.desk.requests import BooksRequest, SetEditRequest, SetRequest
from chartkit.desk.set_edits import PART_BESIDE, edited_set
from chartkit.diagnostics import Diagnostic, Source, visible
from chartkit.files import Unusable, decoded_chart, read_source
from chartkit.fretboard.instruments import KNOWN
from chartkit.phrases import counted, listed
from chartkit.sheets.set_sheet_look import short_setting
from chartkit.theory.key import Key
from chartkit.theory.naming import key_words
from chartkit.theory.note import note_name, pitch_class_of
from chartkit.theory.transposition import key_moved_by

Progress = Callable[[str, int, int], None]
READS = get_args(Reads)
INSTRUMENTS = (
    *dict.fromkeys(instrument.name for instrument in KNOWN),
    *("voice", "piano", "bass", "drums", "violin"),
    *("B flat trumpet", "B flat clarinet", "B flat tenor saxophone"),
    *("E flat alto saxophone", "F horn"),
)
"""What a player is offered to play; a set file may name any other."""

PAPERS = get_args(PaperName)
LARGE = "large"
SIZES = ("", "0.9", "1.1", "1.2", "1.3", "1.5", LARGE)
"""Sizes of print that a player is offered, none for the paper's own; a set file may give any."""


@dataclass(frozen=True, slots=True)
class OpenNight:
    """A set as read: the night and its plan, None where the set has mistakes."""

    night: Night | None
    plan: NightPlan | None
    diagnostics: tuple[Diagnostic, ...]


def night_facts(folder: Folder, request: SetRequest) -> Facts:
    """The night as the desk shows it, or the set file's mistakes.  Raises Unusable."""
    opened = open_night(folder, request, no_progress)
    source = Source(request.text, request.name)
    facts: Facts = {
        "mistakes": [mistake_facts(diagnostic, source) for diagnostic in opened.diagnostics]
    }
    if opened.night is None:
        return facts | {"night": None}
    return facts | {"night": _night(opened.night, opened.plan)}


def open_night(folder: Folder, request: SetRequest, progress: Progress) -> OpenNight:
    """The set and its charts read, the plan worked out where the set asks for one."""
    source, reading = _reading(folder, request)
    if reading.set_list is None:
        return OpenNight(None, None, reading.diagnostics)
    set_list, workshop = reading.set_list, _workshop(progress)
    night = read_night(set_list, source, _texts(set_list), workshop, with_plan=set_list.is_planned)
    return OpenNight(night, planned_night(night) if set_list.is_planned else None, night.wrong)


def _reading(folder: Folder, request: SetRequest) -> tuple[Source, SetReading]:
    """The set file and the set that it says, charts unread.  Raises Unusable."""
    text = decoded_chart(request.text.encode("utf-8", "replace"), request.name)
    source = Source(text, request.name)
    return source, read_set(source, folder.path(request.name).parent)


def sung_set(folder: Folder, request: SetEditRequest) -> Facts:
    """The set file's text with every song in the key that suits a player's voice, as ``chartkit
    singer --write`` chooses it, and what was done in words.  Raises Unusable."""
    opened = open_night(folder, request, no_progress)
    if opened.night is None or request.at >= len(opened.night.set_list.players):
        raise Unusable("the set file has mistakes", "correct them first")
    set_list, singer = opened.night.set_list, opened.night.set_list.players[request.at]
    try:
        songs = sung_night(opened.night, singer)
        keys = keys_to_write(songs)
        place = folder.path(request.name).parent
        text = keyed_text(Source(request.text, request.name), place, set_list, keys)
    except (NoSinger, UnknownSong) as reason:
        raise Unusable(str(reason), reason.hint) from None
    except NotWritable as reason:
        raise Unusable(str(reason)) from None
    unknown = [song.title for song in songs if song.verdict == NO_RANGE]
    said = f"{counted(len(keys), 'song')} in another key for {singer.name}"
    if unknown:
        said += f"; nobody knows how {listed(unknown)} is sung: open it, then key, sung from"
    return {"text": text if keys else request.text, "said": said}


def without_song(folder: Folder, request: SetEditRequest) -> Facts:
    """The set file's text without a song, which no player sits out any more, whatever it is called
    there: its title, its chart or its number.  Raises Unusable."""
    source, reading = _reading(folder, request)
    if reading.set_list is None:
        return edited_set(request)
    set_list = reading.set_list
    night = read_night(set_list, source, _texts(set_list), _workshop(no_progress), with_plan=False)

    def song_of(name: str) -> int | None:
        try:
            return song_number(name, night.facts, set_list)
        except UnknownSong:
            return None

    return edited_set(request, song_of)


def make_books(folder: Folder, request: BooksRequest, progress: Progress) -> Facts:
    """Every player's book and the set sheet, and books for screens if requested, written as
    ``chartkit book`` writes them.

    They go into a folder named after the set file, beside it.  Raises Unusable.
    """
    opened = open_night(folder, request, progress)
    if opened.night is None or opened.night.wrong:
        raise Unusable("the set file has mistakes", "correct them first")
    workshop = _workshop(progress)
    made = made_night(opened.night, opened.plan, workshop)
    results = list(output_files(made, BookOptions()))
    if request.screen:
        results += screen_books(opened.night, opened.plan, workshop)
    target = folder.path(request.name).parent / file_stem(PurePosixPath(request.name).stem)
    if not target.resolve().is_relative_to(folder.root):
        raise Unusable(f"{target.name}: this leads out of the folder")
    written, unchanged = _write(target, results)
    return {
        "folder": target.relative_to(folder.root).as_posix(),
        "files": sorted(
            path.relative_to(target).as_posix()
            for path in (*written, *unchanged)
            if path.parent == target
        ),
        "unchanged": len(unchanged),
        "messages": _lines((*opened.night.messages, *made.messages)),
    }


def _write(target: Path, results: list[tuple[str, Writer]]) -> tuple[list[Path], list[Path]]:
    try:
        with Staging(target) as staging:
            for name, write in results:
                staging.add(name, write)
            staging.commit()
    except OSError as reason:
        words = (reason.strerror or "unknown reason").lower()
        raise Unusable(f"{target.name}: cannot be written: {words}") from None
    return staging.changed, staging.unchanged


def _workshop(progress: Progress) -> Workshop:
    return Workshop(work_cache(book_cache_folder()), None, progress)


def _texts(set_list: SetList) -> list[ChartText]:
    """The text of each song's chart, or why it cannot be read."""
    texts = []
    for song in set_list.songs:
        try:
            if song.chart.exists() and not song.chart.is_file():
                raise Unusable(f"{song.name}: this is not a file")
            texts.append(ChartText(read_source(str(song.chart)).text))
        except Unusable as reason:
            reason_words = str(reason).replace(str(song.chart), song.name)
            texts.append(ChartText(None, reason_words, reason.hint))
    return texts


# ---- what is shown
def _night(night: Night, plan: NightPlan | None) -> Facts:
    set_list = night.set_list
    plans = (
        {player_plan.player.name: player_plan for player_plan in plan.players}
        if plan is not None
        else {}
    )
    return {
        "name": set_list.name,
        "when": set_list.date,
        "place": set_list.place,
        "songs": [_song(night, number) for number in range(len(night.facts))],
        "players": [
            _player(night, plan, player, plans.get(player.name)) for player in set_list.players
        ],
        "reads": READS,
        "instruments": INSTRUMENTS,
        "papers": PAPERS,
        "sizes": SIZES,
        "messages": _lines(night.messages),
    }


def _lines(messages: Iterable[str]) -> list[str]:
    """Each line of the messages: a mistake shows its place under its row."""
    return [visible(line) for message in messages for line in message.split("\n")]


def _song(night: Night, number: int) -> Facts:
    facts, entry = night.facts[number], night.set_list.songs[number]
    return {
        "chart": entry.name,
        "title": facts.title,
        "key": "" if facts.key is None else key_words(facts.key),
        "moved": entry.key is not None or entry.shift != 0,
        "given": entry.key or "",
        "keys": [[note_name(key.tonic), key_words(key)] for key in _every_key(facts.key)],
        "tempo": facts.tempo,
        "seconds": facts.seconds,
        "broken": facts.broken or night.texts[number].text is None,
        "note": entry.note,
        "count_in": entry.count_in,
        "straight": entry.straight_into_next,
        "interval": entry.interval_after,
    }


def _every_key(key: Key | None) -> list[Key]:
    """The twelve keys that a song may be played in, from C upwards; those of C major for a song
    without a key."""
    keys = (key_moved_by(key or Key(0), semitones) for semitones in range(12))
    return sorted(keys, key=lambda key: pitch_class_of(key.tonic))


def _size_words(size: Sizes | None) -> str:
    """A scale of the type as a set file gives it."""
    if size is None:
        return ""
    return "-".join(f"{scale:g}" for scale in dict.fromkeys(size))


def _beside(player: Player) -> str:
    """What a guitarist plays beside another, as ``set_edits`` takes it."""
    part = PART_BESIDE if player.part is not None else ""
    return f"{part}{player.beside}"


def _besides(night: Night, player: Player) -> list[str]:
    """What a guitarist may choose to play beside others who read shapes; nothing for one who has
    nobody to play beside."""
    strings = [
        guitarist
        for guitarist in night.set_list.players
        if guitarist.look.show in ("both", "shapes")
    ]
    others = [
        guitarist.name
        for guitarist in strings
        if guitarist.part is None and guitarist.name != player.name
    ]
    if player not in strings or not others:
        return []
    ways = [*others, *(f"{PART_BESIDE}{name}" for name in others)]
    return list(dict.fromkeys(("", *ways, _beside(player))))


def _player(night: Night, plan: NightPlan | None, player: Player, own: PlayerPlan | None) -> Facts:
    facts: Facts = {
        "name": player.name,
        "reads": "transposed" if player.look.reads else player.look.show,
        "instrument": player.instrument,
        "paper": player.look.paper,
        "range": "" if player.sung_range is None else player.sung_range.printed(),
        "sings": player.instrument == "voice" or player.look.show == "words",
        "beside": _beside(player),
        "besides": _besides(night, player),
        "size": LARGE if player.look.large else _size_words(player.look.size),
        "steps": None,
    }
    if own is None or plan is None:
        return facts
    dues = to_do(player, own.steps, straight_before(night, plan), night.set_list.stage.costs.helper)
    steps: list[Facts | None] = []
    for step, due in zip(own.steps, dues, strict=True):
        if step is None or due is None:
            steps.append(None)
            continue
        guitar = player.guitars[step.offer.guitar].name if len(player.guitars) > 1 else ""
        setting = night_setting(own.steps, step)
        steps.append(
            {
                "short": short_setting(setting),
                "setting": setting,
                "guitar": guitar,
                "changes": " ".join(due.sentences),
                "changed": due.is_work,
            }
        )
    return facts | {
        "steps": steps,
        "changes": changes_words(own.changes),
        "saving": reason_words(own),
    }
