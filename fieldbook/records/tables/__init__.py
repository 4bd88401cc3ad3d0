"""Tables: say here what lives in this room."""
