"""The sheets that the builder, the venue and the inspector ask for."""
