"""Ground: say here what lives in this room."""
