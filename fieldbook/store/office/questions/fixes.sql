-- What has to be mended, and how?
SELECT b.address, f.place, f.check_name, f.sentence, f.mend, b.up_to_date
FROM office.board b LEFT JOIN office.flag f ON f.job_id = b.job_id AND f.severity = 'fix'
WHERE NOT b.off_board AND (f.job_id IS NOT NULL OR NOT b.up_to_date)
ORDER BY b.address, f.place, f.sentence
