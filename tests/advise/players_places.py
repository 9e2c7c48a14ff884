"""Where players put the capo: 462 short songs of our own, with the places that they would take.

Written down before the ranking was changed, from memory of common practice; no source.  A line is

    style | key | bars | live | studio | why

``live`` and ``studio`` hold the capo frets (a minus: tuned down) that a player would choose,
the first choice first; ``=`` is the same as live.  Songs on even lines were put aside while
the weights were fitted (``kept_apart``); their misses were seen when two of the ranking's rules
were settled, so ``written_last``, to which nothing was set, is the cleaner check.
"""

from dataclasses import dataclass
from pathlib import Path

from chartkit.advise.song import Song
from tests.advise.songs import song

TABLE = """
folk | C | C | Am | F | G | 0 | = | first-lesson chords, F small or barred
folk | D | D | G | A7 | D | Bm | G | A7 | D | 0 | = | all open but one barre
folk | Eb | Eb | Ab | Bb7 | Cm | 1 3 | = | D shapes at 1 ring more, C shapes at 3 have no B minor
folk | F | F | Bb | C7 | F | 3 5 1 | = | D or C shapes; E shapes lie lowest
folk | G | G | C | D7 | Em | 0 | = | open
folk | Ab | Ab | Db | Eb7 | Fm | 1 | = | G shapes
folk | A | A | D | E7 | F#m | 0 2 | = | open but one; G shapes have none
folk | Bb | Bb | Eb | F7 | Gm | 3 1 | = | G shapes; A shapes lie lower
folk | B | B | E | F# | G#m | 4 2 | = | G shapes; A shapes lie lower
folk | Em | Em | D | C | B7 | 0 | = | open
folk | Am | Am | E7 | Am | Dm | Am | E7 | Am | Am | 0 | = | open
folk | Bm | Bm | Em | F#7 | Bm | 2 | = | A minor shapes
folk | F#m | F#m | E | D | C#7 | 2 | = | E minor, D, C, B7
folk | D | D | C | G | D | 0 | = | modal, open
folk | Em | Em | A | D | Em | 0 | = | modal, open
folk | C | C | G/B | Am | Am/G | F | C/E | Dm7 | G | 0 | = | a bass line made for C shapes
folk | Gb | Gb | Cb | Db | Ebm | 4 6 2 | 4 6 2 -1 | D or C shapes; G tuned down
folk | Dm | Dm | C | Dm | Am | Dm | C | Am | Dm | 0 | = | open
country | G | G | C | D | G | 0 | = | open
country | A | A | D | E | A | 0 2 | = | open
country | Bb | Bb | Eb | F | Bb | 3 1 | = | G shapes for the bass runs
country | E | E | A | B7 | E | 0 | = | open
country | D | D | G | A | D | 0 | = | open
country | C | C | F | G7 | C | 0 | = | the key of the first lesson
country | F | F | Bb | C7 | Dm | 3 5 | = | D or C shapes
country | Ab | Ab | Db | Eb | Ab | 1 | = | G shapes
country | Eb | Eb | Ab | Bb | Eb | 1 3 | = | D shapes, C shapes
country | B | B | E | F# | B | 4 2 | = | G shapes, A shapes
country | Am | Am | F | C | G | 0 | = | open but F
country | Gm | Gm | Eb | Bb | F | 3 | = | E minor shapes
country | Db | Db | Gb | Ab7 | Db | 1 | = | C shapes
country | G | G | A7 | C | D7 | 0 | = | open
rock | E | E5 | G5 | A5 | E5 | 0 | = | power chords on open E
rock | A | A5 | C5 | D5 | A5 | 0 | = | power chords on open A
rock | E | E | A | E | B | 0 | = | E belongs without a capo; one B
rock | A | A | D | E | D | 0 | = | open
rock | E | E | D | A | E | 0 | = | open
rock | D | D | C | G | D | 0 | = | open
rock | C | C | Bb | F | C | 0 3 | = | barres as written, or A, G, D
rock | Em | Em | C | G | D | 0 | = | open
rock | Bm | Bm | G | D | A | 0 2 | = | one barre, or A minor shapes
rock | F#m | F#m | D | A | E | 2 0 | = | E minor shapes, or one barre
rock | C#m | C#m | A | E | B | 4 0 | = | A minor shapes, or as it lies
rock | Eb | Eb | Ab | Eb | Bb | 1 3 | 1 3 -1 | D shapes; E shapes tuned down on record
rock | F#m | F#5 | A5 | B5 | F#5 | 0 2 | = | power chords go anywhere
rock | D | D5 | F5 | G5 | D5 | 0 | = | power chords
rock | G | G | F | C | G | 0 | = | open but F
rock | A | A | G | D | A | 0 | = | open
rock | B | B | A | E | B | 2 0 | = | A, G, D
rock | F | F | Eb | Bb | F | 3 | = | D, C, G
rock | Bb | Bb | Ab | Eb | Bb | 1 3 | = | A, G, D; or G, F, C
rock | Ab | Ab | Gb | Db | Ab | 4 1 | = | E, D, A; or G, F, C
rock | Am | Am | G | F | G | 0 | = | open but F
rock | Dm | Dm | Bb | C | Dm | 0 5 | = | as it lies, or A minor shapes
soul | C | Cmaj7 | Am7 | Dm7 | G7sus4 | 0 | = | open sevenths
soul | Eb | Ebmaj7 | Cm7 | Fm7 | Bb7 | 3 1 | = | C shapes all open
soul | F | Fmaj7 | Dm7 | Gm7 | C7 | 5 3 | = | C shapes, D shapes
soul | Bb | Bbmaj7 | Gm7 | Cm7 | F7 | 3 | = | G shapes
soul | A | Amaj7 | F#m7 | D | E7 | 0 2 | = | open but one
soul | Ab | Abmaj7 | Fm7 | Bbm7 | Eb7sus4 | 1 | = | G shapes
soul | Dm | Dm7 | G7 | Dm7 | G7 | 0 | = | open vamp
soul | Am | Am7 | D9 | Am7 | D9 | 0 | = | open vamp
soul | Gm | Gm7 | C9 | Gm7 | C9 | 0 3 5 | = | funk grips, or open sevenths
soul | E | E7(#9) | A7 | E7(#9) | A7 | 0 | = | the riff lies on open E
soul | C#m | C#m7 | F#m7 | B | A | 4 2 | = | A minor or B minor shapes
soul | G | G | Bm7 | Am7 | D7 | 0 | = | open but one
jazz | C | Dm7(b5) | G7(b9) | Cm6 | Cm6 | Em7(b5) | A7(b9) | Dm7 | G13 | 0 | = | closed jazz grips
jazz | Bb | Bbmaj7 | G7(b9) | Cm7 | F13 | Dm7(b5) | G7(b9) | Cm9 | F7(b9) | 0 | = | closed grips
jazz | Eb | Fm7(b5) | Bb7(b9) | Ebmaj7 | Edim7 | Fm7 | Bb13 | Eb6/9 | Eb6/9 | 0 | = | closed grips
jazz | F | F6/9 | D7(b9) | Gm7 | C13 | Am7(b5) | D7(b9) | Gm9 | C7(b9) | 0 | = | closed grips
jazz | Gm | Am7(b5) | D7(b9) | Gm6 | Gm6 | Cm9 | F13 | Bbmaj7 | Ebmaj7 | 0 | = | closed grips
jazz | Ab | Fm9 | Bbm7 | Eb13 | Abmaj7 | Dbmaj7 | Dm7(b5) | G7(b9) | Cmaj9 | 0 | = | closed grips
jazz | Db | Dbmaj9 | Bb7(b9) | Ebm9 | Ab13 | Fm7(b5) | Bb7(#9) | Ebm7 | Ab7(b9) | 0 | = | closed
jazz | G | Gmaj9 | E7(#9) | A13 | D7(b9) | Bm7(b5) | E7(b9) | Am9 | D13 | 0 | = | closed grips
jazz | Cm | Cm6 | Abmaj7 | Dm7(b5) | G7(b9) | Cm9 | F9 | Fm6 | G7(#5) | 0 | = | closed grips
jazz | D | Dmaj9 | B7(b9) | Em9 | A13 | F#m7(b5) | B7(b9) | Em7 | A7(b9) | 0 | = | closed grips
bossa | C | Cmaj9 | D9 | Dm9 | G7(b9) | Em7(b5) | A7(b9) | Dm7 | G13 | 0 | = | fingered grips
bossa | F | Fmaj7 | G13 | Gm9 | C7(b9) | Am7(b5) | D7(b9) | Gm6 | C9 | 0 | = | fingered grips
bossa | Am | Am6 | Bm7(b5) | E7(b9) | Am6 | Dm9 | G13 | Cmaj9 | E7(#5) | 0 | = | fingered grips
bossa | D | Dmaj9 | Ddim7 | Em9 | A13 | F#m7(b5) | B7(b9) | Em6 | A7(b9) | 0 | = | fingered grips
bossa | Bb | Bb6/9 | Bdim7 | Cm9 | F13 | Dm7(b5) | G7(b9) | Cm7 | F7(b9) | 0 | = | fingered grips
bossa | Em | Em9 | A13 | Am6 | F#m7(b5) | B7(b9) | Em6 | Cmaj7 | B7(#5) | 0 | = | fingered grips
worship | G | G | D | Em7 | Cadd9 | 0 | = | two fingers stay down
worship | A | A | E | F#m7 | D | 2 0 | = | G shapes, two fingers stay down
worship | B | B | F# | G#m7 | E | 4 2 | = | G shapes
worship | E | E | B | C#m | A | 4 2 | = | C or D shapes
worship | Bb | Bb | F | Gm | Eb | 3 | = | G shapes
worship | C | C | G | Am | F | 0 | = | open but F
worship | D | D | A | Bm | G | 0 2 | = | open but one
worship | F | F | C | Dm | Bb | 5 3 | = | C or D shapes
worship | Ab | Ab | Eb | Fm | Db | 1 | = | G shapes
worship | Db | Db | Ab | Bbm | Gb | 1 | = | C shapes
worship | Eb | Eb | Bb | Cm | Ab | 3 1 | = | C or D shapes
worship | Gb | Gb | Db | Ebm | Cb | 4 6 | 4 6 -1 | D or C shapes; G tuned down
worship | B | Bsus4 | B | E | F# | 4 2 | = | G or A shapes
worship | E | E | Asus2 | C#m7 | Bsus4 | 0 2 4 | = | colours over ringing strings
worship | G | G | Cadd9 | G/B | Dsus4 | 0 | = | two fingers stay down
ballad | C | C | G/B | Am7 | F | C | F | Dm7 | G | 0 | = | open
ballad | Db | Db | Ab/C | Bbm7 | Gb | 1 | = | C shapes
ballad | Bb | Bb | F/A | Gm7 | Eb | 3 | = | G shapes
ballad | D | D | A/C# | Bm7 | G | 0 2 | = | open but one
ballad | G | G | D/F# | Em7 | C | 0 | = | open
ballad | Ab | Ab | Eb/G | Fm7 | Db | 1 | = | G shapes
ballad | F | F | C/E | Dm7 | Bb | 5 3 | = | C or D shapes
ballad | E | E | B/D# | C#m7 | A | 4 2 0 | = | C or D shapes, or the colours of open E
ballad | A | A | E/G# | F#m7 | D | 2 0 | = | G shapes
ballad | Em | Em7 | Cmaj7 | G | D/F# | 0 | = | open
ballad | Cm | Cm | Ab | Eb | Bb | 3 | = | A minor shapes
ballad | Bbm | Bbm | Gb | Db | Ab | 1 | = | A minor shapes
ballad | C | C | Em | F | Fm | C | G | C | C | 0 | = | a borrowed F minor moves no capo
ballad | D | D | F#m | G | Gm | D | A | D | D | 0 2 | = | or C shapes
ballad | G | G | B7 | Em | C | Am | D7 | G | G | 0 | = | open
reggae | A | A | D | A | D | 0 | = | two chords, either way
reggae | G | G | C | D | C | 0 | = | open
reggae | Em | Em | Am | Em | Am | 0 | = | open
reggae | Bm | Bm | A | Bm | A | 0 2 | = | chops on barres
reggae | Gm | Gm | Cm | D7 | Gm | 3 | = | E minor shapes
reggae | F#m | F#m | Bm | F#m | C#7 | 2 | = | E minor shapes
reggae | C | C | F | G | F | 0 | = | plain
blues | E | E7 | A7 | E7 | E7 | A7 | A7 | E7 | E7 | B7 | A7 | E7 | B7 | 0 | = | the guitar's key
blues | A | A7 | D7 | A7 | A7 | D7 | D7 | A7 | A7 | E7 | D7 | A7 | E7 | 0 | = | open
blues | G | G7 | C7 | G7 | G7 | C7 | C7 | G7 | G7 | D7 | C7 | G7 | D7 | 0 | = | open
blues | Am | Am7 | Dm7 | Am7 | Am7 | Dm7 | Dm7 | Am7 | Am7 | E7 | Dm7 | Am7 | E7 | 0 | = | open
blues | C | C7 | F7 | C7 | C7 | F7 | F7 | C7 | C7 | G7 | F7 | C7 | G7 | 0 3 | = | C, or A shapes
blues | Bb | Bb7 | Eb7 | Bb7 | Bb7 | Eb7 | Eb7 | Bb7 | F7 | Eb7 | Bb7 | 1 3 | = | A or G shapes
blues | F | F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | C7 | Bb7 | F7 | C7 | 1 3 | = | E or D shapes
blues | Eb | Eb7 | Ab7 | Eb7 | Eb7 | Ab7 | Ab7 | Eb7 | Bb7 | Ab7 | Eb7 | 1 | 1 -1 | D shapes
blues | B | B7 | E7 | B7 | B7 | E7 | E7 | B7 | B7 | F#7 | E7 | B7 | F#7 | 2 | = | A shapes
film | Dm | Dm | Bb | F | C | 0 5 | = | as it lies, or A minor shapes
film | Gm | Gm | Eb | Bb | F | 3 | = | E minor shapes
film | Em | Em | C | Am | B | 0 | = | open but B
film | Fm | Fm | Db | Ab | Eb | 1 | = | E minor shapes
film | F#m | F#m | D | Bm | C#7 | 2 | = | E minor shapes
film | Cm | Cm | Fm | G7 | Cm | 3 | = | A minor shapes
film | Ebm | Ebm | Cb | Gb | Db | 6 1 | 6 1 -1 | A minor or D minor shapes, E minor tuned down
film | G#m | G#m | E | B | F# | 4 | = | E minor shapes
film | C#m | C#m | G#m | A | E | B | A | C#m | C#m | 4 | = | A minor shapes
pop | E | E | F#m | A | B | 4 2 | = | C or D shapes
pop | G | G | Em | C | D | 0 | = | open
pop | A | A | C#m | D | E | 2 0 | = | G shapes
pop | C | Fmaj7 | C | G | Am7 | 0 | = | open
pop | B | B | G#m | E | F# | 4 2 | = | G shapes
pop | Bb | Bb | Gm | Eb | F | 3 | = | G shapes
pop | F | F | Am | Bb | C | 5 3 | = | C or D shapes
pop | Am | Am | F | C | G/B | 0 | = | one slash chord moves no capo
pop | C | C | Dm/F | G | Am | 0 | = | one slash chord moves no capo
"""

