"""A coverage-guided fuzzer over one reader: ``python -m tests.fuzz chart FOLDER -runs=100000``.

``incoming`` is the reader of files from elsewhere: put a few small scores, texts or PDFs into the
folder to begin with.

Needs atheris (``pip install atheris``; no test dependency, since it is not built for every
Python).  Inputs that reach new code are kept in the folder; a failing one is written as
``crash-...``, a slow one as ``timeout-...``.  Further options are libFuzzer's own.
"""

import sys

import atheris

with atheris.instrument_imports(include=["chartkit", "lark"]):
    # These are otherwise loaded only when they are needed, and then not watched.
    import chartkit.interchange.musicxml.read
    import chartkit.interchange.pdf_text.read
    import chartkit.interchange.text.read  # noqa: F401
    from tests.fuzz.readers import READERS, incoming


def main() -> None:
    """Runs the fuzzer on the reader named first."""
    name, *options = sys.argv[1:]
    if name not in (*READERS, "incoming"):
        sys.exit(f"no reader is called {name}: {', '.join(READERS)}, incoming")
    reader = READERS.get(name)

    def one(data: bytes) -> None:
        if reader is None:
            incoming(data)
        else:
            reader(data.decode("utf-8", "replace"))

    limits = ["-timeout=10", "-rss_limit_mb=1500", "-max_len=4000"]
    atheris.Setup([sys.argv[0], *limits, *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
