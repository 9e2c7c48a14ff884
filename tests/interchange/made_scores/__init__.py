"""Made-up lead sheets as MusicXML, each with the truth that it was made from.

| module | holds |
|---|---|
| `song.py` | the values of a song: what a musician knows of it, no XML |
| `symbols.py` | chord symbols: their tones, and the ways in which files write them |
| `lyrics.py` | invented words, cut into syllables |
| `tunes.py`, `compose.py` | melodies and chords; a whole song with its form |
| `style.py` | habits of programs and people that write scores |
| `write_part.py`, `write_bits.py`, `write_score.py` | a song in a style as XML |
| `truth.py` | what of a song must be in a chart; what differs |

    python -m tests.interchange.made_scores SEED COUNT [--show NUMBER]
"""
