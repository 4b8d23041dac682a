"""What every part of the document has in common: frozen, strict, sparse in the file."""

import msgspec


class Part(
    msgspec.Struct,
    frozen=True,
    kw_only=True,
    forbid_unknown_fields=True,
    omit_defaults=True,
):
    """A value of the document. Change one with `msgspec.structs.replace`."""
