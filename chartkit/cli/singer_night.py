"""``chartkit singer SET``: keys for every song of a night at once."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from chartkit.cli.columns import fits, in_columns, say_wrapped
from chartkit.cli.progress import progress_bar
from chartkit.cli.reporting import say, wrong_usage
from chartkit.cli.set_files import chart_texts, open_set, write_set_file
from chartkit.cli.set_tonight import read_tonight
from chartkit.cli.set_workshop import workshop_for
from chartkit.cli.streams import show
from chartkit.diagnostics import Source
from chartkit.theory.naming import short_key

if TYPE_CHECKING:
    from chartkit.book.night import Night
    from chartkit.book.set_list import SetList
    from chartkit.book.sung_night import SungSong


def singer_night(path: Path, as_json: bool, write: bool) -> None:
    """Ranks keys for every song of the set; writes the chosen ones into it if asked."""
    from chartkit.book.night import UnknownSong
    from chartkit.book.sung_night import NoSinger, singer_of, sung_night

    set_list, source = open_set(path)
    with workshop_for(1, 0, no_cache=False) as workshop:
        texts = chart_texts(set_list)
        night = read_tonight(set_list, source, texts, workshop, with_plan=False)
    for message in night.messages:
        say(message)
    try:
        singer = singer_of(set_list)
        with progress_bar(sys.stderr) as progress:
            songs = sung_night(night, singer, progress)
    except NoSinger as reason:
        raise wrong_usage(str(reason), reason.hint) from None
    except UnknownSong as reason:
        raise wrong_usage(f"sat_well: {reason}", reason.hint) from None
    if as_json:
        show(json.dumps([_json(song) for song in songs], indent=2))
    else:
        _print(singer.name, songs)
        _warn_of_riffs(night, songs)
    if write:
        _write(path, source, set_list, songs)
    if night.failed:
        raise click.exceptions.Exit(1)


def _print(singer: str, songs: "tuple[SungSong, ...]") -> None:
    from chartkit.book.change_words import setting_words

    show(f"{singer}: {len(songs)} songs\n")
    rows = [["", "song", "now", "hard", "", "best", "moved", "hard", "capo"]]
    for song in songs:
        row = [str(song.number + 1), song.title, short_key(song.key)]
        row += [_load(song.now.load) if song.now is not None else "", song.verdict]
        best = song.best
        if best is not None and song.move:
            row += [short_key(best.key), _moved(song.half_steps), _load(best.load)]
        else:
            row += ["", "", ""]
        chosen = best or song.now
        if chosen is not None:
            row.append(setting_words(chosen.best.option))
        rows.append(row + [""] * (9 - len(row)))
    right = frozenset({0, 3, 6, 7})
    if not fits(rows, spare=8):
        # How hard the better key is matters less than the song's name and its capo.
        rows, right = [row[:7] + row[8:] for row in rows], frozenset({0, 3, 6})
    for line in in_columns(rows, right, shortened=1):
        show(line)
    show("")
    say_wrapped(
        "hard: how hard the song is to sing; this decides, and lower is better: 0 is all in the "
        "comfortable middle of the voice, 1 the very edge of what can be sung. A song is moved "
        "to the key in which it sat well, or else only if that gains more than 0.05; between "
        "closer keys the guitar decides. too high, too low, too wide, moved: half steps, as this "
        "voice sings the song now. octave up, octave down: now sung an octave from what is "
        "written. If singing hurts or strains, stop; a teacher or doctor can help."
    )
    if any(song.now is None for song in songs):
        say_wrapped(
            "Where a chart has no range, write its lowest and highest sung note at the top, such "
            'as "range: A3-D5", and run this again.'
        )


def _warn_of_riffs(night: "Night", songs: "tuple[SungSong, ...]") -> None:
    """Names the songs whose riff comes off its tuning's open strings, and where it does not."""
    from chartkit.advise.open_strings import riff_off_open_strings
    from chartkit.syntax.reader import read_chart

    for song in songs:
        text = night.texts[song.number].text
        if not song.move or song.best is None or text is None:
            continue
        chart = read_chart(Source(text)).chart
        for warning in riff_off_open_strings(chart, song.best.key):
            say_wrapped(f"{song.title}: {warning.message}; {warning.hints[0]}.")


def _moved(half_steps: int) -> str:
    """How far a song is moved, as a singer hears it: ``5 lower``."""
    return f"{abs(half_steps)} {'higher' if half_steps > 0 else 'lower'}"


def _load(load: float | None) -> str:
    return "too far" if load is None else f"{load:.2f}"


def _json(song: "SungSong") -> dict[str, object]:
    now, best = song.now, song.best
    return {
        "number": song.number + 1,
        "title": song.title,
        "key": str(song.key),
        "load": None if now is None else now.load,
        "verdict": song.verdict,
        "best_key": None if best is None else str(best.key),
        "best_load": None if best is None else best.load,
        "semitones": None if best is None else best.semitones,
        "capo": None if best is None else best.best.option.raised,
        "move": song.move,
    }


def _write(path: Path, source: Source, set_list: "SetList", songs: "tuple[SungSong, ...]") -> None:
    """Puts the keys of songs that should move into the set file."""
    from chartkit.book.sung_night import keys_to_write
    from chartkit.book.write_set import keyed_text

    keys = keys_to_write(songs)
    if not keys:
        say(f"{path}: unchanged, since no song needs to move")
        return
    write_set_file(
        path,
        source.text,
        lambda: keyed_text(source, path.parent, set_list, keys),
        f"new keys for {len(keys)} songs",
    )
