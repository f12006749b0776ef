"""``nesting serve``: the local page."""

# ruff: noqa: PLC0415 - starlette and all behind it load only when the page is served
from nesting.cli.options import OptionError, ServeTyped, takes


@takes(ServeTyped)
def serve_command(typed: ServeTyped) -> int:
    """Open a page on this computer: choose pattern and bolt, and watch the marker get shorter."""
    import uvicorn

    from nesting.cli import report
    from nesting.web import make_app
    from nesting.web.app import LOOPBACK

    if not typed.patterns.is_dir():
        raise OptionError(f"--patterns: {typed.patterns} is not a folder; give one with sheets")
    if typed.host not in LOOPBACK:
        report.note(
            [
                f"{typed.host} can be reached from other computers: everybody there can use this "
                "page, and what they send is not encrypted"
            ]
        )
    app = make_app(typed.patterns, hosts=LOOPBACK | {typed.host})
    report.print_sentence(f"Open http://{typed.host}:{typed.port}/ in a browser. Ctrl-C ends it.")
    uvicorn.run(app, host=typed.host, port=typed.port, log_level="warning")
    return 0
