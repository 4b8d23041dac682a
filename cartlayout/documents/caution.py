"""The words that stand on every sheet and at the foot of the window."""

CAUTION = (
    "Planning aid only, not an approval. A licensed electrician, a licensed plumber and the "
    "local code decide."
)
