"""The Flask application: pages, files, and the headers that go with everything."""

from __future__ import annotations

from flask import Flask, Response, request

from webapp.web import assets
from webapp.web.checking import checking
from webapp.web.compressing import compress
from webapp.web.drawings import drawings
from webapp.web.exporting import exporting
from webapp.web.files import plotly_style_ids, templates_folder
from webapp.web.filming import filming
from webapp.web.languages import lang
from webapp.web.own_pages import own
from webapp.web.pages import pages
from webapp.web.publishing import publishing
from webapp.web.read_words import said
from webapp.web.reading import reading
from webapp.web.sheets import sheets
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


def create_app(workshop: Workshop | None = None) -> Flask:
    """The application, with its recipes loaded and their rules solved."""
    app = Flask("webapp", template_folder=str(templates_folder()), static_folder=None)
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.globals["stamped"] = assets.stamped
    app.jinja_env.globals["plotly_style_ids"] = plotly_style_ids
    app.jinja_env.globals["lang"] = lang
    app.jinja_env.filters["said"] = said
    app.config["WORKSHOP"] = workshop or Workshop()
    app.register_blueprint(pages)
    app.register_blueprint(own)
    app.register_blueprint(publishing)
    app.register_blueprint(sheets)
    app.register_blueprint(reading)
    app.register_blueprint(drawings)
    app.register_blueprint(filming)
    app.register_blueprint(checking)
    app.register_blueprint(exporting)
    app.add_url_rule("/static/<path:name>", "static", lambda name: assets.serve())
    app.add_url_rule("/library/<path:name>", "library", lambda name: assets.serve())
    app.after_request(_headers)
    return app


def _headers(response: Response) -> Response:
    response.headers.setdefault("Content-Security-Policy", POLICY)
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "same-origin"
    if "Cache-Control" not in response.headers:
        response.headers["Cache-Control"] = "no-cache"
    compress(response)
    response.make_conditional(request.environ)
    return response
