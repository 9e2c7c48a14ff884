"""The shapes beginners' books print: common practice, written down from memory, no source.

Each line is a chord and the shapes players accept for it, the usual one first.  They are
data for the fit of the weights and for the test of the search.
"""

from chartkit.theory.shape_text import Frets, parse_shape

TABLE = """
C x32010
A x02220
G 320003 320033
E 022100
D xx0232
F 133211 xx3211
B x24442
Bb x13331
Eb x68886 xx1343
Ab 466544
Db x46664
F# 244322
Am x02210
Em 022000
Dm xx0231
Bm x24432
F#m 244222
C#m x46654
Gm 355333
Cm x35543
Fm 133111
Bbm x13321
G#m 466444
Ebm x68876 xx1342
A7 x02020 x02223
B7 x21202
C7 x32310
D7 xx0212
E7 020100 022130
G7 320001
F7 131211
F#7 242322 xx4320
Bb7 x13131
Ab7 464544
Eb7 x68686 xx1323
C#7 x46464 x4342x
Cmaj7 x32000
Dmaj7 xx0222
Emaj7 021100
Fmaj7 xx3210 x33210 1x2210 132211
Gmaj7 320002 3x0002
Amaj7 x02120
Bbmaj7 x13231
Bmaj7 x24342
Dbmaj7 x46564 x43111
Am7 x02010 x02213
Em7 020000 022030 022033
Dm7 xx0211
Bm7 x24232 x20202
F#m7 242222
C#m7 x46454
Gm7 353333
Cm7 x35343
Fm7 131111
G#m7 464444
Bbm7 x13121
Asus4 x02230
Asus2 x02200
Dsus4 xx0233
Dsus2 xx0230
Esus4 022200
Gsus4 330013 3x0013 33001x
Csus4 x33011 x33010
Csus2 x30013 x30033 x3001x
Fsus4 133311
Bsus4 x24452
E7sus4 020200 022230
A7sus4 x02030 x02233
D7sus4 xx0213
G7sus4 330011 353533
C6 x32210
A6 x02222
E6 022120
G6 320000
D6 xx0202 x00202
Am6 x02212
Em6 022020
Dm6 xx0201
C9 x32330 x32333
E9 020102
G9 320201 3x0201
B9 x21222
A9 x02423 x05455
Cadd9 x32030 x32033
Gadd9 320203 3x0203 300203
Eadd9 024100 022102
Aadd9 x02420
Bdim7 x2313x x20101
Ddim7 xx0101
Adim7 x01212
Edim7 xx2323 012020 0120x0
Bm7b5 x2323x x20201
Am7b5 x01213 x0101x
Eaug 032110
Caug x32110 x3211x
Aaug x03221 x0322x
Gaug 321003
Daug xx0332
E5 022xxx
A5 x022xx
D5 xx023x
G5 355xxx
C5 x355xx
F5 133xxx
B5 x244xx
C/G 332010 3x2010
C/E 032010
D/F# 200232 2x0232
G/B x20003 x20033 x2003x
Am/G 3x2210 302210
A/C# x42220 x4222x
E/G# 4x2100 422100
D/A x00232
A/E 002220
Am/E 002210
Em/B x22000
G/D xx0003 xx0033
F/C x33211
F/A x03211
Am/C x32210 x35555
Em/G 322000 3220xx
"""


def common_shapes() -> dict[str, tuple[Frets, ...]]:
    """Chord symbols and the shapes accepted for each, the usual one first."""
    lines = (line.split() for line in TABLE.split("\n") if line)
    return {chord: tuple(parse_shape(shape) for shape in shapes) for chord, *shapes in lines}
