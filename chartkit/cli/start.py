"""The start of a process. It loads nothing, so that Ctrl-C works from the first moment."""


def run() -> None:
    """Runs the program; Ctrl-C while it loads ends it in one line, as it does later."""
    try:
        from chartkit.cli.main import run as run_program

        run_program()
    except KeyboardInterrupt:
        import sys

        print("chartkit: stopped", file=sys.stderr)
        raise SystemExit(130) from None
    finally:
        _deaf_to_interrupts()


def _deaf_to_interrupts() -> None:
    """Ignores Ctrl-C from now on: the work is done, and Python would print a traceback while it
    ends."""
    import signal
    import sys
    from contextlib import suppress

    with suppress(OSError, ValueError, AttributeError):
        sys.stdout.flush()
    try:
        sys.stderr.flush()
    except (OSError, ValueError, AttributeError):
        sys.stderr = None  # what nobody can read changes no exit code
    with suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)
