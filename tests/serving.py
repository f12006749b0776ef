"""A page served for real, at an address of this computer."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from starlette.applications import Starlette

from nesting.engine import warm_up
from nesting.web.server import server_config


@contextmanager
def served(app: Starlette) -> Iterator[str]:
    """Serve an application on a free port, its kernels compiled, and yield its address."""
    warm_up()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(server_config(app, port=port))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(30)