WRITTEN_LAST = """
rock | E | E | D | A | E | C#m | A | E | B | 0 2 | = | written last
rock | A | A | G | D | A | E | F#m | D | E | 0 2 | = | written last
folk | C | C | Em | Am | F | C | G | C | G7 | 0 | = | written last
folk | G | G | Bm | C | D | Em | C | Am | D7 | 0 | = | written last
folk | D | D | Em | G | D | Bm | Em | A | A7 | 0 2 | = | written last
pop | Eb | Eb | Gm | Ab | Bb | Cm | Fm | Ab | Bb | 3 1 | = | written last
pop | Db | Db | Fm | Gb | Ab | Bbm | Ebm | Gb | Ab | 1 | = | written last
pop | F | F | Am | Dm | Bb | F | C | Gm | C | 5 3 | = | written last
pop | Ab | Ab | Cm | Db | Eb | Fm | Db | Bbm | Eb | 1 | = | written last
pop | B | B | D#m | E | F# | G#m | E | C#m | F# | 4 | = | written last
pop | E | E | G#m | A | B | C#m | A | F#m | B | 4 2 | = | written last
rock | Em | Em | G | D | A | Em | G | A | C | 0 | = | written last
rock | F#m | F#m | E | D | E | F#m | A | E | D | 2 0 | = | written last
rock | Bm | Bm | F#m | G | D | Em | Bm | G | A | 2 0 | = | written last
rock | Cm | Cm | Bb | Ab | Bb | Cm | Eb | Bb | Fm | 3 | = | written last
rock | Gm | Gm | F | Eb | D | Gm | Bb | F | Cm | 3 | = | written last
rock | Fm | Fm | Eb | Db | C | Fm | Ab | Eb | Db | 1 | = | written last
ballad | C | Cmaj7 | Fmaj7 | Cmaj7 | Fmaj7 | Am | Dm | F | G | 0 | = | written last
ballad | G | Gmaj7 | Cmaj7 | Am7 | D7 | Em | Bm | C | D | 0 | = | written last
ballad | D | Dmaj7 | Gmaj7 | Em7 | A7 | D | Bm | G | A | 0 2 | = | written last
ballad | A | A | Amaj7 | D | E | F#m | D | Bm | E | 0 2 | = | written last
ballad | Bb | Bb | Dm | Eb | F | Gm | Eb | Cm | F | 3 | = | written last
ballad | Am | Am | Am/G | Fmaj7 | E7 | Am | Dm | G | C | 0 | = | written last
ballad | Em | Em | Em/D | Cmaj7 | B7 | Em | Am | D | G | 0 | = | written last
ballad | Dm | Dm | Dm/C | Bbmaj7 | A7 | Dm | Gm | C | F | 0 5 | = | written last
country | G | G | G7 | C | G | Em | A7 | D7 | G | 0 | = | written last
country | C | C | C7 | F | C | Am | D7 | G7 | C | 0 | = | written last
country | D | D | D7 | G | D | Bm | E7 | A7 | D | 0 | = | written last
country | A | A | A7 | D | A | F#m | B7 | E7 | A | 0 2 | = | written last
country | E | E | E7 | A | E | C#m | F#7 | B7 | E | 0 4 2 | = | written last
country | F | F | F7 | Bb | F | Dm | G7 | C7 | F | 3 5 | = | written last
country | Bb | Bb | Bb7 | Eb | Bb | Gm | C7 | F7 | Bb | 3 | = | written last
soul | F#m | F#m7 | Bm7 | E7 | Amaj7 | Dmaj7 | G#m7b5 | C#7 | F#m7 | 2 0 | = | written last
soul | Em | Em7 | Am7 | D7 | Gmaj7 | Cmaj7 | F#m7b5 | B7 | Em7 | 0 | = | written last
soul | Cm | Cm7 | Fm7 | Bb7 | Ebmaj7 | Abmaj7 | Dm7b5 | G7 | Cm7 | 3 0 | = | written last
soul | D | Dmaj7 | Em7 | F#m7 | Gmaj7 | A7sus4 | D | D | A7 | 0 2 | = | written last
worship | A | A | Asus4 | A | E | F#m | D | A | E | 2 0 | = | written last
worship | E | E | Esus4 | E | B | C#m7 | A2 | E | B | 2 4 0 | = | written last
worship | C | C | Csus4 | C | G | Am7 | F | C | G | 0 | = | written last
reggae | Dm | Dm | Gm | Dm | A7 | Bb | C | Dm | Dm | 0 5 | = | written last
"""
"""Forty more, written when the weights stood, as a last check."""

