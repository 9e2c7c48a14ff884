"""The grips that players know, by kind of chord and by the string of the root.

Source: written down from memory of common practice, no book looked up; every grip is checked
by tests for its tones and by the hand model for its fingers.

Notation of ``TABLE``.  ``kind A, B`` opens one kind of chord or several that share grips,
named by the suffix of the symbol (``maj`` for none).  Lines ``6``, ``5`` and ``4`` list movable
grips whose lowest note is on that string; they are written with their lowest finger at fret 1
and slide to any fret.  A movable grip slid one fret lower leaves its lowest finger to the nut.
``=`` lists grips that stay at the nut, each after its chord's root.  Under ``kind slash`` the
``=`` lines give whole symbols, and movable lines begin with the symbol that they sound as
written.  A minus marks a second choice.  A grip is six frets from the bass side, x where a
string is damped.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from chartkit.theory.chord import Chord
from chartkit.theory.note import parse_note
from chartkit.theory.quality import BY_SPELLING, Quality, altered_quality
from chartkit.theory.shape_text import Frets, parse_shape

TABLE = """
kind maj
6 133211 -1x3211
5 x13331 -x43121
4 -xx3211 xx1343
= C x32010 D xx0232 E 022100 G 320003 320033 A x02220 F -xx3211

kind m
6 133111
5 x13321
4 xx1342 -xx3111
= A x02210 E 022000 D xx0231

kind 5
6 133xxx
5 x133xx
4 xx134x
= E 022xxx A x022xx D xx023x G -3x0033

kind 7
6 131211 -1x121x -131241
5 x13131 -x3231x
4 xx1323 -xx3241
= E 020100 022130 A x02020 x02223 D xx0212 G 320001 C x32310 B x21202 F# -xx4320

kind maj7
6 132211 1x221x
5 x13231 -x43111 -x1323x
4 xx1333 xx4321
= C x32000 D xx0222 E 021100 F xx3210 1x2210 G 320002 3x0002 A x02120

kind m7
6 131111 1x111x
5 x13121 -x1312x
4 xx1322
= A x02010 -x02213 E 020000 022030 022033 D xx0211 B -x20202 C# -x46600

kind m7(b5)
6 2x221x
5 x1212x
4 xx1222
= B x20201 A x01213 x0101x D xx0111 E -012030

kind dim7
6 2x121x
5 x2313x
4 xx1212
= E 012020 A x01212 B x20101 D xx0101

kind dim
6 1231xx
5 x1232x
4 xx1242
= E 0120xx D xx0131 A x0121x F -xx3101

kind aug
5 x3211x
4 xx3221
6 -4321xx
= C x32110 E 032110 A x03221 D xx0332 G 321003 B x21003 Bb -x10332

kind 6
6 2x132x
5 x13333 -x3221x
4 xx1313 -xx3231
= C x32210 A x02222 E 022120 G 320000 D xx0202 F 1x021x

kind m6
6 2x122x
5 x31213 -x3121x
4 xx1312
= A x02212 E 022020 D xx0201 B x20102 F -1x011x

kind 9
6 131213 -1x1213 -2121xx
5 x21222 x2122x
4 -xx2132
= C x32330 E 020102 G 320201 3x0201 A x02423 D -x54530

kind maj9
6 2131xx -1x2213
5 x2132x -x21322
= C x30000 E 021102 F 1x2213 G 3x0202 300202 A x02424 D x54220

kind m9
6 131113 -1x1113
5 x3133x -x31333
= E 020002 022032 A x02413 -x05500 B -x2022x D x5355x

kind 13
6 1x123x -131233
5 x21224 -x13133
= E 020122 020120 A x02022 Bb 6x678x

kind 7(13)
6 1x123x 131231
5 x13133
= E 020120 A x02022

kind 7(b9)
6 131212
5 x2121x x21212
4 xx2131
= E 020101 020131 A x02323 G -320101 C x32323 Eb x6565x

