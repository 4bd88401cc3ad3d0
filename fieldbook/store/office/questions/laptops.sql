-- When was each laptop heard of last, what did it enter last, and which were silent for 14 days?
SELECT l.name, l.heard, coalesce(l.heard < now() - interval '14 days', true) AS silent,
  l.last_entry_at, l.last_entry_by, l.last_entry
FROM office.laptop l
WHERE l.removed IS NULL
ORDER BY l.heard NULLS FIRST, l.name
