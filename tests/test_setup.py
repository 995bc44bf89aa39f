"""The set-up: what README claims, what the wheel carries, what no file may hold."""

from __future__ import annotations

import re
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def commands() -> list[str]:
    """The fenced commands of README."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return re.findall(r"^```\n(.+?)\n```$", text, re.MULTILINE | re.DOTALL)


def test_readme_has_two_commands_and_ci_runs_the_second() -> None:
    start, test = commands()
    assert start.endswith(".venv/bin/python -m webapp")
    assert test.endswith(".venv/bin/python -m tests")
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == test


def test_readme_shows_a_picture_that_is_there() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (picture,) = re.findall(r"!\[.+\]\((.+)\)", text)
    assert (ROOT / picture).read_bytes().startswith(b"\x89PNG")


def test_licence_is_mit() -> None:
    text = " ".join((ROOT / "LICENSE").read_text(encoding="utf-8").split())
    assert text.startswith("MIT License Copyright (c) ")
    assert "Permission is hereby granted, free of charge, to any person obtaining a copy" in text
    assert text.endswith(
        "OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE."
    )


def own_files() -> list[Path]:
    """The files of a checkout, new ones too; of an unpacked archive, those in the known places."""
    git = ["git", "-c", "core.quotePath=off", "ls-files", "-co", "--exclude-standard"]
    if (ROOT / ".git").exists():
        listed = subprocess.run(git, cwd=ROOT, capture_output=True, text=True, check=True)
        files = [ROOT / name for name in listed.stdout.splitlines()]
    else:
        places = (".ci", "static", "templates", "tests", "webapp")
        files = [file for place in places for file in (ROOT / place).rglob("*")]
        files += ROOT.glob("*")
    return [f for f in files if f.is_file() and "__pycache__" not in f.parts]


def test_no_file_records_where_packages_came_from() -> None:
    """A lock file would; addresses of registries and of one machine have no place here."""
    files = own_files()
    assert ROOT / "pyproject.toml" in files
    marks = ["index" + "-url", "find" + "-links", "py" + "pi.org", "pythonho" + "sted.org"]
    marks += ["npm" + "js.org", "resolved" + " http"]
    for file in (f for f in files if f.suffix != ".png"):
        text = file.read_text(encoding="utf-8")
        assert not [mark for mark in marks if mark in text], file
    assert not [f for f in files if f.name.endswith((".lock", "-lock.json"))]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (built,) = folder.glob("*.whl")
    return built


def test_the_wheel_carries_templates_static_files_and_toys(wheel: Path) -> None:
    inside = set(zipfile.ZipFile(wheel).namelist())
    for name in (
        "webapp/_templates/designer.html",
        "webapp/_static/roundling.css",
        "webapp/_static/preview.js",
        "webapp/toys/otter.toml",
    ):
        assert name in inside
    assert not [name for name in inside if "plotly" in name or "htmx" in name]


TRY = """
import sys, webapp
assert "site-packages" in webapp.__file__, webapp.__file__
from webapp.web import create_app
client = create_app().test_client()
for path in ("/", "/toys/otter", "/toys/otter/pattern.txt", "/static/roundling.css",
             "/library/plotly.js", "/library/htmx.js"):
    answer = client.get(path)
    assert answer.status_code == 200, (path, answer.status_code)
    answer.close()
print("works")
"""


def test_the_wheel_works_in_an_environment_of_its_own(wheel: Path, tmp_path: Path) -> None:
    """Installed into a new environment, away from the checkout. What it depends on is installed
    from the registry as for any user. Modules are compiled as they are imported: most of those
    that come with it never are."""
    home = tmp_path / "venv"
    venv.create(home)
    python = home / ("Scripts" if sys.platform == "win32" else "bin") / "python"
    install = [sys.executable, "-m", "pip", "--python", str(python), "install"]
    install += ["--quiet", "--no-compile", str(wheel)]
    done = subprocess.run(install, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    tried = subprocess.run(
        [str(python), "-I", "-c", TRY], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert tried.returncode == 0, tried.stderr
    assert "works" in tried.stdout
