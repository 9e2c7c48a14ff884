"""Where a process begins: this loads nothing, so that Ctrl-C works from the first moment."""


def run() -> None:
    """Runs the program; Ctrl-C while it loads ends it in one line, as it does later."""
    try:
        from chartkit.cli.main import run as run_program

        run_program()
    except KeyboardInterrupt:
        import sys

        print("chartkit: stopped", file=sys.stderr)
        raise SystemExit(130) from None
