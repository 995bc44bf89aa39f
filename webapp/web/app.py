"""The Flask application: pages, downloads, and the headers that go with everything."""

from __future__ import annotations

import hashlib
from pathlib import Path

from flask import Flask, Response, request, send_file

from webapp.web.compressing import compress
from webapp.web.files import (
    htmx_script,
    plotly_script,
    plotly_style_ids,
    static_folder,
    templates_folder,
)
from webapp.web.pages import pages
from webapp.web.toys import Workshop

EMPTY_STYLE = "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU="
"""Hash of the empty string: plotly adds one empty style element and fills it by script."""

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        f"style-src 'self' '{EMPTY_STYLE}'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "font-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
A_YEAR = 31_536_000


def create_app(workshop: Workshop | None = None) -> Flask:
    """The application, with its recipes loaded and their rules solved."""
    app = Flask(
        "webapp",
        template_folder=str(templates_folder()),
        static_folder=str(static_folder()),
        static_url_path="/static",
    )
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.config["WORKSHOP"] = workshop or Workshop()
    app.config["LIBRARIES"] = {"plotly.js": plotly_script(), "htmx.js": htmx_script()}
    app.jinja_env.globals["stamp"] = _stamps(app)
    app.jinja_env.globals["plotly_style_ids"] = plotly_style_ids
    app.register_blueprint(pages)
    app.add_url_rule("/library/<name>", "library", _library(app.config["LIBRARIES"]))
    app.after_request(_headers)
    return app


def _library(scripts: dict[str, Path]):  # type: ignore[no-untyped-def]
    """Serves third-party scripts from where their packages are installed."""

    def serve(name: str) -> Response | tuple[str, int]:
        if name not in scripts:
            return f"There is no script named {name}.", 404
        return send_file(scripts[name], mimetype="text/javascript")

    return serve


def _stamps(app: Flask):  # type: ignore[no-untyped-def]
    """A function from a file to its stamp, so that a cached copy is used until it changes."""
    known: dict[str, str] = {}
    folders = {"static": Path(app.static_folder or "")}

    def stamp(kind: str, name: str) -> str:
        path = folders["static"] / name if kind == "static" else app.config["LIBRARIES"][name]
        key = f"{kind}/{name}:{path.stat().st_mtime_ns}"
        if key not in known:
            known[key] = hashlib.sha256(path.read_bytes()).hexdigest()[:12]
        return f"/{kind if kind == 'static' else 'library'}/{name}?v={known[key]}"

    return stamp


def _headers(response: Response) -> Response:
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "same-origin"
    stamped = request.args.get("v") and request.path.startswith(("/static/", "/library/"))
    if stamped:
        response.headers["Cache-Control"] = f"public, max-age={A_YEAR}, immutable"
    elif "Cache-Control" not in response.headers or request.path.startswith("/toys"):
        response.headers["Cache-Control"] = "no-cache"
    return compress(response)