LATER = """
swing | Bb | Bb6 | G7 | Cm7 | F7 | Bb6 | Bb7 | Eb6 | Edim7 | 3 0 | = | G shapes, or as it lies
swing | F | F6 | D7 | Gm7 | C7 | F6 | F7 | Bb6 | Bdim7 | 3 5 0 | = | D or C shapes; or as it lies
swing | C | C6 | A7 | Dm7 | G7 | Em7 | A7 | D7 | G7 | 0 | = | open
swing | Eb | Eb6 | C7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 | Bb7 | 3 1 0 | = | C shapes all open
swing | G | G6 | E7 | A7 | D7 | G | G7 | C6 | Cm6 | 0 | = | open
swing | Ab | Ab6 | F7 | Bbm7 | Eb7 | Ab | Ab7 | Db6 | Dbm6 | 1 | = | G shapes
swing | Am | Am6 | Dm6 | E7 | Am6 | Dm6 | Am6 | E7 | Am6 | 0 | = | open or closed, no capo
swing | Gm | Gm6 | Cm6 | D7 | Gm6 | A7 | D7 | Gm6 | D7 | 0 3 5 | = | closed, or E minor shapes
musical | Bb | Bb | Bbmaj7 | Bb6 | Cm7 | F7 | Dm7 | G7 | Cm7 | 3 | = | G shapes
musical | Ab | Ab | Abmaj7 | Fm7 | Bbm7 | Eb7 | Cm7 | Dbmaj7 | Dbm6 | 1 | = | G shapes
musical | Db | Db | Ddim7 | Ebm7 | Ab7 | Db | Db7 | Gb | Gbm6 | 1 | = | C shapes
gospel | F | F | F/A | Bb | Bdim7 | F/C | D7 | Gm7 | C7 | 3 5 | = | D or C shapes
gospel | Ab | Ab | C7 | Fm | Db | Ddim7 | Ab/Eb | F7 | Bb7 | 1 | = | G shapes
gospel | Db | Db | F7 | Bbm | Gb | Db/Ab | Bb7 | Eb7 | Ab7 | 1 | = | C shapes
hymn | Eb | Eb | Bb/D | Cm | Gm | Ab | Eb/G | Fm7 | Bb7 | 1 3 | = | D or C shapes
hymn | F | F | C | Dm | Am | Bb | F | Gm | C | 5 3 | = | C or D shapes
hymn | A | A | D | A | E | F#m | D | A | E | 2 0 | = | one barre, or G shapes
hymn | Bb | Bb | F | Gm | Dm | Eb | Bb | F | Bb | 3 | = | G shapes
celtic | Dm | Dm | C | Bb | C | Dm | F | C | Dm | 0 5 | = | as it lies, or A minor shapes
celtic | Em | Em | D | Em | Bm | C | G | D | Em | 0 | = | open but one
celtic | Bm | Bm | A | G | F#m | Bm | D | A | Bm | 2 | = | A minor shapes
celtic | Gm | Gm | F | Gm | Dm | Eb | Bb | F | Gm | 3 5 | = | E minor or D minor shapes
celtic | A | A | G | A | E | D | A | G | A | 0 2 | = | open
celtic | D | D | G | D | C | D | G | A | D | 0 | = | open
tango | Am | Am | E7 | Am | Dm | Bm7b5 | E7 | Am | E7 | 0 | = | open
tango | Cm | Cm | G7 | Cm | Fm | Dm7b5 | G7 | Cm | G7 | 3 | = | A minor shapes
tango | Gm | Gm | D7 | Cm | Gm | A7 | D7 | Gm | D7 | 3 5 | = | E minor or D minor shapes
calypso | Bb | Bb | Eb | F7 | Bb | 3 1 | = | G or A shapes
calypso | F | F | Bb | C7 | F | 3 5 1 | = | D, C or E shapes
calypso | Eb | Eb | Ab | Bb7 | Eb | 1 3 | = | D or C shapes
shanty | Em | Em | D | Em | D | G | D | Em | Em | 0 | = | open
shanty | Fm | Fm | Eb | Fm | Eb | Ab | Eb | Fm | Fm | 1 | = | E minor shapes
funk | E | E9 | E9 | A9 | E9 | 0 | = | grips, and E is there
funk | Em | Em7 | A7 | Em7 | A7 | 0 | = | open vamp
disco | Am | Am7 | Dm7 | G7 | Cmaj7 | Fmaj7 | Bm7b5 | E7 | Am7 | 0 | = | open
disco | Fm | Fm7 | Bbm7 | Eb7 | Abmaj7 | Dbmaj7 | Gm7b5 | C7 | Fm7 | 1 0 | = | E minor shapes
dream | D | Dmaj7 | Gmaj7 | Bm7 | A | 0 2 | = | open
dream | E | Emaj7 | Amaj7 | C#m7 | B | 2 4 0 | = | D or C shapes, or two barres
dream | B | Bmaj7 | Emaj7 | G#m7 | F# | 4 2 | = | G or A shapes
dream | Db | Dbmaj7 | Gbmaj7 | Bbm7 | Ab | 1 | = | C shapes
indie | F#m | F#m7 | E | Dmaj7 | A | 2 0 | = | E minor shapes, or one barre
indie | Cm | Cm7 | Bb | Abmaj7 | Eb | 3 | = | A minor shapes
indie | Bbm | Bbm | Ab | Gb | Ab | 1 | = | A minor shapes
metal | Em | E5 | F5 | G5 | F#5 | 0 | = | power chords on open E
metal | Dm | D5 | F5 | G5 | C5 | 0 | = | power chords
grunge | E | E5 | G5 | C5 | A5 | 0 | = | power chords on open E
punk | A | A5 | E5 | F#5 | D5 | 0 | = | power chords
fingers | C | C | C/B | Am7 | Am7/G | Fmaj7 | Fm6 | C/G | G7 | 0 | = | a bass line made for C shapes
fingers | G | G | G/F# | Em | Em/D | Cmaj7 | Cm6 | G/D | D7 | 0 | = | a bass line made for G shapes
fingers | B | B | B/A# | G#m | G#m/F# | Emaj7 | Em6 | B/F# | F#7 | 4 | = | G shapes
lullaby | F | F | Fmaj7 | F7 | Bb | Bbm | F/C | C7 | F | 3 5 | = | D or C shapes
lullaby | D | D | Dmaj7 | D7 | G | Gm | D/A | A7 | D | 0 2 | = | open but one
musical | E | E | Edim7 | F#m7 | B7 | G#m7 | C#7 | F#m7 | B7 | 4 2 | = | C shapes all open
rock | C#m | C#m | B | A | B | E | B | A | G# | 4 0 | = | A minor shapes, or barres
rock | Ebm | Ebm | Db | Cb | Db | 6 1 | 6 1 -1 | A minor or D minor shapes
rock | G#m | G#m | F# | E | F# | 4 | = | E minor shapes
pop | Gb | Gb | Bbm | Ebm | Cb | 6 4 | 6 4 -1 | C or D shapes
pop | Bb | Bbadd9 | F/A | Gm7 | Ebadd9 | 3 | = | G shapes
pop | A | Aadd9 | E/G# | F#m7 | Dadd9 | 2 0 | = | G shapes, or A with one barre
pop | E | Eadd9 | B/D# | C#m7 | Aadd9 | 4 2 0 | = | C or D shapes, or colours of open E
blues | Cm | Cm7 | Fm7 | Cm7 | Cm7 | Fm7 | Cm7 | Ab7 | G7 | 3 | = | A minor shapes
blues | D | D7 | G7 | D7 | D7 | G7 | D7 | A7 | D7 | 0 | = | open
bossa | A | Amaj7 | B9 | Bm9 | E7(b9) | C#m7(b5) | F#7(b9) | Bm6 | E9 | 0 | = | fingered grips
jazz | Dm | Dm6 | Em7(b5) | A7(b9) | Dm6 | Gm6 | Bb13 | A7(#5) | Dm6/9 | 0 | = | closed grips
jazz | Bb | Bbmaj9 | Gm9 | Cm9 | F13 | Dm9 | G13 | Cm9 | F13 | 0 | = | closed grips
soul | Db | Dbmaj9 | Bbm9 | Ebm9 | Ab13 | Dbmaj9 | Gbmaj9 | Fm7 | Bb13 | 0 1 | = | closed grips
"""
"""Sixty-six of further styles, written later still and before anything was changed for them; every
second one was kept apart."""

