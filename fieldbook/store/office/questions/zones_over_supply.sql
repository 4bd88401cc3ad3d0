-- Which zones draw more than the supply gives, and where was the water not checked?
SELECT b.address, f.severity, f.thing, f.sentence, b.up_to_date
FROM office.board b LEFT JOIN office.flag f ON f.job_id = b.job_id
  AND (f.code = 'flow over supply' OR (f.check_name = 'hydraulics' AND f.severity = 'not checked'))
WHERE NOT b.off_board AND (f.job_id IS NOT NULL OR NOT b.up_to_date)
ORDER BY b.address, f.thing, f.sentence
