"""The desk: the whole job in a browser, served from this machine to itself."""
