-- Which tests and inspections are due within 30 days, or overdue?
SELECT b.address, d.thing, d."on", b.up_to_date
FROM office.board b LEFT JOIN office.due d ON d.job_id = b.job_id
  AND d.kind IN ('backflow test', 'inspection') AND d."on" <= (current_date + 30)::text
WHERE NOT b.off_board AND (d.job_id IS NOT NULL OR NOT b.up_to_date)
ORDER BY d."on", b.address, d.thing
