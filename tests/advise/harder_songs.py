"""Pairs of short songs of our own, of which the second is plainly harder to play on a guitar.

Written down before the index of difficulty was looked at, by reason; no source.  An entry is two
lines, ``key; settings; bars``, and the reason.  Every second pair is kept apart: its result was
not looked at while the weights of the index were set.
"""

from dataclasses import dataclass

from chartkit.advise.song import Song
from tests.advise.songs import song

TABLE = """
A; | A | D | A | E |
A; | A | F#m | Bm | E |
two barres among the easy chords

G; | G | Em | C | D |
Gm; | Gm | Eb | Bb | F | Cm | D7 |
a key of barres, or a capo and more chords

Em; | Em | D | Em | D |
Em; | Em | D | C | B7 | Am | G | F# | B7 |
two chords against eight with a barre

C; | C | G | Am | F | C | G | F | G |
C; | Cmaj7 | G13 | Am9 | Fmaj7 | Dm9 | G7(#5) | Em7 | A7(b9) |
triads against the same song with jazz colours

D; | D | G | D | A | D | G | A | D |
Db; | Dbmaj7 | Bbm7 | Ebm7 | Ab7 | Fm7 | Bb7 | Ebm7 | Ab7 |
three open chords against six sevenths in five flats

G; tempo: 76; | G | C | G | D |
G; tempo: 76; | G / C / | Am / D / | Bm / Em / | C / D / |
one easy chord a bar against two, with more chords

E; | E | A | E | B7 |
E; | E7(#9) | A9 | E7(#9) | B7(#9) |
three grips of a first year against three of the fourth

Am; | Am | G | F | E |
Am; | Am | E7/G# | C/G | D7/F# | Fmaj7 | C/E | Bm7b5 | E7 |
four chords against eight over a walking bass

D; | D | A | Bm | G |
D; | D | A/C# | Bm | F#m/A | G | D/F# | Em7 | A7sus4 |
one chord each against a slash bass under every other

C; | C | Am | Dm | G |
C; | C6 | C#dim7 | Dm7 | D#dim7 | Em7 | A7 | Dm7 | G7 |
a first song against diminished chords between

A; | A7 | D7 | A7 | E7 |
Bb; | Bb7 | Eb9 | Bb7 | Edim7 | Bb7/F | G7(#5) | Cm7 | F13 |
the plain blues against the jazz blues

F; | F | Bb | C | F |
F; | Fmaj7 | Em7b5 | A7 | Dm7 | Cm7 | F7 | Bbmaj7 | Bbm6 |
three barres against a chain of sevenths

Em; | Em | G | D | A |
F#m; | F#m | A#dim7 | Bm7 | D#m7b5 | G#7 | C#7(b9) |
open chords against half-diminished ones

G; tempo: 60; | G | D | Em | C |
G; tempo: 168; | G / Bm / | C / Cm / | G / E7 / | Am / D7 / |
slow and easy against fast, two a bar, with a minor four

C; | C | F | C | G |
Ab; | Ab | Eb/G | Fm | Cm | Db | Ab/C | Bbm7 | Eb7 |
three chords against a pop ballad in four flats

D; | D | Em | G | A |
D; | D | Em | G | A | Bb | C | F | Gm |
one key against one that borrows barres

E; | E5 | G5 | A5 | E5 |
E; | E | G#m | A | Am | F#m | B7 | C#m | C |
power chords against full barres

Am; | Am | C | G | D |
C#m; | C#m | E | G#m | F#m | A | B | D#dim | G#7 |
one easy chord a bar against barres throughout

G; | G | C | G | D7 |
Eb; | Ebmaj9 | Cm9 | Fm9 | Bb13 | Gm7 | C7(#9) | Abmaj9 | Db9 |
campfire against a soul ballad

C; | C | C | F | F | G | G | C | C |
C; | C / E7 / | Am / C7 / | F / Fm / | C / G7 / |
long chords against quick changes with more of them

D; | D | C | G | D |
B; | B | A#m7b5 | D#7 | G#m7 | F#m7 | B7 | Emaj7 | Em6 |
three open chords against a chain of fifths in five sharps

A; | A | E | F#m | D |
A; | A | E | F#m | D | C#m | Bm | G#dim7 | E7(b9) |
four chords against those and four harder ones

Em; | Em | C | G | D | Em | C | G | D |
Em; | Em9 | Cmaj7 | Gmaj9 | D6/9 | Am9 | F#m7b5 | B7(#9) | Em6 |
loops of triads against colours on every chord

G; | G | Cadd9 | Em7 | Dsus4 |
G; | G | B7 | Em | Cm | F | D7 | Eb | Am7b5 |
grips that share two fingers against far harmony

C; | Am | F | C | G |
C; | Am7 | D7(b9) | Gmaj7 | Cmaj7 | F#m7b5 | B7 | Em7 | E7(#5) |
four chords against the circle of fifths

D; | Dm | C | Dm | Am |
D; | Dm | A7/C# | Dm/C | Bm7b5 | Bbmaj7 | Gm6 | A7sus4 | A7 |
a drone song against a chromatic bass

A; tempo: 90; | A | D | E | A |
A; tempo: 180; | A / F#m / | Bm / E / | C#m / F#7 / | Bm7 / E7 / |
three chords against a fast turnaround in barres

E; | E | A | E | A |
Eb; | Eb | Ab | Bbm | Cm | Fm | Gb | Db | Bb7 |
two chords against eight barres

G; | G | D/F# | Em | C |
G; | G | D/F# | F6 | C/E | Cm6/Eb | G/D | A7/C# | D7 |
one slash chord against a bass that walks down by half steps

C; | C | Em | F | G |
C; | C | Caug | C6 | C7 | F | Fm6 | Em7 | A7(b9) |
four triads against a moving inner voice

Bm; | Bm | G | D | A |
Bm; | Bm7 | C#m7b5 | F#7(b9) | Bm6 | Em9 | A13 | Dmaj7 | Gmaj7(#11) |
one barre against jazz minor

F; | F | C | Dm | Bb |
F#; | F# | C#/E# | D#m7 | A#m7 | Bmaj7 | F#/A# | G#m7 | C#7sus4 |
four chords against eight in six sharps

A; | A | D | A | D | E | A | E | A |
A; | A | A/G# | F#m7 | F#m7/E | Dmaj7 | C#m7 | Bm7 | E9 |
three chords against a long descending line

G; | G | Am | C | D |
G; | G | Am | C | D |\\nkey: Ab; | Ab | Bbm | Db | Eb |
a song against the same lifted a half step at the end

Em; | Em | Em | Am | Em |
Em; | Em | Em/D# | Em/D | Em/C# | Cmaj7 | Am6 | B7 | B7(#5) |
two chords against a chromatic minor line

C; | F | G | C | Am |
Bbm; | Bbm | Gb | Ebm | F7 | Db | Ab | Cm7b5 | F7(b9) |
first-lesson chords against five flats in minor

D; | D | G | A7 | D |
D; | Dmaj9 | Bm11 | Em9 | A13 | F#m7 | B7(b9) | Em7 | Eb9 |
a folk song against substitutions

G; tempo: 100; | G | G | C | C | D | D | G | G |
G; tempo: 100; | G / D / | Em / Bm / | C / G / | Am / D / |
long chords against two a bar and a barre

C; | C | G | F | G |
C; | Cadd9 | G/B | Bbadd9 | F/A | Abmaj7 | Eb/G | Fm7 | G7sus4 |
three chords against a descending pop harmony

E; | E | D | A | E |
E; | E6 | Gdim7 | F#m7 | Fdim7 | E6/9 | C#7(#9) | F#9 | B13 |
three open chords against swing

A; | Am | Dm | E7 | Am |
A; | Am | Dm | G7 | Cmaj7 | Fmaj7 | Bm7b5 | E7 | A7 |
three chords against the whole circle

G; | G | C | D | C |
F#m; | F#m | D | Bm | C#7 | A | E/G# | G#m7b5 | C#7(b9) |
three chords against six barres
"""

