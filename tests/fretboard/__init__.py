"""What is claimed of fretboards, voicings and fingerings."""
