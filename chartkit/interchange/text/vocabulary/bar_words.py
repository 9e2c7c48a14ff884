"""What bars are called, in the languages in which sheets are often written.  Source: common
practice, no source."""

BARS = (
    r"(?:bars?|measures?|takte?[nr]?|mesures?|compás|compases|compassos?|battut[ae]|misure|maat|"
    r"maten|takty|taktów|taktů|tahtia?)"
)
"""As alternatives of a pattern, which ends with a letter."""
