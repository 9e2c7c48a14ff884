"""Where a process begins: so little is loaded here that Ctrl-C is heard from the first moment."""


def run() -> None:
    """Runs the program; broken off while it is still being loaded it ends as it does later."""
    try:
        from chartkit.cli.main import run as run_program

        run_program()
    except KeyboardInterrupt:
        import sys

        print("chartkit: broken off", file=sys.stderr)
        raise SystemExit(130) from None
