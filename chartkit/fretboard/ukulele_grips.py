"""The grips that ukulele players know at the nut, tuned G C E A with the G string high.

Source: written down from memory of common practice, no book looked up; a test checks every grip
for its tones.  The notation is that of ``grip_tables``; strings in the player's order, G first.
"""

from collections.abc import Mapping
from functools import cache

from chartkit.fretboard.grip_tables import grips_in_table
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.theory.shape_text import Frets

TABLE = """
kind maj
= C 0003 Db 1114 D 2220 Eb 0331 E 4442 -1402 F 2010 F# 3121 G 0232 Ab 5343 -1343
= A 2100 Bb 3211 B 4322

kind m
= C 0333 C# 1104 -6444 D 2210 Eb 3321 E 0432 F 1013 F# 2120 G 0231 G# 4342 -1342
= A 2000 Bb 3111 B 4222

kind 7
= C 0001 C# 1112 D 2223 Eb 3334 E 1202 F 2310 -2313 F# 3424 G 0212 Ab 1323
= A 0100 Bb 1211 B 2322

kind m7
= C 3333 C# 1102 -4444 D 2213 Eb 3324 E 0202 F 1313 F# 2424 G 0211 G# 1322 A 0000
= Bb 1111 B 2222

kind maj7
= C 0002 Db 1113 D 2224 Eb 3335 E 1302 F 2413 -5500 G 0222 Ab 1333 A 1100 Bb 3210
= B 4321

kind 6
= C 0000 D 2222 E 1102 F 2213 G 0202 A 2424 Bb 0211

kind sus4
= C 0013 D 0230 E 4400 F 3011 G 0233 A 2200 Bb 3311

kind sus2
= C 0233 D 2200 F 0013 G 0230 A 2452 Bb 3011
"""
OPEN = (7, 0, 4, 9)


@cache
def ukulele_grips() -> Mapping[Tones, Mapping[Frets, float]]:
    """The grips of each chord with their strengths, 0 to 1."""
    grips: dict[Tones, dict[Frets, float]] = {}
    for entry in grips_in_table(TABLE, OPEN):
        grips.setdefault(tones_of(entry.chord), {})[entry.frets] = entry.strength
    return grips
