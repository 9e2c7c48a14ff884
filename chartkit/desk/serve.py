"""Starting the desk: a socket on loopback, a key, the server, the browser."""

import os
import secrets
import socket
import sys
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from threading import Thread

from chartkit.desk.starter import offered

_LOOPBACK = "127.0.0.1"
_FIRST_PORT, _PORTS = 49152, 16384
"""The ports that nobody is assigned (RFC 6335, section 6)."""
_LAST_ANSWERS_SECONDS = 1
_TURN_SECONDS = 0.001
"""The time slice of a thread that makes pages: typing must not wait."""


def serve(root: Path, port: int, with_browser: bool, say: Callable[[str], None]) -> None:
    """Serves the desk of a folder until it is interrupted; prints its address.

    Port 0 is the folder's usual one, or any free one.  Raises OSError where the port is taken.
    """
    sys.setswitchinterval(_TURN_SECONDS)
    with _listening(root, port) as listening:
        port = listening.getsockname()[1]
        key = secrets.token_urlsafe(24)
        address = f"http://{_LOOPBACK}:{port}/?key={key}"
        say(f"The desk is open: {address}")
        say("Ctrl-C ends it.")
        if with_browser:
            if offer := offered(root):
                say(offer)
            Thread(target=webbrowser.open, args=[address], daemon=True).start()
        # The rooms are loaded while the browser starts, which takes about as long; what it asks for
        # meanwhile waits at the socket.
        import uvicorn

        from chartkit.desk.routes import desk_app

        config = uvicorn.Config(
            desk_app(root, key, port),
            log_level="critical",
            access_log=False,
            ws="none",
            timeout_graceful_shutdown=_LAST_ANSWERS_SECONDS,
            server_header=False,
        )
        uvicorn.Server(config).run(sockets=[listening])


def usual_port(root: Path) -> int:
    """The port of a folder's desk, the same at every start.

    What a browser keeps is kept by address: the desk's files, the song that was open, the voice and
    the look that were chosen, and words typed as the desk ended.
    """
    return _FIRST_PORT + int(sha256(os.fsencode(root.resolve())).hexdigest(), 16) % _PORTS


def _listening(root: Path, port: int) -> socket.socket:
    """A socket at which a browser that comes early waits."""
    if port == 0:
        with suppress(OSError):
            return _bound(usual_port(root))
    return _bound(port)


def _bound(port: int) -> socket.socket:
    listening = loopback_socket()
    try:
        listening.bind((_LOOPBACK, port))
        listening.listen()
    except OSError:
        listening.close()
        raise
    return listening


def loopback_socket() -> socket.socket:
    """A socket to be bound, whose connections send what is written at once.

    asyncio sees to that where a socket names TCP as its protocol.  Else the body of an answer waits
    some 40 ms until the browser has acknowledged its head.
    """
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if os.name == "posix":  # elsewhere two programs could then share a port
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    return made