NEAR = """
G; tempo: 90; | G | C | D | G |
G; tempo: 90; | G / C / | D / G / | C / G / | D / G / |
the same chords twice as fast

A; | A | D | E | D |
A; | A | D | Bm | E |
one barre more

E; | E | A | B7 | A |
E; | E | A | B | A |
B as a barre instead of B7

C; | C | Am | F | G |
C; | C | Am | Fm | G |
a full barre instead of F

D; tempo: 72; | D | G | A | D |
D; tempo: 150; | D | G | A | D |
twice the tempo

G; | G | C | D | G |
G; | G | Em | C | Am | D | G |
five chords instead of three

Em; | Em | C | G | D | Am |
C#m; | C#m | F#m | G#m | B |
more chords, but all easy, against fewer that are mostly barres anywhere

D; | D | A | G | A |
D; | D | F#m | G | Gm |
two barres instead of easy chords

C; | C | F | G | C |
C; | Cmaj7 | Fmaj7 | G7 | Am7 |
more kinds of chord

A; | A | E | D | E |
A; | A | E/G# | D/F# | E |
slash basses to be held down

G; | G | Em | C | D |
G; | G | Em | Eb | D |
a barre from far away

Am; | Am | F | C | G |
Am; | Am | F | C | G | Bb | Fm |
the same with two barres in a bridge

E; | E7 | A7 | B7 | E7 |
E; | E9 | A13 | B9 | E9 |
the blues with colours

D; tempo: 100; | D | Em7 | G | A |
D; tempo: 100; | D Em7 G A | D Em7 G A | G A D Em7 | G A D D |
a chord on each beat

C; | C | G/B | Am | F |
C; | C | E/B | Am | Ab |
two grips that are no beginner's

F; | Dm | C | Bb | C |
F; | Dm | C | Bbm | Eb |
two barres instead of one

G; | G | D | C | C |
G; | G | Bm | C | Cm |
a barre and a minor four

E; | E5 | D5 | A5 | E5 |
E; | E | D | A | F#m |
whole chords with a barre instead of power chords

Bm; | Em | D | Bm | A |
Bm; | Em7 | D6 | Bm7 | F#7 |
more kinds, and a barre

A; | A | C#m | D | E |
A; | A | C#m7 | Dmaj9 | F#m7 |
colours up the neck
"""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two songs, of which the second is harder, and why."""

    easier: Song
    harder: Song
    why: str


def _song(line: str) -> Song:
    settings = [part.strip() for part in line.split(";")]
    text = "\n".join([f"key: {settings[0]}", *settings[1:]])
    return song(text.replace("\\n", "\n"))


def pairs(table: str = TABLE) -> tuple[Pair, ...]:
    """Every pair of a table in order."""
    entries = (entry.split("\n") for entry in table.strip().split("\n\n"))
    return tuple(Pair(_song(easy), _song(hard), why) for easy, hard, why in entries)


def looked_at() -> tuple[Pair, ...]:
    """The pairs that the weights were set with."""
    return (*pairs()[::2], *pairs(NEAR)[::2])


def kept_apart() -> tuple[Pair, ...]:
    """The pairs that were not looked at."""
    return (*pairs()[1::2], *pairs(NEAR)[1::2])
