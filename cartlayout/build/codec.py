"""Structs to JSON and back, with quantities as texts."""

from typing import Any

import msgspec

from ..units import Quantity, QuantityError


def encode_hook(value: Any) -> Any:
    """Write a quantity as the text its author wrote."""
    if isinstance(value, Quantity):
        return value.text
    raise NotImplementedError(f"{type(value).__name__} has no place in a file")


def decode_hook(kind: type, value: Any) -> Any:
    """Read a quantity from its text."""
    if issubclass(kind, Quantity):
        if not isinstance(value, str):
            raise QuantityError(
                f"{value!r} is no {kind.name}; write it as text, such as '{kind.example}'"
            )
        return kind(value)
    raise NotImplementedError(f"{kind.__name__} has no place in a file")


def schema_hook(kind: type) -> dict[str, Any]:
    """Describe a quantity in the JSON schema."""
    if issubclass(kind, Quantity):
        return {
            "type": "string",
            "title": kind.name,
            "description": f"A {kind.name} with its unit",
            "examples": [kind.example],
        }
    raise NotImplementedError(kind.__name__)


def to_builtins(value: Any) -> Any:
    """Turn a struct into plain dictionaries, lists and texts, ready for JSON."""
    return msgspec.to_builtins(value, enc_hook=encode_hook)
