"""The grips that players know in drop D and double drop D, in D A D G A D, open G and open D.

Source: written down from memory of common practice, no book looked up; tests check the tones of
every grip.  The notation is that of ``grip_tables``.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from chartkit.fretboard.grip_tables import SECOND_CHOICE, KnownGrip, grips_in_table
from chartkit.fretboard.known_grips import known_grips
from chartkit.fretboard.tones import tones_of
from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.shape_text import Frets

DROP_D_TABLE = """
kind maj
= D 000232 E 222100 G 5x0003

kind m
= D 000231 E 222000

kind 5
6 111xxx
= D 000xxx

kind 7
= D 000212 E 220100 F# xx4320
6 3x121x

kind maj7
= D 000222 E 221100 G 5x0002

kind m7
= D 000211 E 220000
6 3x111x

kind sus4
= D 000233 E 2x2200 G -5x0013

kind 7sus4
= E 220200

kind sus2
= D 000230 G 500033

kind 6
= D 000202 E 2x2120 G 5x0000

kind add9
= G 5x0203

kind 9
= E 220102

kind aug
= E xx2110

kind m9
= E 220002

kind 11, 9sus4
= D 000010

kind add11
= D 000032

kind slash
4 Bb/F xx3331 Bbsus4/F xx3341
= D/F# 4x0232 400232 G/B x20003 A/E xx2220
= Gsus4/D 0x0013 xx0013 Gadd9/D 0x0203 xx0203 Bbadd9/D xx0311
"""
"""Grips that lie on the low string tuned to D; those that leave it out are a guitar's."""

DADGAD_TABLE = """
kind maj
= D 000200 004200 -054200 G 550020 520020 5x0020 -555000 A x02200 -x02242 C x32000
= F 333200 -xx3200 Bb x13300

kind 5
= D 000200

kind m
= D 003200 E 222000 A x02230 B x24400 G 555300 F# 444200

kind 7
= D 000230 004230 A x02000 G 5x3020

kind maj7
= D 000240 004240 G 5x4020 -554020 Bb x13200 C x32020

kind m7
= D 003230 E 220000 A x02030 B x24200 F# 444200

kind sus4
= D 000000 A x02200 G 550030

kind sus2
= D 002200 G 555000 5x0000 A x02222

kind 2, add9
= G 520000 -5x0000 C x32030 D 002200

kind 7sus4
= A x02000 x00000 D 000030 E 220200

kind 6
= F 333200 D 004220 000220 G 5x2020

kind m6
= D 003220

kind 6/9
= C x32000

kind slash
= D/F# 400200 4x0200 G/B x20020 A/C# x42200 D/A x04200 x00200 C/E 232000 G/D 000020 A/D 002240
= D/C# x40200 D/C x30200 D/G 5x0200 Em/G 522000 5x2000 Em/D 022000 Em7/D 020000 G/A x00020
"""
"""Grips that players take in D A D G A D, in the keys in which it is used most: D, G and A."""

OPEN_G_TABLE = """
kind maj
5 x11111
4 xx3213
= G x00000 D 020234 -xx0234 E xx2102

kind m
5 x22212 -x11441
4 xx3113
= G x00330 E 202002 D 020233 -xx0233

kind 5
5 x111xx
6 131xxx
= D 020xxx G x000xx

kind 7
5 x11114 -x14111
= G x00003 x03000 D xx0214 E xx2100

kind maj7
= G x00004 x04000 D xx0224 C x52002 Eb xx1030

kind m7
5 x11444
= E 202000 A x22012 D xx0213

kind 6
5 x11113 x13111
= G x00002 x02000 F xx3210

kind sus4
5 x11121
4 xx3313
= G x00010 D 020030

kind add9
5 x11311
= G x00200

kind 9
= G x03200

kind slash
5 Db/Ab x13123
= C/G x02012 C/E xx2012 G/D 000000 Am/G x02212 D/A x20234 D/F# xx4234
= Em/G x02002
"""
"""Grips that players take in D G D G B D: barres, the shapes of G's key, and over a barre the chord
a fourth higher."""

OPEN_D_TABLE = """
kind maj
6 111111
= D 000000

kind m
6 -222122
5 x31131
4 xx2122
= B x20020 A x02332 D 003300

kind 5
6 111xxx
= D 000x00

kind 7
6 111141
= D 000030 A x0214x x02142

kind maj7
= D 000040

kind 6
6 111131
= D 000020

kind sus4
6 111211
= D 000100

kind add9, 2
= D 002000

kind slash
6 Ab/Eb 131231
= G/D 020120
"""
"""Grips that players take in D A D F sharp A D: barres, and the fourth over the open strings."""

