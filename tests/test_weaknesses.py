"""Known weaknesses of the packages that the program and its tests rest on, where a list answers.

``pip-audit`` asks the package index for the advisories on each installed version. An index that
keeps none, or no network at all, leaves packages not looked up: the run then says so among its
warnings, by name, and never that none is known.
"""

from __future__ import annotations

import json
import subprocess
import sys
import warnings
from typing import Any

AUDIT = (sys.executable, "-m", "pip_audit", "--format", "json", "--progress-spinner", "off")


class NotLookedUp(UserWarning):
    """Packages for which no list of weaknesses answered."""


def weaknesses(report: dict[str, Any]) -> tuple[list[str], list[str]]:
    """Of an audit's report: what is known against packages, and packages not looked up."""
    rows = report["dependencies"]
    known = [
        f"{row['name']} {row['version']}: {found['id']}, mended in {found['fix_versions']}"
        for row in rows
        for found in row.get("vulns", ())
    ]
    return known, [row["name"] for row in rows if "skip_reason" in row]


def test_no_package_has_a_known_weakness() -> None:
    ran = subprocess.run([*AUDIT, "--skip-editable"], capture_output=True, text=True, timeout=120)
    if not ran.stdout.startswith("{"):
        warnings.warn(NotLookedUp(f"no list answered: {ran.stderr[-200:]}"), stacklevel=1)
        return
    known, missed = weaknesses(json.loads(ran.stdout))
    assert not known, "\n".join(known)
    if missed:
        warnings.warn(NotLookedUp(f"weaknesses not looked up: {', '.join(missed)}"), stacklevel=1)


def test_a_known_weakness_is_found_in_a_report() -> None:
    # A report as pip-audit's own documentation of its JSON format shows it, with one skipped.
    report = {
        "dependencies": [
            {
                "name": "flask",
                "version": "0.5",
                "vulns": [
                    {
                        "id": "PYSEC-2019-179",
                        "fix_versions": ["1.0"],
                        "aliases": [],
                        "description": "…",
                    }
                ],
            },
            {"name": "jinja2", "version": "3.0.2", "vulns": []},
            {"name": "pip", "skip_reason": "not found"},
        ],
        "fixes": [],
    }
    assert weaknesses(report) == (["flask 0.5: PYSEC-2019-179, mended in ['1.0']"], ["pip"])
