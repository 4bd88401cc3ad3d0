-- Which cells did two laptops enter differently, and who entered what?
SELECT b.address, c."table", c."column", c.kind, c.value, c.who, c.entered_at, c.shown, b.up_to_date
FROM office.board b LEFT JOIN office.conflict c ON c.job_id = b.job_id
WHERE c.job_id IS NOT NULL OR NOT b.up_to_date
ORDER BY b.address, c."table", c.row_id, c."column", c.entered_at