LATEST = """
jazz ballad | Ab | Abmaj7 | Fm7 | Bbm7 | Eb7 | Cm7 | F7 | Bbm7 | Eb7 | 0 1 | = | or G shapes
jazz ballad | Db | Dbmaj7 | Bb7(b9) | Ebm7 | Ab7 | Fm7 | Bb7 | Ebm7 | Ab7 | 0 | = | closed grips
rock | Bbm | Bbm | Gb | Db | Ab | 1 | = | A minor shapes
rock | Ebm | Ebm | Cb | Gb | Db | 6 -1 | -1 6 | E minor or A minor shapes
metal | Ebm | Eb5 | Gb5 | Ab5 | Cb5 | 0 -1 | -1 0 | one grip that slides
bossa | F# | F#maj7 | G#m7 | C#7 | F#maj7 | D#m7 | G#m7 | C#7 | F#maj7 | 2 4 0 | = | E or D shapes
bossa | Bm | Bm7 | E9 | Bm7 | C#m7(b5) | F#7(b9) | Bm7 | 0 | = | closed grips
pop | F# | F# | C#/E# | D#m7 | B | 2 4 6 | = | E, D or C shapes
pop | Db | Dbadd9 | Ab/C | Bbm7 | Gbadd9 | 1 | = | C shapes
soul | Eb | Ebmaj7 | Cm7 | Fm7 | Bb7 | 1 3 | = | D or C shapes
gospel | Ab | Ab | Ab7/C | Db | Ddim7 | Ab/Eb | F7 | Bbm7 Eb7 | Ab | 1 | = | G shapes
gospel | Db | Db | Gb | Ab7 | Db | Bbm | Ebm7 | Ab7 | Db | 1 | = | C shapes
hymn | F | F | C/E | Dm | Bb | F/C | C7 | F | 3 5 1 | = | D or C shapes
hymn | Eb | Eb | Ab | Eb/G | Fm7 | Bb7 | Eb | 1 3 | = | D or C shapes
hymn | D | D | G | D/F# | Em7 | A7 | D | 0 | = | open
carol | G | G | C | G | D | Em | Am | D7 | G | 0 | = | open
carol | Bb | Bb | Eb | F | Gm | Cm | F7 | Bb | 3 1 | = | G or A shapes
worship | E | E | B/D# | C#m7 | Aadd9 | Bsus4 | 0 2 4 | = | colours over open E
worship | B | B | F#/A# | G#m7 | Eadd9 | 4 2 | = | G or A shapes
worship | Ab | Ab | Eb/G | Fm7 | Dbadd9 | 1 | = | G shapes
bluegrass | A | A | D | A | E7 | 2 0 | = | G shapes for the runs; as plain A
bluegrass | B | B | E | B | F#7 | 4 2 | = | G shapes
bluegrass | G | G | C | G | D7 | F | 0 | = | open with a plain F
celtic | Em | Em | D | G | Bm | C | D | Em | 0 | = | open but one barre
celtic | Bm | Bm | A | G | A | D | A | Bm | 2 0 | = | A minor shapes, or one barre
celtic | F#m | F#m | E | D | E | A | E | F#m | 2 0 | = | E minor shapes
waltz | C | C | G7 | Am | F | Dm | G7 | C | 0 | = | first-lesson chords
waltz | Gm | Gm | D7 | Gm | Cm | F7 | Bb | D7 | Gm | 3 | = | E minor shapes
tango | Am | Am | E7 | Am | Dm | B7 | E7 | Am | 0 | = | open
tango | Cm | Cm | G7 | Fm | Cm | D7 | G7 | Cm | 3 | = | A minor shapes
flamenco | Am | Am | G | F | E | 0 | = | the cadence on open E
flamenco | F#m | F#m | E | D | C# | 2 | = | E minor shapes
flamenco | Em | Em | D | C | B | 0 2 | = | open but the B, or D minor shapes
surf | Am | Am | F | G | E7 | 0 | = | open but F
surf | E | E | A | E | B7 | C | D | E | 0 | = | open
rockabilly | A | A6 | D9 | A6 | E7 | 0 | = | sixths over open strings
rockabilly | E | E6 | A6 | E6 | B9 | 0 | = | grips, E is there
swing | G | G6 | E7 | A7 | D7 | G6 | G7 | C6 | C#dim7 | 0 | = | open sevenths
swing | F | F6 | D7 | Gm7 | C7 | F6 | F7 | Bb6 | Bdim7 | 0 3 5 | = | grips, or D or C shapes
swing | Dm | Dm6 | A7 | Dm6 | D7 | Gm6 | A7 | Dm6 | 0 | = | open or grips
blues | Eb | Eb7 | Ab7 | Eb7 | Bb7 | Ab7 | Eb7 | 1 3 | 1 3 -1 | D or C sevenths, or E tuned down
blues | G | G7 | C7 | G7 | D7 | C7 | G7 | 0 3 | = | open, or E shapes
blues | F | F7 | Bb7 | F7 | C7 | Bb7 | F7 | 1 3 5 | = | E shapes for the blues
blues | Bm | Bm7 | Em7 | Bm7 | G7 | F#7 | Bm7 | 2 0 | = | A minor shapes
blues | A | A9 | D9 | A9 | E9 | D9 | A9 | 0 | = | ninths on closed grips
funk | Gm | Gm7 | C9 | Gm7 | C9 | 0 3 | = | closed grips, or E minor
funk | D | D9 | D9 | G9 | D9 | 0 | = | closed grips
neo-soul | Bb | Bbmaj9 | Am7 | D7(#9) | Gm9 | Cm9 | F13 | 0 | = | closed grips
r&b | Fm | Fm9 | Bbm9 | Dbmaj7 | C7(#5) | 0 1 | = | closed grips
disco | Cm | Cm7 | Fm7 | Bb7 | Ebmaj7 | Abmaj7 | Dm7(b5) | G7 | 3 0 | = | A minor shapes
punk | Db | Db5 | Ab5 | Bb5 | Gb5 | 0 | = | one grip that slides
pop-punk | B | B5 | F#5 | G#5 | E5 | 0 | = | one grip that slides
grunge | Dm | D5 | F5 | Bb5 | A5 | 0 | = | power chords
power ballad | Bm | Bm | G | D | A/C# | Em | F#m | G | 2 0 | = | A minor shapes
power ballad | Ab | Ab | Fm | Db | Eb | Bbm | 1 | = | G shapes
country | F# | F# | B | C# | F# | 4 2 6 | = | D or E shapes, or C
country ballad | A | A | F#m | D | E | Bm7 | E7 | 2 0 | = | G shapes, or A with barres
country | Db | Db | Gb | Db | Ab7 | 1 | = | C shapes
fingers | Am | Am | Am/G | D/F# | F | C | G/B | Am | 0 | = | a bass line over open strings
fingers | Eb | Ebmaj7 | Bb/D | Cm7 | Cm7/Bb | Abmaj7 | Bb | 3 1 | = | the bass walks down
fingers | A | A | A/G# | F#m7 | F#m7/E | D | E7 | 2 0 | = | G shapes, whose bass walks down
children | F | F | Bb | F | C | 5 3 | = | C or D shapes
children | D | D | A7 | D | G | 0 | = | open
children | Eb | Eb | Bb7 | Ab | 3 1 | = | C or D shapes
klezmer | Dm | Dm | A7 | Gm | Dm | A7 | Dm | 0 | = | open but G minor
klezmer | Gm | Gm | D7 | Cm | Gm | Eb | D7 | 3 | = | E minor shapes
latin | Am | Am7 | D7 | Am7 | D7 | 0 | = | open vamp
latin | Bbm | Bbm | F7 | Bbm | Ebm | F7 | 1 | = | A minor shapes
rumba | E | E | A | B7 | A | 0 | = | open
samba | C | C6/9 | Em7(b5) | A7(b9) | Dm9 | G13 | C6/9 | 0 | = | closed grips
musical | Bb | Bb | D7/A | Gm | Eb | Ebm6 | Bb/F | F7 | 3 1 | = | G shapes
musical | Db | Db | Fm | Gb | Ab7 | Bbm | Ebm7 | Ab7 | 1 | = | C shapes
dream | F# | F#maj7 | B | C# | D#m | 4 2 | = | D shapes, or E
synth-pop | C#m | C#m | A | E | B | 4 0 2 | = | A minor shapes, or open E and A with barres
synth-pop | Fm | Fm | Db | Ab | Eb | 1 | = | E minor shapes
synth-pop | Gm | Gm | Eb | Bb | F | 3 | = | E minor shapes
indie | Ab | Abmaj7 | Cm7 | Dbmaj7 | Dbm6 | 1 | = | G shapes
indie | D | Dmaj7 | F#m7 | Gmaj7 | Gm6 | 0 | = | open with one or two barres
chanson | Ebm | Ebm | Bb7 | Ebm | Abm | Bb7 | Ebm | 6 1 | 6 1 -1 | A minor shapes, or D minor
chanson | C | C | E7/B | Am | C7/G | F | Fm6 | C/G | G7 | 0 | = | a bass line made for C shapes
"""
"""Eighty more, of which every one was looked at when it missed: ballads, vamps, E flat minor."""

