"""The book on disk: open it, load a job, commit a change, undo."""
