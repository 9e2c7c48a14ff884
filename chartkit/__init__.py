"""chartkit: plain-text song charts, rewritten for capo and engraved as two-line PDFs."""

__version__ = "0.1.0"
