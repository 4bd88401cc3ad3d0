-- What waits, and for what or whom?
SELECT w.address, w.what, w."on", w.waits_for, w.up_to_date
FROM office.waiting w
ORDER BY w.address, w.what
