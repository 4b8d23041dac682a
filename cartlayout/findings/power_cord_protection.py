"""What to say about a cord that its breaker does not protect."""

from ..build import Box
from ..power.results import Limit
from ..units import Phrase, capitalised
from .finding import Finding
from .power_words import PowerWords, breaker_text


def of_cord(words: PowerWords, key: str, limit: Limit) -> Finding:
    """A breaker that stays closed while the cord behind it gets too hot."""
    item = words.items.get(limit.items[0]) if limit.items else None
    is_box = item is not None and isinstance(item.specification.electrical, Box)
    return words.finding(
        "care" if is_box else "note",
        "cord-protection",
        Phrase.of(
            "The cord of {item} is not protected: {breaker} before it, {cord} is what it carries",
            item=words.names(limit.items),
            breaker=breaker_text(limit.value),
            cord=breaker_text(limit.limit),
        ),
        Phrase.of(
            "{rule}. If more is plugged in than planned, the cord gets too hot and nothing trips. "
            + (
                "Use a thicker cord, or one with a breaker of its own."
                if is_box
                else "Use a thicker cord, unless it is a listed set that is used as its maker says."
            ),
            rule=capitalised(limit.rule),
        ),
        limit.items,
        limit,
        runs=(key,),
    )
