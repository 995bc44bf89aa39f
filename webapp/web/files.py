"""Where templates, static files and third-party scripts lie on this machine."""

from __future__ import annotations

import re
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
STYLE_ID = re.compile(r"getElementById\(.([0-9a-f]{40,}).\)")


def templates_folder() -> Path:
    """The templates: packaged with the wheel, or at the top level of a checkout."""
    return _folder("templates")


def static_folder() -> Path:
    """The static files: packaged with the wheel, or at the top level of a checkout."""
    return _folder("static")


def _folder(name: str) -> Path:
    packaged = PACKAGE / f"_{name}"
    return packaged if packaged.is_dir() else PACKAGE.parent / name


def plotly_script() -> Path:
    """plotly.min.js inside the installed plotly package."""
    return _inside("plotly", "package_data/plotly.min.js")


def htmx_script() -> Path:
    """htmx.min.js inside the installed django-js-lib-htmx package, which needs no Django."""
    return _inside("js_lib_htmx", "static/htmx/htmx.min.js")


def _inside(package: str, path: str) -> Path:
    spec = find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError(f"The package {package} is not installed.")
    return Path(spec.submodule_search_locations[0]) / path


@lru_cache(maxsize=1)
def plotly_style_ids() -> tuple[str, ...]:
    """Ids of style elements that plotly.js adds unless the page has an element of that id.

    They style a kind of map that is not drawn here; a page that has the ids keeps a policy
    without inline styles.
    """
    script = plotly_script().read_text(encoding="utf-8")
    return tuple(dict.fromkeys(STYLE_ID.findall(script)))