LATEST_KEPT = """
jazz ballad | Eb | Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 | Bb7 | 0 | = | closed grips
jazz ballad | Ab | Abmaj7 | Db7 | Abmaj7 | F7(b9) | Bbm7 | Eb7(b9) | Abmaj7 | 0 | = | closed grips
jazz | F | Fmaj7 | Abdim7 | Gm7 | C7 | Am7 | D7(b9) | Gm7 | C7 | 0 | = | closed grips
jazz waltz | Gm | Gm7 | C7 | Fmaj7 | Bbmaj7 | Em7(b5) | A7(b9) | Dm7 | Dm7 | 0 | = | closed grips
bossa | F# | F#maj9 | D#m9 | G#m9 | C#13 | F#maj9 | 0 | = | closed grips
bossa | Eb | Ebmaj9 | Ebmaj9 | Fm9 | Bb13 | Gm7 | C7(b9) | Fm9 | Bb13 | 0 | = | closed grips
bossa | G | Gmaj7 | Am7 | D7 | Gmaj7 | Em7 | Am7 | D7 | 0 | = | open sevenths
rock | Ebm | Ebm | Db | Cb | Bb7 | 6 -1 1 | -1 6 1 | E minor tuned down, A minor at 6, or D minor
rock | Eb | Eb | Db | Ab | Eb | 1 -1 | 1 -1 | D C G shapes, or E D A tuned down
rock | Ab | Ab | Gb | Db | Ab | 1 4 | = | G shapes, or E shapes
rock | Bm | Bm | A | G | F#m | 2 0 | = | A minor shapes, or barres as they are
rock | G | G | Bb | C | G | 0 | = | open but one barre
rock | D | D | F | G | D | 0 | = | open with a plain F
metal | Em | E5 | Bb5 | E5 | F5 | E5 | 0 | = | power chords on open E
metal | Dm | D5 | D5 | C5 | Bb5 | 0 | = | power chords
pop | F# | F# | D#m | B | C# | 4 2 6 | 4 2 6 -1 | D, E or C shapes
pop | B | B | G#m | E | F# | 4 2 | = | G or A shapes
pop | Eb | Eb | Bb/D | Cm | Ab | 3 1 | = | C shapes walk down, or D
pop | Bbm | Bbm | Gb | Db | Ab | 1 | = | A minor shapes
pop | C | C | Em | F | Fm | 0 3 5 | = | open but F minor; or A or G shapes
pop | G#m | G#m | E | B | F# | 4 | = | E minor shapes
folk | A | A | E | F#m | D | E | A | 2 0 | = | G shapes, or one barre
folk | C#m | C#m | B | A | G#m | 4 | = | A minor shapes
folk | Gm | Gm | F | Eb | D | 3 5 | = | E minor shapes, or D minor
folk | Db | Db | Gb | Db | Ab | Gb | Ab7 | 1 | = | C shapes
folk | Dm | Dm | F | C | Gm | Dm | 0 | = | open but two
folk waltz | Bb | Bb | F7 | Bb | Eb | Bb | F7 | 3 1 | = | G shapes
country | Eb | Eb | Ab | Eb | Bb7 | Cm | 1 3 | = | D or C shapes
country | E | E | C#m | A | B7 | 0 2 4 | = | E with one barre; D or C shapes
country | F | F | Dm | Bb | C | 3 5 1 | = | D, C or E shapes
gospel | Eb | Eb | Eb7/G | Ab | Adim7 | Eb/Bb | C7 | F7 | Bb7 | 3 1 | = | C shapes for the bass line
gospel | Bb | Bb | Bb/D | Eb | Edim7 | Bb/F | G7 | Cm7 F7 | Bb | 3 | = | G shapes
gospel | G | G | G7/B | C | C#dim7 | G/D | E7 | A7 D7 | G | 0 | = | open
soul | Am | Am7 | Em7 | Am7 | Dm7 | Em7 | 0 | = | open sevenths
soul | Fm | Fm7 | Db | Eb | Cm7 | 1 | = | E minor shapes
soul | B | Bmaj7 | G#m7 | C#m7 | F#7 | 4 2 | = | G or A shapes
funk | Em | Em9 | A13 | Em9 | A13 | 0 | = | E minor is there
funk | Bb | Bb9 | Bb9 | Eb9 | Bb9 | 0 | = | closed grips
reggae | Gm | Gm | Cm | Gm | Dm | 3 5 0 | = | E minor shapes, or barres for the chop
reggae | F#m | F#m | Bm | F#m | E | 2 0 | = | E minor shapes, or barres
reggae | C | C | F | G | F | 0 | = | as written
blues | Ab | Ab7 | Db7 | Ab7 | Eb7 | Db7 | Ab7 | 4 1 | = | E shapes, or G
blues | C | C7 | F7 | C7 | G7 | F7 | C7 | 0 3 | = | open but F7, or A shapes
blues | F#m | F#m7 | Bm7 | F#m7 | C#7 | 2 0 | = | E minor shapes
blues | E | E7 | A7 | E7 | B7 | A7 | E7 | 0 | = | open
hymn | Ab | Ab | Db | Ab/C | Bbm7 | Eb7 | Ab | 1 | = | G shapes
hymn | A | A | D | A/C# | Bm7 | E7 | A | 2 0 | = | G shapes, or A with one barre
carol | F | F | Bb | F | Dm | Gm | C7 | F | 3 5 1 | = | D or C shapes
carol | D | D | A | Bm | F#m | G | D | A | 0 2 | = | two barres, or C shapes
celtic | A | A | G | A | G | D | A | 0 2 | = | modal, open
celtic | Gm | Gm | F | Gm | Dm | Eb | F | Gm | 3 5 | = | E minor shapes
shanty | C | C | G | F | C | Am | 0 | = | first-lesson chords
musical | Eb | Eb | Ebmaj7 | Eb7 | Ab | Abm | Eb/Bb | Bb7 | Eb | 1 3 | = | D or C shapes
musical | G | G | B7 | Em | C | Cm6 | G/D | D7 | 0 | = | open
fingers | D | D | D/C# | Bm | Bm/A | G | A | 0 2 | = | a bass line over open strings, or C shapes
fingers | F | F | F/E | Dm | Dm/C | Bb | C | 5 3 | = | the bass walks down
fingers | G | G | D/F# | Em | G/D | C | D7 | 0 | = | open
latin | Em | Em | B7 | Em | Am | B7 | Em | 0 | = | open
latin | Dm | Dm | Gm | A7 | Dm | 0 5 | = | open but one, or A minor shapes
lullaby | A | A | D | A | E7 | 0 2 | = | open
"""
"""Sixty written after those had been looked at; every second one was kept apart."""

