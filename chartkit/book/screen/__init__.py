"""Books for a screen: one HTML file a player, with pages and fonts inside."""
