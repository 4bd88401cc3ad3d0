-- Which hold points are not met, and which sign-off does each keep back?
SELECT h.address, h.title, h.sign_off, h.stretch, h.missing, h.up_to_date
FROM office.hold_point h
ORDER BY h.address, h.title, h.sign_off, h.stretch, h.missing
