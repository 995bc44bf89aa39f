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

# Ratios of speed are measured with the machine to themselves; all other tests go side by side on
# two processors.
PARTS = {
    "benchmarks": ["tests/benchmarks"],
    "tests": [
        "tests", "--ignore=tests/benchmarks", "--benchmark-disable", "-n2", "--dist=worksteal",
        "--durations=25"
    ],
}


def main() -> int:
    os.environ[VARIABLE] = find()
    print(f"Browser: {os.environ[VARIABLE]}", flush=True)
    failed = []
    for name, command in CHECKS.items():
        print(f"\n== {name}", flush=True)
        if subprocess.run([sys.executable, *command]).returncode != 0:
            failed.append(name)
    for name, arguments in PARTS.items():
        print(f"\n== {name}", flush=True)
        if subprocess.run([sys.executable, "-m", "pytest", *arguments, *sys.argv[1:]]).returncode:
            failed.append(name)
    if failed:
        print(f"These failed: {', '.join(failed)}.", flush=True)
    return int(bool(failed))


if __name__ == "__main__":
    sys.exit(main())
