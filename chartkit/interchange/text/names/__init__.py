"""Which lines name a section, and which section a name means."""
