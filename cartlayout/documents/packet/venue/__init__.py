"""What the sheet for the venue says, subject by subject."""
