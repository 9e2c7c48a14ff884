"""From an arrangement to pages of measured and placed items; nothing here draws."""
