"""Several changes told as one."""

from collections.abc import Sequence

from ...units import Phrase, Value


def joined(titles: Sequence[Phrase]) -> Phrase:
    """Orders one after another: "Raise the shelf by 2.0 in; give Kettle a cord of 8.0 ft"."""
    values: dict[str, Value | str] = {}
    texts = []
    for at, title in enumerate(titles):
        text = title.template
        for name, value in title.values:
            text = text.replace("{" + name + "}", f"{{{name}_{at}}}")
            values[f"{name}_{at}"] = value
        texts.append(text if not at else text[:1].lower() + text[1:])
    return Phrase.of("; ".join(texts), **values)
