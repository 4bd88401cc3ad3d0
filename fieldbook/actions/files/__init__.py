"""Photos and papers attached to rows; the files lie beside the book, named by their hash.

`attached_files` says where a file lies and whether it is intact, and copies files to and from an
exchange folder; `attach` attaches one and opens one outside; `photos` reads the time and position
of a photo and draws a thumbnail; `svg_files` writes pictures of the job. Start at `attach`.
"""
