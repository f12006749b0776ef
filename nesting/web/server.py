"""The page served: half a request is not waited for, and the end comes soon after it is asked."""

import asyncio
import contextlib
import os
import threading
from types import FrameType
from typing import Any

import h11
import uvicorn
from starlette.applications import Starlette
from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_S = 10.0
"""How long the head of a request may take."""
GRACE_S = 1
"""How long answers at work may go on once the page is to end."""
END_S = 4.0
"""After that long the process ends, whatever still holds it."""


class PatientProtocol(H11Protocol):
    """Closes a connection that waits for the rest of a head, or of a body that was refused."""

    _timer: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a head."""
        super().connection_made(transport)
        self._look()

    def data_received(self, data: bytes) -> None:
        """Take what came, and see whether the head is whole."""
        super().data_received(data)
        self._look()

    def on_response_complete(self) -> None:
        """Go on to the next request, or wait for the rest of this one."""
        super().on_response_complete()
        self._look()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._wait_no_longer()
        super().connection_lost(exc)

    def _look(self) -> None:
        """Wait from now on, if there is something to wait for and nobody does yet."""
        if not self._waits():
            self._wait_no_longer()
        elif self._timer is None:
            self._timer = self.loop.call_later(HEAD_S, self._give_up)

    def _waits(self) -> bool:
        is_answered = self.cycle is not None and self.cycle.response_complete
        their_state = self.conn.their_state
        return their_state is h11.IDLE or (is_answered and their_state is h11.SEND_BODY)

    def _wait_no_longer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _give_up(self) -> None:
        self._timer = None
        if self._waits() and not self.transport.is_closing():
            self.transport.close()


class Server(uvicorn.Server):
    """Ends within a few seconds of being asked to, whatever visitors do."""

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Let nobody wait any longer, and see to it that the process ends."""
        if isinstance(self.config.app, Starlette) and hasattr(self.config.app.state, "desk"):
            self.config.app.state.desk.is_closing = True
        last = threading.Timer(END_S, os._exit, (0,))
        last.daemon = True
        last.start()
        super().handle_exit(sig, frame)


def serve(app: Starlette, host: str, port: int) -> None:
    """Serve the page until it is asked to end; this may end the process.

    Parameters
    ----------
    app
        As :func:`nesting.web.app.make_app` makes it.
    host, port
        Where to listen.
    """
    with contextlib.suppress(KeyboardInterrupt):  # raised again once the page has ended
        Server(server_config(app, host=host, port=port)).run()


def server_config(app: Starlette, **where: Any) -> uvicorn.Config:
    """Return how the page is served."""
    return uvicorn.Config(
        app,
        http=PatientProtocol,
        ws="none",
        log_level="warning",
        timeout_graceful_shutdown=GRACE_S,
        **where,
    )
