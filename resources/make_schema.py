"""Write resources/cart.schema.json from the structs of the document."""

from cartlayout.build.schema import schema_text
from cartlayout.data import resources

(resources() / "cart.schema.json").write_text(schema_text(), encoding="utf-8")
