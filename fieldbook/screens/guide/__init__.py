"""The guided first job: a line at the top says the next key and why, on the demo's properties.

`steps.py` lists what is done, each step with the test that it was done; `guide.py` shows the line
on whatever is in front, looks whether the step is done, and goes on. It starts with `fieldbook demo
--guided` or from the palette, and Esc leaves it. It may import board and job; the app imports it
once it is asked for.
"""
