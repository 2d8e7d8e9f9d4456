"""The full-screen bench: the only home of textual and rich."""
