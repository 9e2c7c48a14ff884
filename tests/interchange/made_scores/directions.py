"""Words and signs over the bars of a song."""

from tests.interchange.made_scores.song import Bar, Q, Song, beat_of
from tests.interchange.made_scores.style import Style
from tests.interchange.made_scores.write_bits import signed, words

JUMPS = {
    ("D.S.", ""): ("D.S.", "D. S.", "Dal Segno", "D.S."),
    ("D.C.", ""): ("D.C.", "D. C.", "Da Capo", "D.C."),
    ("D.S.", "coda"): ("D.S. al Coda", "D. S. al coda", "Dal Segno al Coda", "D.S.alCoda"),
    ("D.C.", "coda"): ("D.C. al Coda", "D. C. al Coda", "Da Capo al Coda", "D.C. al coda"),
    ("D.C.", "fine"): ("D.C. al Fine", "D. C. al fine", "Da Capo al Fine", "D.C.alFine"),
    ("D.S.", "fine"): ("D.S. al Fine", "D.S. al fine", "Dal Segno al Fine", "D. S. al Fine"),
}
_SOUNDS = {
    "D.S.": 'dalsegno="segno"', "D.C.": 'dacapo="yes"', "fine": 'fine="yes"',
    "to-coda": 'tocoda="coda"',
}  # fmt: skip


_SIGNS = {"half": "𝅗𝅥", "quarter": "♩", "eighth": "♪"}


def before_notes(song: Song, i: int, style: Style) -> str:
    """What stands over the start of a bar."""
    bar = song.bars[i]
    out = _tempo(song, style) if not i else ""
    if bar.section:
        out += _section(bar.section, style)
    if bar.tempo:
        out += _new_tempo(song, bar, style)
    for mark in bar.marks:
        if mark == "segno":
            sound = 'segno="segno"' if "sound" in style.jumps else ""
            out += words("𝄋", "", sound) if style.coda_by == "glyph" else signed("<segno/>", sound)
        elif mark == "coda":
            out += _coda(bar, style)
    for _, said in bar.said:
        out += words(said, ' font-style="italic"')
    if style.noise and i == 1:
        out += signed("<dynamics><mf/></dynamics>")
    if style.jump_first:
        out += _ends(bar, style)
    return out


def after_notes(bar: Bar, style: Style) -> str:
    """What stands over the end of a bar."""
    out = "" if style.jump_first else _ends(bar, style)
    if bar.ends and bar.times and style.times != "attribute":
        out += words(f"{bar.times}x" if style.jump_text % 2 else f"Play {bar.times} times")
    return out


def _coda(bar: Bar, style: Style) -> str:
    if style.coda_by == "words":
        return "" if bar.section == "Coda" else words("Coda", ' font-weight="bold"')
    sound = 'coda="coda"' if "sound" in style.jumps else ""
    return words("𝄌", "", sound) if style.coda_by == "glyph" else signed("<coda/>", sound)


def _section(name: str, style: Style) -> str:
    if style.sections == "rehearsal" or len(name) == 1:
        return signed(f"<rehearsal>{name}</rehearsal>")
    name = name.upper() if style.naming == "upper" else style.naming.format(name)
    boxed = ' enclosure="rectangle"' if style.sections == "boxed words" else ""
    return words(name, f' font-weight="bold" font-size="12"{boxed}')


def _ends(bar: Bar, style: Style) -> str:
    out = ""
    for mark in bar.marks:
        sound = _SOUNDS.get(mark, "") if "sound" in style.jumps else ""
        if mark == "to-coda":
            out += _to_coda(style, sound)
        elif mark == "fine":
            out += words("Fine", ' font-weight="bold"', sound)
        elif mark in ("D.C.", "D.S."):
            said = JUMPS[mark, bar.until][style.jump_text]
            out += words(said, ' font-style="italic"', sound)
    return out


def _to_coda(style: Style, sound: str) -> str:
    if style.jumps == "sound and sign":
        return signed("<coda/>", sound)
    if style.jump_text == 1:
        return words("To", "", sound) + signed("<coda/>")
    if style.jump_text == 2:
        return signed("<words>To Coda</words></direction-type><direction-type><coda/>", sound)
    return words("To Coda" if style.jump_text else "to Coda", "", sound)


def _tempo(song: Song, style: Style) -> str:
    inner = f"<words>{song.feel}</words>" if song.feel else ""
    shown = ""
    if style.metronome in ("metronome", "both", "typed"):
        shown = _metronome(song, style, song.tempo)
        inner += "</direction-type><direction-type>" if inner else ""
    sound = _sound(song, song.tempo) if style.metronome in ("sound", "both") else ""
    if inner or shown:
        return signed(inner + shown, sound)
    return f"<sound {sound}/>" if sound else ""


def _metronome(song: Song, style: Style, tempo: int) -> str:
    beat = beat_of(song.meter)
    dot = beat == Q(3, 2)
    unit = {Q(2): "half", Q(1, 2): "eighth"}.get(beat, "quarter")
    if style.metronome == "typed":
        return f"<words>{'♩.' if dot else _SIGNS[unit]} = {tempo}</words>"
    return (
        f"<metronome><beat-unit>{unit}</beat-unit>{'<beat-unit-dot/>' if dot else ''}"
        f"<per-minute>{tempo}</per-minute></metronome>"
    )


def _sound(song: Song, tempo: int) -> str:
    return f'tempo="{float(tempo * beat_of(song.meter)):g}"'


def _new_tempo(song: Song, bar: Bar, style: Style) -> str:
    """A tempo from a bar on."""
    return signed(_metronome(song, style, bar.tempo), _sound(song, bar.tempo))
