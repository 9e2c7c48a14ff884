"""Tests of fretboards, voicings and fingerings."""
