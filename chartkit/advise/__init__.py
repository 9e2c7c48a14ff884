"""Advice from computed fingerings: capo, second guitar, singer, strings.

Which function answers which question; every one returns frozen values and prints nothing:

- where the capo goes: ``ranking.rank_options(chart, instrument, settings, own, boards)``
  gives an ``Advice``: options best first, each with shapes, voicings, measures, score and
  a reason, and a verdict.  One option alone: ``ranking.played_option(song, option)``.
- what is worth trying instead: ``substitutions.substitutions_for(advice)``; how hard the song
  is, and what a change of key does: ``Advice.difficulty`` and ``Advice.modulations``.
- a second guitar: ``beside.rank_beside(song, first, sung)``, where ``first`` comes from
  ``register.part_of(song, played, instrument)`` for the first guitar's option or chart;
  each has a value to rank by and a reason; several over the neck:
  ``beside.spread_guitars(song, guitars)``.
- a singer: ``singer.rank_keys(song, sung, singer.voice_of(comfort))``, with ``VOICES`` and
  ``VOICES_SOURCE`` for named voices, or ``singer.voice_that_sat_well``.
- the strings: ``strings.report_strings(instrument, option, reference_hz)``.
- a player's own shapes: ``requests.own_shapes(chart, instrument)``; those passed over, and
  why: ``requests.unusable_shapes(own, instrument, home)``.
- a song in playing order, for all of these: ``song.song_of(chart)``.

What the player allows and all numbers are in ``settings.AdviceSettings``.  Voicings are
kept between runs by ``BoardStore(cache_folder())`` from ``chartkit.fretboard``, given as
``boards``; without it they last for the run.
"""
