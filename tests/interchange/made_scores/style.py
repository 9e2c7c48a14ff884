"""Habits of programs and people that write scores, drawn apart from the song.

All are common practice or what the MusicXML 4.0 schema allows; none is named after a program.
"""

from dataclasses import dataclass
from random import Random

from tests.interchange.made_scores.song import Song


@dataclass
class Style:
    """How a score is written.

    ``layout`` says which parts and staves there are, ``chords`` in which of them the symbols stand
    and ``placing`` how symbols that no note begins with reach their place; ``transposed`` is the
    sung part's interval in fifths with its steps and half steps.  ``systems`` are the bars on each
    system of a score that says that its breaks mean something.
    """

    divisions: int
    layout: str
    symbols_at: str
    placing: str
    kind_texts: int | None
    degrees_hidden: bool
    whole_by_text: bool
    inversions: bool
    typed: bool
    decimals: bool
    mode: str
    transposed: tuple[int, int, int]
    lyric_numbers: str
    stanza_numbers: bool
    syllabics: bool
    extends: str
    voices: bool
    sections: str
    forward_left: bool
    first_forward: bool
    ending_commas: str
    ending_stop: str
    ending_text: bool
    times: str
    jumps: str
    jump_text: int
    jump_first: bool
    coda_by: str
    pickup_number: str
    breaks: str
    multi_rests: bool
    whole_rests: bool
    slashes: bool
    graces: bool
    cues: bool
    noise: bool
    metronome: str
    credits: bool
    version: str
    timewise: bool
    packed: str
    encoding: str
    doctype: bool
    namespace: str
    indent: str
    split_bars: bool
    repeated_attributes: bool
    common_sign: bool
    hidden_copies: bool
    accompaniment_verse: bool
    elision: str
    meter_given: bool
    rights: bool
    frames: bool
    silent_words: bool
    forwards: bool
    lower_words: bool
    padded: bool
    title_in: str
    roles: str
    naming: str
    odd_ways: bool
    text_alone: bool
    new_divisions: bool
    times_two: bool
    systems: tuple[int, ...]


_LAYOUTS = {
    "lead": 50, "lead in two voices": 7, "voice over piano": 10, "grand staff": 7,
    "two parts": 8, "choir": 5, "with drums": 4, "chords part": 5, "lead below": 4,
}  # fmt: skip
_SYSTEMS = ((), (), (), (4, 5, 3, 4), (5,), (3, 4))
"""The bars on each system of a page, again and again; none where the breaks have another reason."""
_TRANSPOSED = ((2, -1, -2), (3, -5, -9), (2, -8, -14), (1, -4, -7))
"""Parts in B flat, in E flat, for a tenor saxophone, in F: fifths up as written, steps and half
steps back."""


def style_of(song: Song, chance: Random) -> Style:
    """A style for a song, each habit drawn by itself."""
    rare, often = (lambda share: chance.random() < share), chance.choice
    layout = chance.choices(list(_LAYOUTS), list(_LAYOUTS.values()))[0]
    symbols_at = "voice"
    plain_meter = {bar.meter for bar in song.bars} in ({(4, 4)}, {(3, 4)})
    if layout in ("voice over piano", "two parts", "grand staff", "choir"):
        symbols_at = often(("voice", "voice", "other", "both"))
    if layout in ("chords part", "lead below"):
        symbols_at = "other"
    plain = rare(0.5)
    may_guess = song.home and all(bar.key is None for bar in song.bars)
    return Style(
        divisions=often((12, 12, 24, 120, 480, 768, 10080, 256, 64, 4)),
        layout=layout,
        symbols_at=symbols_at,
        placing=often(("offset", "offset", "all first", "backup", "split", "bare")),
        kind_texts=None if plain else chance.randrange(5),
        degrees_hidden=rare(0.2),
        whole_by_text=rare(0.1),
        inversions=rare(0.05),
        typed=rare(0.04),
        decimals=rare(0.1),
        mode=chance.choices(
            ("right", "major", "none", "zero", "absent"),
            (45, 25, 25, 4 * may_guess, 2 * may_guess),
        )[0],
        transposed=often(_TRANSPOSED) if rare(0.08) and abs(song.fifths) < 3 else (0, 0, 0),
        lyric_numbers=often(("1", "1", "1", "named", "part", "name only")),
        stanza_numbers=rare(0.2),
        syllabics=not rare(0.08),
        extends=chance.choices(
            ("type", "bare", "none", "stop", "typed", "dashes"), (20, 40, 20, 15, 4, 4)
        )[0],
        voices=rare(0.15) and len(song.verses) == 2 and layout in ("lead", "two parts"),
        sections=often(("rehearsal", "rehearsal", "words", "boxed words")),
        forward_left=not rare(0.1),
        first_forward=rare(0.8),
        ending_commas=often((", ", ",", ", ")),
        ending_stop=often(("stop", "stop", "discontinue last", "open last")),
        ending_text=rare(0.3),
        times=often(("attribute", "words", "both")),
        jumps=often(("words and sound", "words", "sound and sign", "words and sound")),
        jump_text=chance.randrange(4),
        jump_first=rare(0.15),
        coda_by=often(("sign", "sign", "sign", "words", "glyph")),
        pickup_number=often(("0", "0", "1", "X1")),
        breaks=often(("phrases", "none", "thirds", "fours", "none")),
        multi_rests=rare(0.5),
        whole_rests=rare(0.8),
        slashes=rare(0.2),
        graces=rare(0.1),
        cues=rare(0.05),
        noise=rare(0.5),
        metronome=often(("metronome", "sound", "both", "none", "both", "typed")),
        credits=rare(0.5),
        version=often(("1.0", "2.0", "3.0", "3.1", "4.0")),
        timewise=rare(0.06),
        packed=often(("", "", "", "mxl", "mxl", "mxl broken index", "mxl more files")),
        encoding=chance.choices(
            ("utf-8", "utf-8-sig", "utf-16", "latin-1", "said latin-1"), (80, 6, 6, 4, 2)
        )[0],
        doctype=rare(0.7),
        namespace=chance.choices(("", "default", "prefix"), (94, 4, 2))[0],
        indent=often(("  ", "", "\t", "crlf")),
        split_bars=rare(0.06),
        repeated_attributes=rare(0.1),
        common_sign=rare(0.6),
        hidden_copies=rare(0.05),
        accompaniment_verse=rare(0.1),
        elision=often(("‿", "", " ", "‿")),
        meter_given=not (rare(0.06) and plain_meter),
        rights=rare(0.3),
        frames=rare(0.08),
        silent_words=rare(0.3),
        forwards=rare(0.06),
        lower_words=rare(0.4),
        padded=rare(0.06),
        title_in=often(("work", "work", "movement", "both", "credit")),
        naming=often(("{}", "{}", "{}", "upper", "{}:", "[{}]")),
        odd_ways=rare(0.1),
        text_alone=rare(0.06),
        new_divisions=rare(0.05),
        times_two=rare(0.3),
        roles=often(("plain", "plain", "poet", "said", "credit")),
        systems=often(_SYSTEMS),
    )
