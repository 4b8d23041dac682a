"""The JSON schema of a `.cart` file, generated from the structs."""

import json
from typing import Any
from unittest import mock

import msgspec
from msgspec import _json_schema

from .codec import schema_hook, to_builtins
from .file import CartFile


def schema() -> dict[str, Any]:
    """Return the JSON schema of a `.cart` file."""
    # msgspec has a hook for types but none for default values, and a default
    # here can be a quantity. Remove when schema() takes an enc_hook.
    with mock.patch.object(_json_schema, "to_builtins", lambda value, **_: to_builtins(value)):
        made: dict[str, Any] = msgspec.json.schema(CartFile, schema_hook=schema_hook)
    return made


def schema_text() -> str:
    """Return the schema as it is shipped in resources/cart.schema.json."""
    return json.dumps(schema(), indent=1, sort_keys=True, ensure_ascii=False) + "\n"
