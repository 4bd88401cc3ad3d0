-- Who flushed what, when, and which steps of it are recorded?
SELECT b.address, CASE WHEN f.zone_id IS NULL THEN 'mainline'
    ELSE concat_ws(' ', 'zone', z.number, z.name) END AS flushed,
  f.ran_clear, f.bleed_closed, f.tops_back, f.entered_by, f.entered_at, b.up_to_date
FROM office.board b
LEFT JOIN office.flush f ON f.job_id = b.job_id
LEFT JOIN office.zone z ON z.job_id = f.job_id AND z.id = f.zone_id
WHERE NOT b.off_board AND (f.job_id IS NOT NULL OR NOT b.up_to_date)
ORDER BY b.address, z.number NULLS FIRST, f.id
