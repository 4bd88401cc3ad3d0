"""What stands on each paper: one function a paper, from a `PaperSource` to a `Paper`.

Begin at `catalogue`, which lists the papers by name; they are built of `papers.blocks`. A paper for
the owner never shows the access notes, the crew's own notes or phone numbers other than the firm's.
"""
