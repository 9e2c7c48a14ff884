"""Lines that name sections, ask for earlier ones, or give their order."""
