"""Exchange without a network: entries travel in files, through a folder or one property at a time.

A bundle is a gzipped file of JSON lines that holds entries and, for a single property, its attached
files. `bundle_writer.py` describes the format; start there. `bundle_reader.py` reads a bundle as if
a stranger had written it. `folder.py` exchanges a whole book through a folder of bundles.

This room imports the journal and the open `Book`. Exchange with an office's database is in
`store/office`.
"""