NEWEST = """
reggae | G | G | C | D | C | 0 | = | chopped, and open anyway
reggae | Bbm | Bbm | Ebm | F7 | Bbm | 1 0 | = | A minor shapes, or barres to chop
soul | Ab | Ab | Fm7 | Bbm7 | Eb7 | 1 | = | G, Em7, Am7, D7
soul | Db | Db | Bbm | Ebm | Ab7 | 1 | = | C, Am, Dm, G7
bossa | F | Fmaj7 | G7 | Gm7 | C7 | Fmaj7 | D7(b9) | Gm7 | C7(b9) | 0 | = | closed grips
bossa | D | Em9 | A13 | Dmaj9 | B7(b9) | Em9 | A7(b9) | D6/9 | D6/9 | 0 | = | closed grips
gospel | Bb | Bb | Bb/D | Eb | Edim7 | Bb/F | G7 | Cm7 | F7 | 3 1 | = | G shapes and their basses
waltz | F# | F# | B | C# | F# | 4 2 | = | D shapes, or E shapes lower
blues | Bb | Bb7 | Eb7 | Bb7 | F7 | 1 3 0 | = | A shapes, G shapes, or barred sevenths
blues | F# | F#7 | B7 | F#7 | C#7 | 2 0 | = | E shapes with B7
blues | E | E7 | A7 | E7 | B7 | 0 | = | all open
indie | C#m | C#m | A | E | B | 4 2 | = | A minor shapes, or B minor shapes with one barre
indie | D | Dsus2 | A7sus4 | Bm7 | Gmaj7 | 0 | = | ringing
pop | B | B | F# | G#m | E | 4 | = | G, D, Em, C
pop | F#m | F#m | D | A | E | 2 0 | = | E minor shapes, or one barre
pop | Ebm | Ebm | B | Gb | Db | 6 4 | -1 6 4 | A minor, B minor shapes; E minor tuned down
celtic | Em | Em | D | Em | Bm | 0 | = | one barre
celtic | Gm | Gm | F | Gm | Dm | 5 3 | = | D minor, C, A minor; or E minor shapes
celtic | A | A | G | A | D | 0 | = | modal, open
country | Ab | Ab | Db | Eb7 | Ab | 1 | = | G shapes
country | D | D | C | G | D | 0 | = | open
bluegrass | B | B | E | F#7 | B | 4 2 | = | G shapes for the runs
bluegrass | Bb | Bb | F | Gm | Eb | 3 | = | G, D, Em, C
hymn | Eb | Eb | Ab | Bb | Cm | 3 1 | = | C shapes, or D shapes with one barre
hymn | F | F | C/E | Dm | Bb | F/C | C7 | F | 5 3 | = | C or D shapes over the bass line
theatre | C | C | E7 | Am | C7 | F | Fm | C/G | G7 | 0 | = | made for C shapes
songwriter | E | E | G#m | C#m | A | 4 2 | = | C, Em, Am, F; or D shapes with one barre
waltz | Am | Am | Dm | G7 | Cmaj7 | Fmaj7 | Bm7(b5) | E7 | Am | 0 | = | open round of fifths
flamenco | Am | Am | G | F | E | 0 | = | the open E at the end
swing | Dm | Dm6 | Gm6 | A7 | Dm6 | 0 | = | closed grips
"""


