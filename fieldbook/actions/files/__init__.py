"""Files: photos attached to rows, which lie beside the book by their hash, and papers written.

`attached_files` says where a file lies and whether it is intact, and copies files to and from an
exchange folder; `attach` attaches one and opens one outside; `photos` reads the time and position
of a photo and draws a thumbnail; `svg_files` writes pictures of the job. `write_papers`
writes papers into a folder, `paper_run` does so in a thread while entries go on, `system_viewer`
opens a file outside. Start at `attach`, or at `write_papers`.
"""
