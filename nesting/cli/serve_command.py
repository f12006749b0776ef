"""``nesting serve``: the local page."""

# ruff: noqa: PLC0415 - starlette and all behind it load only when the page is served
import ipaddress
import socket

from nesting.cli.options import OptionError, ServeTyped, takes


@takes(ServeTyped)
def serve_command(typed: ServeTyped) -> int:
    """Open a page on this computer: choose pattern and bolt, and watch the marker get shorter."""
    from nesting.cli import report
    from nesting.web import make_app
    from nesting.web.app import LOOPBACK
    from nesting.web.server import serve

    if not typed.patterns.is_dir():
        raise OptionError(f"--patterns: {typed.patterns} is not a folder; give one with sheets")
    if stands_for_every_address(typed.host):
        raise OptionError(
            f"--host: {typed.host} stands for every address, and the page answers to its own "
            "name only; give the address by which others call this computer"
        )
    if typed.host not in LOOPBACK:
        report.note(
            [
                f"{typed.host} can be reached from other computers: everybody there can use this "
                "page, and what they send is not encrypted"
            ]
        )
    _refuse_taken_port(typed)
    app = make_app(typed.patterns, hosts=LOOPBACK | {typed.host.lower()})
    name = f"[{typed.host}]" if ":" in typed.host else typed.host
    report.print_sentence(f"Open http://{name}:{typed.port}/ in a browser. Ctrl-C ends it.")
    serve(app, typed.host, typed.port)
    return 0


def stands_for_every_address(host: str) -> bool:
    """Tell whether listening at a host means listening at every address, however it is written."""
    try:
        found = socket.getaddrinfo(host or None, 1, type=socket.SOCK_STREAM)
    except (OSError, UnicodeError):  # it cannot be listened at either, which is told of later
        return False
    told = (ipaddress.ip_address(str(one[4][0]).partition("%")[0]) for one in found)
    mapped = (getattr(address, "ipv4_mapped", None) or address for address in told)
    return not host or any(address.is_unspecified for address in mapped)


def _refuse_taken_port(typed: ServeTyped) -> None:
    """Refuse an address that cannot be listened at, before anything is started."""
    kind = socket.AF_INET6 if ":" in typed.host else socket.AF_INET
    try:
        with socket.socket(kind, socket.SOCK_STREAM) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            trial.bind((typed.host, typed.port))
    except OSError as problem:
        raise OptionError(
            f"--port: cannot listen at {typed.host}, port {typed.port}: "
            f"{problem.strerror or problem}; choose another --port, or the right --host"
        ) from problem
