"""Pages to PDF: this room only draws what layout has placed."""
