"""The job record: SQLModel tables, one file per thing a crew records.

Nothing is imported here, since SQLModel takes longer to import than the first screen to draw.
"""
