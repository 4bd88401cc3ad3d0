"""Pictures of what was measured: the cans of an audit where they stood, or one under the other.

Start with `can_picture.py`. It may import what `papers` may, and draws on its canvas, so that a
terminal and a print show the same, and need no colour.
"""