_D = 2
_DROP_D = (_D, 9, 2, 7, 11, 4)
_DOUBLE_DROP_D = (_D, 9, 2, 7, 11, _D)
_DADGAD = (_D, 9, 2, 7, 9, 2)
_OPEN_G = (38, 43, 50, 55, 59, 62)
_OPEN_D = (38, 45, 50, 54, 57, 62)
_WHOLE_STEP = 2
_WIDEST_RAISED = 3
"""How many frets apart the fingers of a grip may lie after its lowest string was tuned down
(ours)."""


@cache
def drop_d_grips() -> tuple[KnownGrip, ...]:
    """The entries for a guitar with its lowest string tuned down to D.

    Its own table; those of the guitar's table that leave the lowest string out and do not have D as
    their root, which would ring below; and those on the lowest string, pressed there two frets
    higher, if they stay at the nut or are shells that leave the fifth string out, and four frets
    still hold them.
    """
    upper = (
        grip
        for grip in known_grips()
        if grip.frets[0] is None and (grip.movable or _bass(grip.chord) != _D)
    )
    raised = (
        replace(grip, frets=(grip.frets[0] + _WHOLE_STEP, *grip.frets[1:]))
        for grip in known_grips()
        if grip.frets[0] is not None and (not grip.movable or grip.frets[1] is None)
    )
    near = (grip for grip in raised if _span(grip.frets) <= _WIDEST_RAISED)
    return (*grips_in_table(DROP_D_TABLE, _DROP_D), *upper, *near)


DOUBLE_DROP_D_TABLE = """
kind maj
= D 000234 G 520000 520030

kind 5
= D 000230 00023x
"""
"""Grips that lie on both outer strings tuned to D."""


@cache
def double_drop_d_grips() -> tuple[KnownGrip, ...]:
    """The entries for a guitar with both outer strings tuned down to D.

    A short table, and drop D's grips with the highest string pressed two frets higher, left open
    where the chord has a D, or else silent, a second choice.
    """
    lowered = (
        lowered_grip for grip in drop_d_grips() for lowered_grip in _first_string_lowered(grip)
    )
    return (*grips_in_table(DOUBLE_DROP_D_TABLE, _DOUBLE_DROP_D), *lowered)


def _first_string_lowered(grip: KnownGrip) -> Iterator[KnownGrip]:
    """A drop D grip as it lies when the highest string is tuned down as well."""
    *others, highest = grip.frets
    if highest is None:
        yield grip
        return
    ways = [(highest + _WHOLE_STEP, 1.0), (None, SECOND_CHOICE)]
    if highest == 0:
        ways.append((0, 1.0))
    for fret, strength in ways:
        frets = (*others, fret)
        if _span(frets) <= _WIDEST_RAISED and _sounds(grip.chord, frets):
            yield replace(grip, frets=frets, strength=grip.strength * strength)


def _sounds(chord: Chord, frets: Frets) -> bool:
    """Whether frets in double drop D sound all that a chord needs, and nothing else."""
    tones = tones_of(chord)
    pairs = zip(_DOUBLE_DROP_D, frets, strict=True)
    sounding = [(opened + fret) % 12 for opened, fret in pairs if fret is not None]
    inside = tones.required <= set(sounding) <= tones.allowed | {tones.bass}
    return inside and len(sounding) >= tones.fewest_strings


def _span(frets: Frets) -> int:
    """From the lowest pressed fret to the highest, in frets."""
    pressed = [fret for fret in frets if fret]
    return max(pressed, default=0) - min(pressed, default=0)


@cache
def dadgad_grips() -> tuple[KnownGrip, ...]:
    """The entries for D A D G A D.

    Open strings drone over some of them: they may sound notes that are not in the chord, and leave
    its third out.
    """
    return tuple(grips_in_table(DADGAD_TABLE, _DADGAD))


@cache
def open_chord_grips() -> dict[tuple[int, ...], tuple[KnownGrip, ...]]:
    """The entries for each tuning to an open chord, by the MIDI numbers of its strings."""
    tables = ((_OPEN_G, OPEN_G_TABLE), (_OPEN_D, OPEN_D_TABLE))
    return {opened: tuple(grips_in_table(table, opened)) for opened, table in tables}


def _bass(chord: Chord) -> int:
    return pitch_class_of(chord.root if chord.bass is None else chord.bass)