SUNG_BEHIND = """
gospel | Ab | Ab | Db | Ab | Eb | 1 | = | G shapes
gospel | Db | Db | Gb | Db | Ab7 | 1 | = | C shapes
gospel | Eb | Eb | Ab | Cm | Bb | 1 3 | = | D shapes, or C shapes
gospel | Ab | Ab | C7 | Fm | Db | Ab | Eb7 | 1 | = | G, B7, E minor, C, D7
bossa | F | Fmaj7 | Gm7 | C7 | Fmaj7 | D7(b9) | Gm7 | C7(b9) | 0 | = | closed grips
bossa | Am | Am9 | D7 | Gmaj9 | Cmaj7 | F#m7b5 | B7(b9) | E7 | 0 | = | closed grips
country | Bb | Bb | F | Gm | Eb | 3 1 | = | G shapes, or A shapes
country | Bb | Bb | Bb7 | Eb | Ebm | Bb | F7 | 3 1 | = | G shapes; the minor fourth is one barre
musical | C | C | Am | Dm | G | D | Bm | Em | A | 0 | = | a tone up, and still open
musical | Eb | Eb | Cm | Fm | Bb | F | Dm | Gm | C | 3 | = | C shapes, then D shapes
soul | Fm | Fm9 | Bbm9 | Fm9 | Bbm9 | 0 | = | closed grips
soul | Cm | Cm9 | Fm9 | Abmaj7 | G7(#9) | 0 | = | closed grips
punk | A | A5 | D5 | E5 | F#5 | 0 | = | power chords
punk | Bb | Bb5 | Eb5 | F5 | G5 | 0 | = | power chords
waltz | Eb | Eb | Ab | Bb7 | Eb | 1 3 | = | D shapes, or C shapes
waltz | F | F | Bb | C7 | F | Dm | Gm | C7 | F | 3 5 | = | D shapes, or C shapes
reggae | Bm | Bm | Em | Bm | F#m | 2 0 | = | A minor shapes, or barres cut short
reggae | Gm | Gm | Dm | Cm | Gm | 3 0 5 | = | E minor shapes, or barres cut short
latin | Gm | Gm | Cm | D7 | Gm | 3 | = | E minor shapes with B7
latin | Cm | Cm | Fm | G7 | Ab | 3 | = | A minor shapes with E7
hymn | Eb | Eb | Ab/Eb | Eb | Bb7 | Cm | Fm7 | Bb | Eb | 1 3 | = | D shapes, or C shapes
hymn | Ab | Ab | Eb/G | Fm | Db | Ab/Eb | Eb7 | Ab | 1 | = | G shapes over a walking bass
worship | B | B | F#/A# | G#m | E | 4 2 | = | G shapes over a walking bass
worship | Bb | Bb | Bb/D | Eb | Gm | F | 3 1 | = | G shapes
worship | Db | Db | Ab/C | Bbm | Gb | 1 4 6 | = | C, A or G shapes
blues | Ab | Ab7 | Db7 | Ab7 | Eb7 | 1 4 | 1 4 -1 | G or E shapes; A shapes tuned down
blues | Ab | Ab7 | Db9 | Ab7 | Eb9 | 0 4 1 | = | closed ninths, or E shapes
gospel | Db | Db | Bbm | Ebm | Ab7 | 1 | = | C shapes
musical | F | F | Dm | Gm | C7 | G | Em | Am | D7 | 5 0 3 | = | C shapes, then D shapes
punk | Eb | Eb5 | Bb5 | C5 | Ab5 | 0 -1 | = | power chords; an open E tuned down
waltz | Bb | Bb | Eb | F7 | Bb | 3 1 | = | G shapes, or A shapes
reggae | A | A | D | A | E | 0 2 | = | open, or G shapes
latin | Fm | Fm | Bbm | C7 | Fm | 1 3 | = | E minor shapes with B7
hymn | F | F | C/E | Dm | Bb | F/C | C7 | F | 3 5 | = | D or C shapes over a walking bass
worship | E | E | B/D# | C#m | A | 2 4 0 | = | D or C shapes
country | Bb | Bb | Cm | F | Bb | 3 1 | = | G shapes
bossa | Eb | Ebmaj9 | Fm9 | Bb13 | Ebmaj9 | 0 | = | closed grips
soul | Ebm | Ebm9 | Abm9 | Db13 | Ebm9 | 0 | = | closed grips
blues | Ab | Ab | Db | Eb | Ab | 1 4 | = | G shapes, or E shapes
worship | Ab | Fm | Db | Ab | Eb/G | 1 | = | E minor, C, G, D over F sharp
"""
"""Forty songs in styles and keys less covered, written down before they were run: odd lines are
looked at, even ones kept apart."""

