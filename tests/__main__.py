"""``python -m tests``: finds a browser, checks the code, and runs every test."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.browser import VARIABLE, find

CHECKS = {
    "ruff": ["-m", "ruff", "check", "."],
    "mypy": ["-m", "mypy"],
    "import-linter": ["-c", "from importlinter.cli import lint_imports_command as c; c()"],
}


def main() -> int:
    os.environ[VARIABLE] = find()
    print(f"Browser: {os.environ[VARIABLE]}", flush=True)
    failed = []
    for name, command in CHECKS.items():
        print(f"\n== {name}", flush=True)
        if subprocess.run([sys.executable, *command]).returncode != 0:
            failed.append(name)
    print("\n== pytest", flush=True)
    tests = subprocess.run([sys.executable, "-m", "pytest", *sys.argv[1:]]).returncode
    if failed:
        print(f"These checks failed: {', '.join(failed)}.", flush=True)
    return tests or bool(failed)


if __name__ == "__main__":
    sys.exit(main())
