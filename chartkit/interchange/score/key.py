"""Decides the key of a score: major or minor, and whether its signature agrees with the music.

Many programs write every signature as major, and some scores have no signature at all.  The last
chord says more: a song ends on its tonic (common practice, no source).  Its decision is reported as
a guess.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from chartkit.chart.model import Chart, MusicRow, SettingRow
from chartkit.chart.walk import iter_music
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.cadences import (
    begins_on_minor,
    is_in_major,
    is_minor,
    keeps_major,
    modal_key,
    turns_on_fifth,
)
from chartkit.theory.chord import Chord
from chartkit.theory.key import MODES, Key
from chartkit.theory.key_estimate import (
    correlation,
    has_enough_pitch_classes,
    key_by_profile,
    share_outside,
)
from chartkit.theory.note import pitch_class_of

_NOTICEABLE_SHARE = 0.02
NOTICEABLE_FIT = 0.05
"""How much better another key must fit to be reported (ours, no source)."""
_SURE_SHARE = 0.04
"""How much less of the music lies outside the scale of a key that need only fit better, where its
tonic ends the song and the signature has no signs, as programs set it by themselves (ours)."""
_CLOSE_FIT = 0.1
"""How much worse the key of the last chord may fit than the best; ours, no source."""
_STRAY = 0.6
"""The most of the music outside a scale, as a share of what another key has more outside its own,
that leaves no doubt where a signature was never set (ours)."""
_MOST_SIGNS = 7
_FIFTH = 7


def with_modes(chart: Chart, melody: Sequence[float], named: bool, findings: Findings) -> Chart:
    """Writes each major key as minor if the last chord of its music is the minor tonic; returns the
    chart.

    ``named`` says that the score names the mode of its keys.  Music without chords decides by its
    notes where none is named; ``melody`` is how long each pitch class sounds in them.  Music that
    goes on in another key need not stop on its tonic: it must fit minor better too, and it has the
    mode of the last key, unless both have the same tonic (common practice, no source).
    """
    music = _music_by_key(chart)
    respelled: dict[Key, Key] = {}
    final = _final_key(chart)
    minor_is_named = named and any(key.mode == "minor" for key in music)
    for key in sorted(music, key=lambda one: one != final):
        rows = music[key]
        if minor_is_named and key != final:
            continue  # such a file means what it says
        weights = together(melody if len(music) == 1 else (0,) * 12, sounding_weights(rows))
        goal = None if key == final or final is None else respelled.get(final, final)
        other = _by_cadences(key, rows, findings) if goal is None else None
        if other is not None:
            respelled[key] = other
            continue
        minor = _minor(key, rows, weights, named, goal, findings)
        if minor is not None:
            respelled[key] = minor
        elif goal is None:
            _report_loop(key, rows, findings)
    return _with_keys(chart, lambda key: respelled.get(key, key)) if respelled else chart


def _report_loop(key: Key, rows: Sequence[MusicRow], findings: Findings) -> None:
    """Reports music with a major signature that begins on its minor tonic and ends on neither: a
    loop, of which nobody can tell which of both it is."""
    relative, last = Key(key.signature - MODES["minor"], "minor"), _last_chord(rows)
    if last is None or pitch_class_of(last.root) == pitch_class_of(key.tonic):
        return
    if key.mode == "major" and begins_on_minor(rows, relative):
        findings.guess(
            "mode-doubtful",
            f"the music begins in {relative} and ends on {last}: {key} is kept, and may be "
            f'"key: {relative}"',
        )


def _by_cadences(key: Key, rows: Sequence[MusicRow], findings: Findings) -> Key | None:
    """The key in which cadences say that music is: that of its signature, another mode of its
    scale, or None where they do not say."""
    last = _last_chord(rows)
    if key.mode == "minor":
        major = Key(key.signature, "major")
        if not is_in_major(rows, key, major):
            return None
        findings.guess(
            "mode-guessed",
            f"the music begins and ends on {last}: the key is written as {major}, not {key}",
        )
        return major
    if key.mode != "major" or last is None:
        return None
    modal = modal_key(rows, key, last)
    if modal is not None:
        findings.guess(
            "mode-guessed",
            f"the music begins and ends on {last}: the key is written as {modal}, not {key}",
        )
        return modal
    relative = Key(key.signature - MODES["minor"], "minor")
    if not (_is_tonic(last, relative) and keeps_major(rows, key, relative)):
        return None
    findings.guess(
        "mode-kept",
        f"the last chord is {last}, but the music begins in {key} and comes home to it: that is "
        "kept",
    )
    return key


def _minor(
    key: Key,
    rows: Sequence[MusicRow],
    weights: Sequence[float],
    named: bool,
    goal: Key | None,
    findings: Findings,
) -> Key | None:
    """The minor key of the same signature, where the last chord or, without any, the notes say
    that it is meant; ``goal`` is the key to which music goes on that does not end with it."""
    if key.mode != "major":
        return None
    last = _last_chord(rows)
    relative = Key(key.signature - MODES["minor"], "minor")
    major_fit = correlation(weights, pitch_class_of(key.tonic), "major")
    minor_fit = correlation(weights, pitch_class_of(relative.tonic), "minor")
    if last is not None:
        says_minor = (
            (goal is None and turns_on_fifth(rows, last, relative))
            or (not named and _is_major_tonic(last, relative))
            or _says_minor(last, relative, weights, major_fit, minor_fit)
        )
        if goal is not None:
            says_minor &= minor_fit > major_fit
            if goal.tonic not in (key.tonic, relative.tonic):
                says_minor = _keeps_minor(last, relative, goal, minor_fit - major_fit)
        if not says_minor:
            return None
        why = f"the last chord is {last}" if goal is None else f"the music goes on in {goal}"
        findings.guess("mode-guessed", f"{why}: the key is written as {relative}, not {key}")
        return relative
    if named or not has_enough_pitch_classes(weights) or minor_fit - major_fit <= NOTICEABLE_FIT:
        return None
    findings.guess(
        "mode-guessed",
        f"the signature names no mode; the music fits {relative} better than {key} "
        f"(Krumhansl-Kessler profiles, {minor_fit:.2f} to {major_fit:.2f}), and that is written",
    )
    return relative


def _says_minor(
    last: Chord, minor: Key, weights: Sequence[float], major_fit: float, minor_fit: float
) -> bool:
    """Whether a song whose last chord this is may be in minor: it ends on the tonic, and where that
    is not a minor chord, or on the major chord of its fifth degree, the chords must fit minor best.
    """
    interval = (pitch_class_of(last.root) - pitch_class_of(minor.tonic)) % 12
    if interval == 0 and is_minor(last):
        return True
    parallel = correlation(weights, pitch_class_of(minor.tonic), "major")
    fits = minor_fit > max(major_fit, parallel - _CLOSE_FIT)
    return fits and (interval == 0 or (interval == _FIFTH and not is_minor(last)))


def _keeps_minor(last: Chord, minor: Key, goal: Key, gain: float) -> bool:
    """Whether music that goes on in a key with another tonic is in minor: that key is, and this
    fits minor better or stops on its minor tonic; or it does both, noticeably.  ``gain`` is by how
    much minor fits better."""
    stops = pitch_class_of(last.root) == pitch_class_of(minor.tonic) and is_minor(last)
    if goal.mode == "minor":
        return stops or gain > 0
    return stops and gain > NOTICEABLE_FIT


def _is_major_tonic(last: Chord, minor: Key) -> bool:
    """Whether a chord is the tonic of a minor key with a major third and no seventh: that is how
    many songs in minor end, and how hardly one ends on the sixth degree of its major key."""
    tones = last.quality.degrees
    same = pitch_class_of(last.root) == pitch_class_of(minor.tonic)
    return same and "3" in tones and not {"b7", "7"} & set(tones)


def _last_chord(rows: Sequence[MusicRow]) -> Chord | None:
    """The chord that music ends on: the last before a "Fine", where one is written."""
    chords: list[Chord] = []
    for row in rows:
        for bar in row.bars:
            chords += [strike.chord for strike in bar.strikes if strike.chord is not None]
            if chords and bar.marks and any(mark.kind == "fine" for mark in bar.marks):
                return chords[-1]
    return chords[-1] if chords else None


def with_signature(chart: Chart, melody: Sequence[float], findings: Findings) -> Chart:
    """Writes the key on which the music of a song in one key and its last chord agree, if the
    signature says another or there is none; returns the chart.

    Melody and chords count alike.  Where the last chord does not agree, a key that fits better is
    reported and the signature kept.  Only a key counts that leaves noticeably less of the music
    outside its scale.
    """
    weights = together(melody, sounding_weights(iter_music(chart.sections)))
    if not has_enough_pitch_classes(weights):
        return chart
    rows = tuple(iter_music(chart.sections))
    last = _last_chord(rows)
    better, fit = _fitting_key(weights, last)
    declared = chart.key
    agrees = last is not None and _is_tonic(last, better)
    if declared is None:
        said = f"the music fits {better} best (Krumhansl-Kessler profiles)"
        if not agrees and last is not None and _comes_home(rows, last):
            agrees, better = True, _key_of(last)
            said = f"the music begins on {last}"
        ends = f" and ends on {last}: {better} is written" if agrees else ""
        findings.guess("no-key", f"no key is given; {said}{ends}")
        return _with_new_key(chart, better) if agrees else chart
    own = correlation(weights, pitch_class_of(declared.tonic), _kind(declared))
    gain = share_outside(weights, declared) - share_outside(weights, better)
    differs = better.signature != declared.signature and gain > _NOTICEABLE_SHARE
    unset = agrees and declared.signature == 0 and gain > _SURE_SHARE
    all_inside = unset and share_outside(weights, better) <= _STRAY * gain
    needed = 0 if unset else NOTICEABLE_FIT
    fits = fit - own > needed or all_inside
    if not differs or not (fits or unset):
        return chart
    ending = last if agrees and fits else None
    return _in_better_key(chart, declared, better, ending, (fit, own), findings)


def _key_of(tonic: Chord) -> Key:
    return Key(tonic.root, "minor" if is_minor(tonic) else "major")


def _comes_home(rows: Sequence[MusicRow], last: Chord) -> bool:
    """Whether music ends on the chord that it begins with, which is no seventh that leads on."""
    strikes = (strike for row in rows for bar in row.bars for strike in bar.strikes)
    first = next((strike.chord for strike in strikes if strike.chord is not None), None)
    leads_on = {"3", "b7"} <= set(last.quality.degrees)
    near = abs(_key_of(last).signature) <= _MOST_SIGNS
    same = first is not None and first.root == last.root and is_minor(first) == is_minor(last)
    return same and near and not leads_on


def _in_better_key(
    chart: Chart,
    declared: Key,
    better: Key,
    last: Chord | None,
    fits: tuple[float, float],
    findings: Findings,
) -> Chart:
    """The chart in the key that fits better where its ``last`` chord agrees; else as it is, and the
    other key reported.  ``fits`` are those of the better and of the declared key."""
    profiles = f"(Krumhansl-Kessler profiles, {fits[0]:.2f} to {fits[1]:.2f})"
    if last is None:
        findings.guess(
            "key-doubtful",
            f"the signature says {declared}, and that is kept; the music may be in {better} "
            f'{profiles}: if so, write "key: {better}"',
        )
        return chart
    findings.guess(
        "key-by-last-chord",
        f"the signature says {declared}; the music fits {better} better {profiles} and ends on "
        f"{last}: that is written",
    )
    return _with_keys(chart, lambda _: better)


def _fitting_key(weights: Sequence[float], last: Chord | None) -> tuple[Key, float]:
    """The key that fits best and how well; that of the last chord where it has the same signature,
    fits nearly as well, or leaves noticeably less of the music outside its scale."""
    best, fit = key_by_profile(weights)
    if last is None:
        return best, fit
    ending = _key_of(last)
    its_fit = correlation(weights, pitch_class_of(ending.tonic), ending.mode)
    near = abs(ending.signature) <= _MOST_SIGNS
    close = near and fit - its_fit <= _CLOSE_FIT
    inside = near and (
        share_outside(weights, best) - share_outside(weights, ending) > _NOTICEABLE_SHARE
    )
    if ending.signature == best.signature or close or inside:
        return ending, its_fit
    return best, fit


def _is_tonic(chord: Chord, key: Key) -> bool:
    same = pitch_class_of(chord.root) == pitch_class_of(key.tonic)
    return same and is_minor(chord) == (key.mode == "minor")


# ---- keys among the rows of a chart


def _with_keys(chart: Chart, respelled: Callable[[Key], Key]) -> Chart:
    """The chart with every key that is written in it replaced by the one that is meant."""

    def with_key(row: SettingRow) -> SettingRow:
        return replace(row, value=respelled(row.value)) if isinstance(row.value, Key) else row

    top = tuple(with_key(row) if isinstance(row, SettingRow) else row for row in chart.top)
    sections = tuple(
        replace(
            section,
            rows=tuple(with_key(r) if isinstance(r, SettingRow) else r for r in section.rows),
        )
        for section in chart.sections
    )
    return Chart(top, sections)


def _with_new_key(chart: Chart, key: Key) -> Chart:
    """The chart with a key at its top, after who wrote it."""
    names = [row.name if isinstance(row, SettingRow) else "" for row in chart.top]
    at = sum(name in ("title", "writer") for name in names)
    return replace(chart, top=(*chart.top[:at], SettingRow("key", key), *chart.top[at:]))


def _final_key(chart: Chart) -> Key | None:
    """The key in which a song ends: at its "Fine", else at its end."""
    key = chart.key
    for row in (row for section in chart.sections for row in section.rows):
        if isinstance(row, SettingRow) and isinstance(row.value, Key):
            key = row.value
        elif isinstance(row, MusicRow) and _has_fine(row):
            break
    return key


def _has_fine(row: MusicRow) -> bool:
    return any(mark.kind == "fine" for bar in row.bars for mark in bar.marks)


def _music_by_key(chart: Chart) -> dict[Key, list[MusicRow]]:
    key = chart.key
    music: dict[Key, list[MusicRow]] = {}
    for section in chart.sections:
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
            elif isinstance(row, MusicRow) and key is not None:
                music.setdefault(key, []).append(row)
    return music


# ---- how much sounds of each pitch class


def sounding_weights(rows: Iterable[MusicRow]) -> list[int]:
    """How long each pitch class sounds in the chords of some rows, in ticks; one tick in free
    time."""
    lengths: dict[int, int] = {}
    chords: dict[int, Chord] = {}
    for strike in (strike for row in rows for bar in row.bars for strike in bar.strikes):
        if strike.chord is not None:
            one = id(strike.chord)  # mostly one for all that are equal, and cheaper to look up
            chords[one] = strike.chord
            lengths[one] = lengths.get(one, 0) + (strike.length or 1)
    weights = [0] * 12
    for one, length in lengths.items():
        for pitch_class in chords[one].pitch_classes:
            weights[pitch_class] += length
    return weights


def together(melody: Sequence[float], chords: Sequence[float]) -> list[float]:
    """The weights of both as shares of their own sum, added."""
    sums = sum(melody) or 1, sum(chords) or 1
    return [m / sums[0] + c / sums[1] for m, c in zip(melody, chords, strict=True)]


def _kind(key: Key) -> str:
    third = (pitch_class_of(key.scale[2]) - pitch_class_of(key.tonic)) % 12
    return "minor" if third == 3 else "major"
