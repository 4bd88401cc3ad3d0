"""The plan of what is buried: from taped corners to a drawing on a screen and a sheet for an owner.

`plan.py` reads a job and says what is where, in ft, and what is not located; start there.
`plan_words.py` puts tapes and corners in words, `plan_picture.py` draws the plan in characters,
`plan_sheet.py` as an SVG that prints on Letter and A4. Both place their labels with
`label_places.py`. The room knows checks, records and units, and the other papers' dots.
"""
