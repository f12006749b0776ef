"""What every request has to pass, and what every answer carries."""

from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY = 8_000_000
LARGEST_PHOTOS = 48_000_000
PHOTO_PATH = "/paper"
LONGEST_ADDRESS = 4_000
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


class Guard:
    """Refuses other hosts, other origins and too much; adds the headers of safety.

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
        await self._app(scope, _limited(receive, _most(scope)), guarded)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        host = urlsplit(f"//{headers.get('host', '')}").hostname or ""
        if host not in self._hosts:
            return 421, "this page is not served under that name"
        if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > LONGEST_ADDRESS:
            return 414, "that address is too long"
        if scope["method"] not in ("GET", "HEAD"):
            origin = headers.get("origin")
            if origin is None or urlsplit(origin).netloc != headers.get("host"):
                return 403, "forms are taken from this page only"
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > _most(scope):
            return 413, f"that is more than {_most(scope) // 1_000_000} MB; hand in a smaller file"
        return None


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
    """Cut off a body that grows beyond the limit although it did not say so."""
    taken = 0

    async def receiving() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            return {"type": "http.disconnect"}
        return message

    return receiving
