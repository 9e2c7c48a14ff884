"""What words above a song say: settings, labels, titles."""
