"""One module a sheet: each says what stands on it, none where it stands."""