kind 7(#9)
6 131214 -1x1214
5 x2123x
= E 07678x x7678x

kind 7(#5), 7(b13)
6 1x122x
5 x1x132
4 xx1423
= B x21203 A x03021 D xx0312 G 321001 E 030110

kind sus4
6 133311
5 x13341
4 xx1344 -xx3311
= A x02230 E 022200 D xx0233 G 3x0013 330013 C x33011

kind sus2
6 135xxx
5 x13311
4 -xx1341
= A x02200 D xx0230 Eb xx1341 E 024400 F xx3011 G 300033 C x30013 x30033 x3001x

kind 7sus4
6 131311 1x131x
5 x13141
4 xx1324
= A x02030 x02233 E 020200 022230 D xx0213 G 330011 -3x0011 B x22200 -x24200

kind add9, 2
5 x13531 -x4314x
4 -xx3213
6 -1x3213
= F xx3213 F# xx4324 Bb x1031x C x32030 x32033 G 3x0203 320203 300203 D -x54230 A x02420
= E 024100 022102

kind 2
5 x13311
= A x02200 E 024400 D xx0230 Eb xx1341

kind 6/9
6 211122
5 x21122 -x2112x
4 -xx2122
= C x32230 x32233 G 320200 E 022122 A x02422 D x54200 F xx3233 Bb -x10011 Eb x65566 x6556x

kind 11, 9sus4
6 3x3211 1x1313
5 x1111x
= Eb x6666x F xx3343 F# 2x2100 D xx0010 E 000232 A x00003 G 3x0211

kind 13sus4
6 1x1333
5 x11113

kind m11
6 3x3311
5 x1112x
= A x00010 E 000000 D xx0011 B x20220 F# 2x2200 F 111111 G 333333 Ab 444444

kind m(add9)
6 -133113 -135111
4 xx3113
5 x4214x -x13521
= A x02410 E 024000 C -x31033 D x53230

kind maj7(#11)
6 2x331x
5 x1223x
4 xx1233
= F xx3200 1x2200 C x32002 D xx0122

kind 7(b5), 7(#11)
6 2x231x
5 x1213x
4 xx1223

kind 9(#11)
5 x21221

kind m(maj7)
6 132111
5 x13221
4 xx1332
= A x02110 E 021000 D xx0221 C x3100x

kind m(maj9)
6 132113
5 x3143x
= A x02414 E 021002

kind dim(maj7)
6 2x321x
5 x1222x
4 xx1232

kind m9(b5)
6 2x2214

kind maj7sus4
6 132311
5 x13241
4 xx1334
= A x02130 E 021200 C x33003 F xx3310

kind m6/9
6 -2x1224
5 x31233
= B x20122

kind maj13
6 1x223x -1x2233
5 x13233
= E 021122 -021120 A -x02122

kind maj7(13)
6 1x223x
5 x13233
= E 021120 A x02122

kind 13(#11)
6 12123x
5 x12133

kind 13(b9)
6 1x1232
5 -x21214
= E 020121

kind 7(b9,b13), 7(#5,b9)
5 x21213
6 1x1222

kind 7(#5,#9), 7alt, 7(#9,b13)
5 x21233
6 1x1224

kind 9(#5)
6 1x1223
5 x21223

kind maj9(#11)
5 x21321

kind m13
6 131131
5 x13123

kind 7sus2
5 x13111
4 xx1321
= A x02000 D xx0210

kind maj7(#5)
4 xx1433
6 1x222x
5 x4321x
= C x32100

kind add11
6 113211
5 x11331
4 xx1143
= C x33010 G 320013 A x00220 E 002100 D xx0032

kind m(add11)
= A x00210 E 002000

kind sus2sus4
= A x00200 C x30011 G 300013

kind slash
5 F/Bb x13211 Fm/Bb x13111 Fm7/Bb x11111
5 Ab/C x3111x Ab/Bb x1111x F/C x33211 Fm/C x33111 Eb/Bb x11343 Ebm/Bb x11342
5 Eb7/Bb x11323 Ebmaj7/Bb x11333 Ebm7/Bb x11322 Ab7/C x31112 Db/B x2x121 Db/C x33121 x3x121
5 Am/C x3221x Dm/C x3x231 Adim/C x3121x Abmaj7/C x31113 Fm7/C x31111 F7/C x31211
6 Cm7/F 131313 1x1313 Bb/F 113331 Bbm/F 113321 F/G 3x3211 Fm/Ab -4x3111
6 Eb/G 3x134x Eb7/G 3x132x Ebmaj7/G 3x133x Am/G 3x221x
6 Bb7/F 113131 Bbmaj7/F 113231 Bbm7/F 113121 Bbsus4/F 113341
6 Ab/Gb 2x111x Dbm/Gb 2x212x Dbmaj7/F -133121 Dbadd9/F 1x1121
5 Fsus4/C x33311 Ebsus4/Bb x11344 Gbadd9/Bb x1x122
4 F/E -xx2211 Bb/Eb xx1331 Bbm/Eb xx1321 Ddim/F xx3131
4 Dm/F xx3231 Fm/Eb xx1111 F/Eb xx1211 Db/Eb xx1121 Fm/E -xx2111
4 Am7/E -xx2213 Db/F xx3121 Bb/F -xx3331 Bbm/F -xx3321 Ab7/Eb xx1112 Abmaj7/Eb xx1113 C7/E xx2313
= C/E 032010 C/G 332010 3x2010 C/B x22010 D/F# 2x0232 200232 2x023x G/B x20003 x20033 x2003x
= Am/G 3x2210 302210 F/A x03211 E/G# 4x2100 422100 A/C# x4222x A/E 002220 Am/E 002210
= Em/B x22000 G/D xx0003 D/A x00232 Dm/F 1x023x Dm/C x30231 Dm/A x00231 C/Bb x1x010
= G/F 1x0003 Am/F# 2x2210 D/C x30232 Em/D xx0000 Em/G 322000 3220xx B/D# x6444x Am/C x32210
= Bb/D xx0331 x5333x G/A x00003 C/D xx0010 F/E 0x3211 Bm/A x04432 x00432 F#m/E 044222
= F#m/A x04222 Bm/D xx0432 B7/D# xx1202 G/F# 220003 D/C# x40232 E7/B x20100
= C#m/B x22120 A/G 3x2220 302220 E/D xx0100 D/E 000232 A/B x2222x G/C x30003
= A/D xx0220 C/F xx3010 D/G 3x0232 E/A x02100 Am7/G 3x2210 302210 Dm7/C x30211 Dm7/G 3x0211
= Am/D xx0210 Am7/E 002010 E7/G# 4x2130 D7/F# 2x0212 200212 G7/B x20001
= C7/E 032310 C7/Bb x1x010 G7/F 1x0001 G7/D xx0001 A7/E 002020 Em/F# 222000 Em7/D xx0030
= Cadd9/E 032030 Cadd9/G 332030 Dsus4/F# 2x0233 E/B x22100 D/B x20232 G/E 022033 C/A x02010
= A/G# 4x222x B/E 024442 0x4442 B/A x04442 Dmaj7/F# 2x022x 20022x Fmaj7/E 0x3210 -003210
= Fmaj7/A x03210 Fmaj7/C x33210 Cmaj7/E 032000 Cmaj7/G 332000 Gmaj7/B x20002
= Amaj7/E 002120 B7/A x01202 D7/C x30212 A7/G 302020 Em7/A x02030 x02033 -x00000
= Bm7/E 020202 Am7/D xx0213 Bm7/A x00202 F#m7/E 042222 C#m7/B x22120 D6/A x00202
= Am/G# 4x2210 Dm/C# x40231 Cm/B x21013 Em/C# x42000 Cm/A x01013 Dm/B x20231 Dm7/F 1x021x
= Cm/Bb x11013 Fmaj7/G 3x3210 Dmaj7/E 000222 Emaj7/F# 2x1100 B/A# x1444x
= Fm/G 3x3111 F#m/G# 4x4222 Dm/E 000231 E/D# xx1100 C#m/C x32120 Ebm/D xx0342 Em/D# xx1000
= Bbm/A x03321 Bm/A# x10432 Gmaj7/D xx0002 Emaj7/B x21100 Dmaj7/A x00222
= Em7/B x20000 Dm7/A x00211 Bm7/F# 200202 C7/G 3x2310 D7/A x00212 F#7/C# x44320
= B7/F# 2x1202 -201202 F7/A x01211
= F#/A# x14322 C/Ab 4x2010 432010 D/Bb x10232 F/C# x43211
= Dm/G 3x0231 E7/G# 4x0100
= Csus4/G 3x3011 Dsus4/A x00233 Esus4/B x22200 Gsus4/D xx0013 Asus4/E 002230
= Dadd9/F# 200230 2x0230 Eadd9/G# 4x2102 Fadd9/A x03011 x03213 Gadd9/B x20203 x20233
= Aadd9/C# x42200 Bbadd9/D xx0311 Dadd9/A x04230 Eadd9/B x22102 Gadd9/D xx0203 Aadd9/E 002420
= F/D xx0211 F/G 3x3211 F/C x33211 Bb/A x00331 Am/B x22210 Gm/Bb x10033 G/Bb x10003
"""

SECOND_CHOICE = 0.7
"""The strength of a grip that players know but use as a second choice (ours)."""

_OPEN = (4, 9, 2, 7, 11, 4)
_ROOTS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")


@dataclass(frozen=True, slots=True)
class KnownGrip:
    """One entry: the chord that it sounds as written, its frets, and how it may be used.

    ``strength`` is 1, less for a second choice.  ``movable`` says that it slides along the neck.
    """

    chord: Chord
    frets: Frets
    strength: float
    movable: bool


@cache
def known_grips() -> tuple[KnownGrip, ...]:
    """Every entry of the guitar's table, in order."""
    return tuple(grips_in_table(TABLE, _OPEN))


def grips_in_table(table: str, opened: tuple[int, ...]) -> Iterator[KnownGrip]:
    """The grips of a table for strings whose open notes are these pitch classes."""
    kinds: list[str] = []
    for line in filter(None, table.split("\n")):
        head, *words = line.split()
        if head == "kind":
            kinds = [word.rstrip(",") for word in words]
        else:
            yield from _line_entries(kinds, words, opened, movable=head != "=")


def _line_entries(
    kinds: list[str], words: list[str], opened: tuple[int, ...], *, movable: bool
) -> Iterator[KnownGrip]:
    name = ""
    for word in words:
        shape = word.lstrip("-")
        if shape.strip("x0123456789"):
            name = word
            continue
        frets = parse_shape(shape)
        strength = 1.0 if shape == word else SECOND_CHOICE
        for kind in kinds:
            root = name or _lowest(frets, opened)
            chord = chord_of_symbol(name) if kind == "slash" else _chord(root, kind)
            yield KnownGrip(chord, frets, strength, movable)


def _lowest(frets: Frets, opened: tuple[int, ...]) -> str:
    """The name of the lowest note, which is a movable grip's root."""
    string = next(string for string, fret in enumerate(frets) if fret is not None)
    return _ROOTS[(opened[string] + (frets[string] or 0)) % 12]


def _chord(root: str, kind: str, bass: str = "") -> Chord:
    return Chord(parse_note(root), _quality(kind), parse_note(bass) if bass else None)


def _quality(kind: str) -> Quality:
    """The quality of a kind, whose changes stand in parentheses: ``7(b9,b13)``."""
    if kind in BY_SPELLING:
        return BY_SPELLING[kind]
    base, _, changes = kind.rstrip(")").partition("(")
    return altered_quality(BY_SPELLING[base], tuple(changes.split(",")))


def chord_of_symbol(symbol: str) -> Chord:
    """The chord of a symbol of the table, ``D/F#`` or ``Am7``."""
    name, _, bass = symbol.partition("/")
    root = name[:2] if name[1:2] in ("b", "#") else name[:1]
    return _chord(root, name.removeprefix(root) or "maj", bass)
