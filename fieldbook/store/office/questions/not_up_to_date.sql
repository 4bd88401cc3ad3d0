-- Of which properties is what the hub shows older than their entries, or its day over?
SELECT b.address, b.why_not, b.last_entry_at, b.last_entry_from, b.made_by, b.made_at, b.until
FROM office.board b
WHERE NOT b.up_to_date
ORDER BY b.last_entry_at DESC, b.job_id
