"""Makes the desk's answers: reads what is asked for, does the work in threads, returns JSON."""

import json
from asyncio import Queue, get_running_loop
from collections.abc import AsyncIterator, Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse

from chartkit.files import Unusable

Asked = TypeVar("Asked", bound=BaseModel)

PAGES = ThreadPoolExecutor(1, "desk-pages")
"""Charts are worked on one after the other: more at once would only wait for each other."""
ADVICE = ThreadPoolExecutor(1, "desk-advice")
"""The adviser's answers do not delay the page for the next keystroke."""
KEEPER = ThreadPoolExecutor(1, "desk-files")
"""What is typed is kept without waiting for a page."""
SLOW = ThreadPoolExecutor(1, "desk-slow")
"""Work that may take seconds has a thread of its own, so that the page stays up to date."""
BOOKS = ThreadPoolExecutor(1, "desk-books")
"""Books may take minutes, in which the night goes on changing."""


async def slowly(work: Callable[..., Any], *given: object) -> Response:
    """The answer of work that may take seconds."""
    return await work_response(work, *given, worker=SLOW)


async def run_beside(
    work: Callable[..., Any], *given: object, worker: ThreadPoolExecutor = PAGES
) -> Any:
    """What the work returns, done beside the loop that answers requests."""
    return await get_running_loop().run_in_executor(worker, partial(work, *given))


def answering(
    kind: type[Asked], work: Callable[[Asked], object], worker: ThreadPoolExecutor = PAGES
) -> Callable[[Request], Awaitable[Response]]:
    """An endpoint that reads what is asked for in JSON and answers with what work returns."""

    async def endpoint(request: Request) -> Response:
        asked = await request_in(kind, request)
        if isinstance(asked, Response):
            return asked
        return await work_response(work, asked, worker=worker)

    return endpoint


async def request_in(kind: type[Asked], request: Request) -> Asked | Response:
    """What a request's JSON asks for, or the answer if it asks for nothing of that kind."""
    try:
        return kind.model_validate_json(await request.body())
    except ValidationError as reason:
        first = reason.errors()[0]
        place = ".".join(map(str, first["loc"]))
        return plain_refusal(400, f"{place}: {first['msg']}".lstrip(": "))


def answered_in_lines(work: Callable[[Callable[[str, int, int], None]], object]) -> Response:
    """An answer in lines of JSON: the progress, and at the end the result."""
    loop, lines = get_running_loop(), Queue[bytes]()

    def say(line: object) -> None:
        made = json.dumps(line, ensure_ascii=False).encode("utf-8", "replace") + b"\n"
        loop.call_soon_threadsafe(lines.put_nowait, made)

    def run() -> None:
        try:
            say({"made": work(lambda doing, at, of: say({"doing": doing, "at": at, "of": of}))})
        except (Unusable, ValueError) as reason:
            say({"reason": str(reason), "hint": getattr(reason, "hint", "")})
        except Exception:
            say({"reason": "chartkit itself failed on this", "hint": ""})
            raise
        finally:
            loop.call_soon_threadsafe(lines.put_nowait, b"")

    async def stream() -> AsyncIterator[bytes]:
        BOOKS.submit(run)
        while line := await lines.get():
            yield line

    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    return StreamingResponse(stream(), media_type="application/x-ndjson", headers=headers)


async def work_response(
    work: Callable[..., object], *given: object, worker: ThreadPoolExecutor = PAGES
) -> Response:
    """The answer with the work's result, or with the reason why it cannot be done."""
    try:
        made = await run_beside(work, *given, worker=worker)
    except Unusable as reason:
        return plain_refusal(422, str(reason), reason.hint)
    except ValueError as reason:
        return plain_refusal(422, str(reason))
    return made if isinstance(made, Response) else Plain(made)


def plain_refusal(code: int, words: str, hint: str = "") -> Response:
    """Why something cannot be done, in a line, and a hint."""
    return Plain({"reason": words, "hint": hint}, code)


class Plain(JSONResponse):
    """JSON that holds any text: half of a surrogate pair becomes U+FFFD."""

    def render(self, content: object) -> bytes:
        """The JSON in UTF-8."""
        return json.dumps(content, ensure_ascii=False).encode("utf-8", "replace")
