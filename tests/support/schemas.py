"""The schemas of our JSON documents, as they are given out and closed for tests."""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator

from fretloom.api import json_schema


def schema_validator(kind: str, *, closed: bool = False) -> Draft202012Validator:
    """Return a validator of a kind of document; a closed one refuses fields that the schema does not name."""
    schema = json_schema(kind)
    return Draft202012Validator(_closed(schema) if closed else schema)


def _closed(schema: Any) -> Any:
    if isinstance(schema, list):
        return [_closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    inner = {name: _closed(value) for name, value in schema.items()}
    if isinstance(schema.get("properties"), dict) and "type" in schema:
        inner.setdefault("additionalProperties", False)
    return inner
