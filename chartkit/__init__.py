"""chartkit: plain-text song charts, transposed for a capo and engraved as PDFs."""

__version__ = "0.1.0"
