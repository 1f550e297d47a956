"""The fields of each published JSON document, kept by the name that its schema has.

A document whose fields change under the same name misleads whoever reads it by that name. A
field that goes, or that comes to mean another thing, asks for a schema of the next number; one
that is only added is added to the list here: ``python -m tests.report.test_schema_keys``.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

SCHEMAS = Path(__file__).parents[2] / "budget/report/schema"
KEPT = Path(__file__).parent / "schema_keys.json"


def fields(schema: dict[str, Any], node: dict[str, Any], at: str = "") -> Iterator[str]:
    """Every field of a document, as a path: ``machines[].wait.saves``."""
    ref = node.get("$ref", "")
    if ref:
        yield from fields(schema, schema["$defs"][ref.rpartition("/")[2]], at)
    for way in (*node.get("anyOf", ()), *node.get("oneOf", ())):
        yield from fields(schema, way, at)
    if isinstance(node.get("items"), dict):
        yield from fields(schema, node["items"], f"{at}[]")
    for key, inner in node.get("properties", {}).items():
        path = f"{at}.{key}" if at else key
        yield path
        yield from fields(schema, inner, path)


def by_name() -> dict[str, list[str]]:
    """The fields of every schema there is, by its name."""
    found = {}
    for path in sorted(SCHEMAS.glob("*.json")):
        schema = json.loads(path.read_text(encoding="utf-8"))
        name = schema["$id"]
        assert path.stem == "-".join(name.split("/")[1:])
        assert schema["properties"]["schema"]["const"] == name
        found[name] = sorted(set(fields(schema, schema)))
    return found


def kept() -> dict[str, list[str]]:
    found: dict[str, list[str]] = json.loads(KEPT.read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize("name", sorted(by_name()))
def test_a_document_keeps_its_fields_as_long_as_it_keeps_its_name(name: str) -> None:
    now, before = set(by_name()[name]), set(kept().get(name, ()))
    assert not before - now, f"raise the number of {name}: fields went"
    assert not now - before, "new fields: add them with python -m tests.report.test_schema_keys"


def test_no_name_is_kept_that_no_document_has() -> None:
    assert set(kept()) == set(by_name())


def _add() -> None:
    before, now = (kept() if KEPT.exists() else {}), by_name()
    for name, paths in now.items():
        gone = set(before.get(name, ())) - set(paths)
        if gone:
            raise SystemExit(f"raise the number of {name}; these fields went: {sorted(gone)}")
    KEPT.write_text(json.dumps(now, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    _add()