MIXED = """
waltz | Eb | Eb | Bb7 | Cm | Ab | Eb | Ab | Bb7 | Eb | 3 1 | = | C shapes; D shapes have a B minor
campfire | F | F | Am | Bb | C | F | Dm | Gm | C | 5 3 | = | C shapes have one F, D shapes two
songwriter | Ab | Ab | Eb/G | Fm | Db | 1 | = | G, D over F sharp, E minor, C
indie folk | C#m | C#m | A | E | B | 4 2 | = | A minor, F, C, G; or B minor, G, D, A lower down
ballad | Db | Db | Ab/C | Bbm | Gb | Ab | 1 | = | C, G over B, A minor, F, G
ballad | B | B | F#/A# | G#m | E | 4 2 | = | G, D over F sharp, E minor, C
gospel | Ab | Ab | Ab7 | Db | Dbm | Ab/Eb | Eb7 | Ab | 1 | = | G shapes; C minor is a barre
hymn | Eb | Eb | Ab/Eb | Eb | Bb/D | Cm | Ab | Eb/Bb | Bb7 | 3 1 | = | C shapes, or D shapes
blues | G | G7 | C7 | G7 | D7 | 0 | = | open sevenths
blues | Bb | Bb7 | Eb7 | Bb7 | F7 | 1 3 | = | A7, D7, E7; or G7, C7, D7
rock | F# | F# | E | B | F# | 2 | 2 -1 | E, D, A; or G, F, C tuned down
americana | Gm | Gm | F | Eb | D7 | 3 | = | E minor, D, C, B7 walk down
bolero | Fm | Fm | Bbm | C7 | Fm | 1 | = | E minor, A minor, B7
session | A mixolydian | A | G | D | A | 0 | = | all open
reggae | Bm | Bm | Em | Bm | A | 2 0 | = | A minor shapes, or chops on barres
soul | Eb | Ebmaj7 | Cm7 | Fm7 | Bb7 | 1 3 | = | Dmaj7, Bm7, Em7, A7 open; or C shapes
country waltz | Bb | Bb | Bb7 | Eb | Bb | F7 | Bb | 3 1 | = | G, G7, C, D7
bluegrass | B | B | E | B | F#7 | 4 2 | = | G shapes for the runs
bluegrass | Bb | Bb | F | Gm | Eb | 3 | = | G, D, E minor, C
worship | Gb | Gb | Db/F | Ebm7 | Cb2 | 4 2 6 | 4 2 6 -1 | D shapes; E shapes drone
worship | E | E | B | C#m7 | A2 | 2 4 0 | = | D, C or droning E shapes
chanson | Am | Am | Dm6 | E7 | Am | F | Bm7b5 | E7 | Am | 0 | = | open
standard | F | Fmaj7 | D7(b9) | Gm7 | C7 | Am7 | D7 | Gm7 | C7 | 0 | = | closed grips
bossa | Dm | Dm9 | G13 | Cmaj9 | A7(b13) | 0 | = | closed grips
rockabilly | E | E | A7 | E | B7 | 0 | = | E belongs here
new wave | D | D5 | F5 | G5 | A5 | 0 | = | power chords
fingerstyle | Db | Db | Fm | Gb | Ab | 1 | = | C, E minor, F, G
lullaby | F | F | C/E | Dm | Bb | F/C | C7 | F | 5 3 | = | C shapes over a bass line; D shapes lower
shanty | F#m | F#m | E | F#m | C#m | 2 4 | = | E minor, D and one B minor; or D minor, C, A minor
klezmer | Gm | Gm | Cm | D7 | Gm | 3 | = | E minor, A minor, B7
pop | Bbm | Bbm | Gb | Db | Ab | 1 | = | A minor, F, C, G
pop | Ebm | Ebm | Cb | Gb | Db | 6 4 | -1 6 4 | A minor shapes high up, or E minor tuned down
country | E | E | A | E | B7 | C#m | F#m | B7 | E | 2 0 | = | D shapes have one barre, E shapes two
folk rock | A | A | C#m | D | E | F#m | D | E | A | 2 0 | = | G shapes with a B minor
doo-wop | Ab | Ab | Fm | Db | Eb7 | 1 | = | G, E minor, C, D7
air | Bb | Bb | Gm | Eb | F | Dm | Gm | Cm | F7 | 3 | = | G shapes with a B minor
air | D | D | Bm | G | A | Em | A7 | D | 0 | = | open but one
rock | G#m | G#m | E | B | F# | 4 | = | E minor, C, G, D
blues | Cm | Cm | Fm | G7 | Cm | 3 | = | A minor, D minor, E7
soft rock | Bb | Bbmaj7 | Gm7 | Ebmaj7 | F | 3 1 | = | Gmaj7, Em7, Cmaj7, D
"""
"""Forty songs of twenty styles, most in keys of flats, written down before they were run: odd lines
are looked at, even ones kept apart."""


@dataclass(frozen=True)
class PlayersSong:
    """A song, and the places (capo frets, tuned down negative) that players choose for it."""

    style: str
    key: str
    bars: str
    live: tuple[int, ...]
    studio: tuple[int, ...]
    why: str

    @property
    def song(self) -> Song:
        """The song in playing order."""
        return song(f"key: {self.key}\n| {self.bars} |")


def players_songs(table: str = TABLE) -> tuple[PlayersSong, ...]:
    """Every song of a table, in order."""
    songs = []
    for line in filter(None, table.split("\n")):
        style, key, *bars, live, studio, why = (part.strip() for part in line.split(" | "))
        frets = tuple(int(fret) for fret in live.split())
        other = frets if studio == "=" else tuple(int(fret) for fret in studio.split())
        songs.append(PlayersSong(style, key, " | ".join(bars), frets, other, why))
    return tuple(songs)


def kept_apart() -> tuple[PlayersSong, ...]:
    """Every other song: those not looked at while the weights were set."""
    return players_songs()[1::2]


def written_last() -> tuple[PlayersSong, ...]:
    """The songs that were written when the weights stood."""
    return players_songs(WRITTEN_LAST)


def later() -> tuple[PlayersSong, ...]:
    """The later songs that were looked at."""
    return players_songs(LATER)[::2]


def later_kept_apart() -> tuple[PlayersSong, ...]:
    """The later songs that were not."""
    return players_songs(LATER)[1::2]


def latest() -> tuple[PlayersSong, ...]:
    """The latest songs that were looked at."""
    return players_songs(LATEST) + players_songs(LATEST_KEPT)[::2]


def latest_kept_apart() -> tuple[PlayersSong, ...]:
    """The latest songs that were not."""
    return players_songs(LATEST_KEPT)[1::2]


def newest() -> tuple[PlayersSong, ...]:
    """The newest songs that were looked at."""
    return players_songs(NEWEST)[::2]


def newest_kept_apart() -> tuple[PlayersSong, ...]:
    """The newest songs that were not."""
    return players_songs(NEWEST)[1::2]


def sung_behind() -> tuple[PlayersSong, ...]:
    """The songs of less covered styles that were looked at."""
    return players_songs(SUNG_BEHIND)[::2]


def sung_behind_kept_apart() -> tuple[PlayersSong, ...]:
    """The songs of less covered styles that were not."""
    return players_songs(SUNG_BEHIND)[1::2]


def mixed() -> tuple[PlayersSong, ...]:
    """The songs of many styles that were looked at."""
    return players_songs(MIXED)[::2]


def mixed_kept_apart() -> tuple[PlayersSong, ...]:
    """The songs of many styles that were not."""
    return players_songs(MIXED)[1::2]


def by_another_writer() -> tuple[PlayersSong, ...]:
    """Forty songs by a writer who knew nothing of the program; nothing was changed for them."""
    path = Path(__file__).with_name("another_writers_places.txt")
    return players_songs(path.read_text("utf-8"))


def grids() -> tuple[PlayersSong, ...]:
    """Twelve grids between plain songs and jazz, written down before swing was told from standards
    by degrees."""
    path = Path(__file__).with_name("grids_places.txt")
    return players_songs(path.read_text("utf-8"))
