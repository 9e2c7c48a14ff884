"""The text of PDF pages as lines that know where each letter stands."""
