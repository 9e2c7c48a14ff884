"""The command line: arguments, files, exit codes, and how diagnostics are shown."""
