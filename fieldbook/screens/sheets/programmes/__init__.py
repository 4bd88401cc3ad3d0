"""The programme sheet at the controller: programmes, minutes by terminal, what the rules go by.

`programme_sections` builds the sections with their live totals; `programme_presses` has what Enter
does on their lines. It may import what `sheets` may. Start with `programme_sections`.
"""
