"""The table of mistakes: malformed text and what the reader must say about it.

Each text has one mistake and no other, so the table also says that one slip is told once.
"""

from typing import NamedTuple


class Mistake(NamedTuple):
    """A text, the code it must raise, where (from 1), how long the caret is, part of a hint."""

    text: str
    code: str
    line: int
    column: int
    length: int
    hint: str = ""


SONG = "| C | F |\n"

MISTAKES = (
    # ---- settings
    Mistake("key: H\n| C |", "bad-key", 1, 6, 1, 'H is B natural: write "B"'),
    Mistake("key: c minor\n| C |", "bad-key", 1, 6, 7, "roots are capitals"),
    Mistake("key:   Db mayor  # ?\n| C |", "bad-key", 1, 8, 8),
    Mistake("key: G# major\n| C |", "bad-key", 1, 6, 8),
    Mistake("meter: 4\n| C |", "bad-meter", 1, 8, 1),
    Mistake("meter: 4/5\n| C |", "bad-meter", 1, 8, 3),
    Mistake("meter: 0/4\n| C |", "bad-meter", 1, 8, 3),
    Mistake("tempo: fast\n| C |", "bad-tempo", 1, 8, 4),
    Mistake("tempo: 999\n| C |", "bad-tempo", 1, 8, 3),
    Mistake("range: Ab-F\n| C |", "bad-range", 1, 8, 4),
    Mistake("range: F5-Ab3\n| C |", "bad-range", 1, 8, 6),
    Mistake("capo: two\n| C |", "bad-capo", 1, 7, 3),
    Mistake("capo: 12\n| C |", "bad-capo", 1, 7, 2),
    Mistake("chords: both\n| C |", "bad-chords", 1, 9, 4),
    Mistake("language: the usual\n| C |", "bad-language", 1, 11, 9),
    Mistake("cappo: 2\n| C |", "unknown-setting", 1, 1, 5, 'did you mean "capo"?'),
    Mistake("Verse 1:\n| C |", "unknown-setting", 1, 1, 7, '"== Verse 1"'),
    Mistake("singer: me\n| C |", "unknown-setting", 1, 1, 6, "the names are title"),
    Mistake("title:\n| C |", "empty-setting", 1, 6, 1),
    Mistake("capo:  # none yet\n| C |", "empty-setting", 1, 5, 1),
    Mistake("key: D\nkey: E\n| C |", "setting-twice", 2, 1, 3),
    Mistake("== A\n| C |\ncapo: 2\n| F |", "setting-too-late", 3, 1, 4, "only key, meter"),
    Mistake("chords: shapes\n| C |", "shapes-without-capo", 1, 1, 14, "write capo"),
    Mistake("shape: G\n| C |", "bad-shape", 1, 8, 1),
    Mistake("shape: G 32000z\n| C |", "bad-shape", 1, 8, 8),
    Mistake("shape: G 320001\n| C |", "shape-sounds-else", 1, 1, 15, "from the bass side"),
    Mistake(
        "key: Eb\n== A\n| Eb Ab |\n== B\nkey: G\n| G C |\n== C\n| Eb Ab | Bb Cm |",
        "key-left-behind",
        7,
        1,
        4,
        "write key: Eb major",
    ),
    Mistake("key: C\n| C |\n: | " + "la " * 7000, "row-too-long", 3, 1, 20, "a few bars"),
    # ---- slips that would lose something
    Mistake("key: C\n| C7 #9 | F | G | C |", "sharp-or-comment", 2, 6, 2, '"C7#9"'),
    Mistake("key: C\n| C |\n: | we're #1 |", "sharp-or-comment", 3, 11, 2, "in words write"),
    Mistake("key: C\n| C | # F | G |", "bars-in-comment", 2, 7, 9, "take the # out"),
    Mistake("| A7 b9 / / |", "chord-typed-apart", 1, 6, 2, 'join "b9" to its root'),
    Mistake("| C maj7 / / |", "chord-typed-apart", 1, 5, 4, "without blanks"),
    Mistake("| C | Fine |", "mark-without-sign", 1, 7, 4, "@fine"),
    Mistake("== A (x2)\n| C |", "times-in-name", 1, 6, 4, "write x2"),
    Mistake("== A 2x\n| C |", "times-in-name", 1, 6, 2, "write x2"),
    # ---- rhythm
    Mistake("| _ / / / | C |", "nothing-to-hold", 1, 3, 1, "ties over"),
    Mistake("| C | C,_,/,_,/ / / / |", "crowded-beat", 1, 7, 9),
    Mistake("| C / / / 2/4 | C |", "meter-inside-bar", 1, 11, 3, "bar line before it"),
    Mistake("| C | 3/5 C |", "bad-meter", 1, 7, 3),
    Mistake("| C | rest 4 C |", "rest-not-alone", 1, 7, 6, "stands alone"),
    Mistake("| C | rest 4 rest |", "rest-not-alone", 1, 7, 6),
    Mistake("| C | rest 0 |", "bad-rest", 1, 7, 6, "rest 8"),
    Mistake("| C | rest 9000 |", "bad-rest", 1, 7, 9),
    Mistake("C rest 4 F", "no-beats", 1, 3, 6, 'put "|" around'),
    Mistake("C 3/4 F", "no-beats", 1, 3, 3, 'put "|" around'),
    # ---- sections
    Mistake("==\n| C |", "section-without-name", 1, 1, 2, "== Verse 1"),
    Mistake("== A x0\n| C |", "bad-times", 1, 6, 2, "x2 for twice"),
    Mistake("== A x100\n| C |", "bad-times", 1, 6, 4, "up to x99"),
    Mistake("== A\n| C |\n== B as Verse", "unknown-section", 3, 9, 5, "sections so far: A"),
    Mistake("== B as Verse\n| C |", "unknown-section", 1, 9, 5, "comes earlier"),
    Mistake("== A x2 again\n| C |", "out-of-place", 1, 9, 5, "== Name"),
    Mistake("== as\n| C |", "unfinished-row", 1, 5, 1, "name of an earlier section"),
    Mistake("== A\n| C |\n== B as A\n| F |", "music-in-shared-section", 4, 1, 5, 'take out "as"'),
    # ---- the whole chart
    Mistake("title: Nothing yet", "no-music", 1, 18, 1, "| C | F | G7 | C |"),
    Mistake("| C @D.S. |", "no-segno", 1, 5, 5, "@segno"),
    Mistake("| @segno C | F @D.S. al coda |", "no-coda", 1, 16, 13, "where to go on"),
    Mistake("| C | F @D.C. al fine |", "no-fine", 1, 9, 13, "@fine"),
    Mistake("| C |\n|: F | C ||", "repeat-left-open", 2, 1, 2, '":|"'),
    # ---- rows that are something else
    Mistake("Oh the low tide pulls\n| C |", "words-without-colon", 1, 1, 21, 'with ":"'),
    Mistake("[Verse 1]\n| C |", "words-without-colon", 1, 1, 9, '"== Verse 1"'),
    Mistake("key = Db\n| C |", "words-without-colon", 1, 1, 8, '"key: Db"'),
    Mistake("| C \0 |", "control-character", 1, 5, 1, "delete it"),
    # ---- bars and beats
    Mistake("| C | | F |", "empty-bar", 1, 6, 1, "write % to play the bar before"),
    Mistake("| C || || F |", "empty-bar", 1, 7, 1, "N.C."),
    Mistake("| C F G |", "beats-unclear", 1, 3, 5, "C / F G"),
    Mistake("meter: 6/8\n| C F G |", "beats-unclear", 2, 3, 5, "C,F G"),
    Mistake("| C / / |", "beats-do-not-fit", 1, 3, 5, "C / / /"),
    Mistake("| C | / / / / / |", "beats-do-not-fit", 1, 7, 9, "one slash for each beat: / / / /"),
    Mistake("meter: 3/4\n| C / / F |", "beats-do-not-fit", 2, 3, 7, "C / F"),
    Mistake("| C,D,E,F,G / / / |", "crowded-beat", 1, 3, 9),
    Mistake("| % | C |", "nothing-to-repeat", 1, 3, 1),
    Mistake("| C | %% |", "nothing-to-repeat", 1, 7, 2),
    Mistake("| C | % F |", "simile-not-alone", 1, 7, 1, "the whole bar before"),
    Mistake("C | F | G | C |", "read-as-pickup", 1, 1, 1, 'write "|" before it'),
    Mistake("C / F", "no-beats", 1, 3, 1, 'put "|" around the bars'),
    Mistake("C,F G", "no-beats", 1, 1, 3),
    # ---- signs
    Mistake("| ! C |", "stray-articulation", 1, 3, 1, '"C!"'),
    Mistake("| C < |", "stray-articulation", 1, 5, 1, '"<C"'),
    Mistake("| > C |", "stray-articulation", 1, 3, 1, '"<C"'),
    Mistake("| ~ C |", "stray-articulation", 1, 3, 1, '"C~"'),
    Mistake("| C, |", "missing-chord", 1, 4, 1, '"C,D"'),
    Mistake("| C , D |", "missing-chord", 1, 5, 1, "without a blank"),
    Mistake("| ( | C |", "missing-chord", 1, 3, 1, '"(C7)"'),
    Mistake("| (C7 | F |", "unclosed-parenthesis", 1, 3, 3, "around one chord"),
    Mistake("| C7(b9 / / / |", "unclosed-parenthesis", 1, 5, 3, "C7(b9)"),
    Mistake("| (C F) |", "unclosed-parenthesis", 1, 3, 2, "(C7) (F)"),
    Mistake("| C ) | F |", "stray-parenthesis", 1, 5, 1),
    Mistake("| C : F |", "stray-colon", 1, 5, 1, '"|: C | F :|"'),
    Mistake('| "half time | C |', "unclosed-cue", 1, 3, 16, "between quotes"),
    # ---- marks
    Mistake("| C @sengo |", "unknown-mark", 1, 5, 6, "@segno @coda"),
    Mistake("| C @fine al coda |", "misplaced-al", 1, 5, 13, "@D.C. al coda"),
    Mistake("| C |\n@fine", "mark-without-bar", 2, 1, 5, "inside the bar"),
    Mistake("| @fine | C |", "mark-without-bar", 1, 3, 5, "at the end of the bar"),
    Mistake("| C | @segno |", "mark-without-bar", 1, 7, 6, "inside the bar it belongs to"),
    Mistake("| C @D.C. al |", "not-a-chord", 1, 11, 2, '"al fine" or "al coda"'),
    # ---- chords
    Mistake("| Gmaj77 |", "unknown-quality", 1, 4, 5, 'did you mean "maj7"?'),
    Mistake("| (Cfoo) |", "unknown-quality", 1, 5, 3),
    Mistake("| <(Cfoo) |", "unknown-quality", 1, 6, 3),
    Mistake("| (<Cfoo!) |", "unknown-quality", 1, 6, 3),
    Mistake("| Cfoo |", "unknown-quality", 1, 4, 3),
    Mistake("| Cm7b5x/G |", "unknown-quality", 1, 4, 5, '"m7b5"'),
    Mistake("| C | Db7(b9,xx) |", "unknown-quality", 1, 9, 8),
    Mistake("| C/x |", "unknown-bass", 1, 5, 1, "from A to G"),
    Mistake("| Cm7/e |", "unknown-bass", 1, 7, 1, 'capitals: "/E"'),
    Mistake("| C/E/G |", "two-basses", 1, 6, 2),
    Mistake("| /E C |", "bass-without-chord", 1, 3, 2, '"C/E"'),
    Mistake("| C | H7 |", "german-note-name", 1, 7, 2, '"B7"'),
    Mistake("| C | am7 |", "lowercase-root", 1, 7, 3, '"Am7"'),
    Mistake("| C | f# |", "lowercase-root", 1, 7, 2, '"F#"'),
    Mistake("| C | Sol7 |", "syllable-note-name", 1, 7, 4, '"G7"'),
    Mistake("| C | Sib |", "syllable-note-name", 1, 7, 3, '"Bb"'),
    Mistake("| C | rem |", "syllable-note-name", 1, 7, 3, '"Dm"'),
    Mistake("| C | Dom7 |", "syllable-note-name", 1, 7, 4, '"Cm7"'),
    Mistake("| C | Do |", "reads-as-diminished", 1, 7, 2, '"Ddim"'),
    Mistake("| C\u200b | F |", "invisible-character", 1, 3, 2, "type it again"),
    Mistake("| C hello |", "not-a-chord", 1, 5, 5),
    Mistake("| C x2 |", "not-a-chord", 1, 5, 2, '"== Chorus x2"'),
    Mistake("| C | 1. F |", "not-a-chord", 1, 7, 2, '"|1."'),
    Mistake("| C - |", "not-a-chord", 1, 5, 1, '"C / / /"'),
    # ---- words
    Mistake(": Oh\n| C |", "words-without-music", 1, 1, 4, "write the bars first"),
    Mistake("== A\n| C |\n== B as A\n: | a |\n\n: | b |", "words-without-music", 6, 1, 7, '"1:"'),
    Mistake(SONG + ": | a | b | c |", "too-many-bars", 2, 13, 1, 'take out a "|"'),
    Mistake(SONG + ": | a |", "too-few-bars", 2, 1, 7, 'put a "|"'),
    Mistake(SONG + ": one | two |", "too-few-bars", 2, 1, 13, "is the pick-up"),
    Mistake(SONG + ": | a / b | c |", "too-many-strikes", 2, 9, 1, 'leave out a "/"'),
    Mistake(SONG + ": | a / / | c |", "too-many-strikes", 2, 9, 1, 'leave out a "/"'),
    Mistake(SONG + ": a / b | c | d |", "divider-in-pickup", 2, 7, 1, 'begins at a "|"'),
    Mistake("C F\n: a | b", "bars-in-free-time", 2, 7, 1, '"/" where the next chord'),
    Mistake("C F\n: a / b / c / d", "too-many-strikes", 2, 11, 1),
)
