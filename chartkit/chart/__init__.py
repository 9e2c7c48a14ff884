"""The chart as a frozen value: what the writer wrote, with the place of each part."""
