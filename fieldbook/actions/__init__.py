"""What a crew does: one function a verb, over the book and the checks."""
