"""What every request has to pass, and what every answer carries."""

import asyncio
import time
from collections.abc import Awaitable, Callable
from urllib.parse import SplitResult, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY = 8_000_000
LARGEST_PHOTOS = 48_000_000
PHOTO_PATH = "/paper"
LONGEST_ADDRESS = 4_000
STALLED_S = 15.0
"""How long a body may pause."""
BODY_S = 120.0
"""How long all of a body may take."""
FORMS = frozenset(("/", "/compare", "/fits", "/list", "/order", "/paper"))
"""Pages that do no work as long as nothing is asked: other sites may link to them."""
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_ANSWER = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


class _RefusedError(Exception):
    """A body is refused while it comes in: status, and a sentence."""


class Guard:
    """Refuses other hosts, other origins, too much and too slow; adds the headers of safety.

    Parameters
    ----------
    app
        The application behind it.
    hosts
        Names by which the page may be called, without the port.
    """

    def __init__(self, app: ASGIApp, hosts: frozenset[str]) -> None:
        self._app = app
        self._hosts = hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer why not."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        guarded = _with_headers(send)
        refusal = self._refusal(scope)
        if refusal is not None:
            await PlainTextResponse(refusal[1], refusal[0])(scope, receive, guarded)
            return
        started = False

        async def sending(message: Message) -> None:
            nonlocal started
            started = True
            await guarded(message)

        try:
            await self._app(scope, _limited(receive, _most(scope)), sending)
        except _RefusedError as problem:
            status, sentence = problem.args
        except asyncio.CancelledError:  # the page ends, and has waited for this long enough
            status, sentence = 503, "the page is being closed"
        except ClientDisconnect:  # nobody is left to be answered
            return
        else:
            return
        if not started:
            answer = PlainTextResponse(sentence, status, {"connection": "close"})
            await answer(scope, receive, guarded)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        host = _split(f"//{headers.get('host', '')}").hostname or ""
        if host not in self._hosts:
            return 421, "this page is not served under that name"
        if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > LONGEST_ADDRESS:
            return 414, "that address is too long"
        is_read = scope["method"] in ("GET", "HEAD")
        ours = f"{scope['scheme']}://{headers['host']}".lower()
        origin = headers.get("origin", ours if is_read else "").lower()
        if origin != ours:
            return 403, "forms are taken from this page only"
        if _comes_from_elsewhere(headers, ours) and not _is_form(scope):
            return 403, "another site asked for that; open this page itself and ask there"
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdigit()) or _is_above(length, _most(scope)):
            return 413, _too_large(_most(scope))
        return None


def _split(address: str) -> SplitResult:
    """Return the parts of an address, all empty if it is none."""
    try:
        return urlsplit(address)
    except ValueError:
        return urlsplit("")


def _comes_from_elsewhere(headers: Headers, ours: str) -> bool:
    """Tell whether a browser says that another site made it ask."""
    if headers.get("sec-fetch-site", "none").lower() not in ("none", "same-origin"):
        return True
    referer = headers.get("referer")
    if referer is None:
        return False
    parts = _split(referer)
    return f"{parts.scheme}://{parts.netloc}".lower() != ours


def _is_form(scope: Scope) -> bool:
    """Tell whether a request opens a page on which nothing is asked yet."""
    is_read = scope["method"] in ("GET", "HEAD")
    return is_read and scope["path"] in FORMS and not scope["query_string"]


def _is_above(digits: str, most: int) -> bool:
    return len(digits) > len(str(most)) or int(digits) > most


def _too_large(most: int) -> str:
    return f"that is more than {most // 1_000_000} MB; hand in a smaller file"


def _most(scope: Scope) -> int:
    """Return how many bytes a request may bring; photographs are large."""
    return LARGEST_PHOTOS if scope["path"] == PHOTO_PATH else LARGEST_BODY


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _ANSWER.items():
                headers.setdefault(name, value)
        await send(message)

    return sending


def _limited(receive: Receive, most: int) -> Callable[[], Awaitable[Message]]:
    """Refuse a body that grows beyond the limit although it did not say so, or comes too slowly.

    Once the whole body is there, what is received is that the client left, and that may take its
    time.
    """
    taken, is_whole = 0, False
    until = time.monotonic() + BODY_S

    async def receiving() -> Message:
        nonlocal taken, is_whole
        if is_whole:
            return await receive()
        patience_s = min(STALLED_S, max(0.0, until - time.monotonic()))
        try:
            message = await asyncio.wait_for(receive(), patience_s)
        except TimeoutError:
            raise _RefusedError(408, "the rest of that did not come; hand it in again") from None
        taken += len(message.get("body", b""))
        is_whole = not message.get("more_body", False)
        if taken > most:
            raise _RefusedError(413, _too_large(most))
        return message

    return receiving
