"""May a zone run on this day, at this hour, for so long? And why.

`site_facts` has what the answer depends on: the property, the zone, the purpose. `zone_permits`
holds a law (`fieldbook.trade.watering`) against them and says of each day which minutes are
allowed, what bars it, and what is not known. `wall_clock` turns a run of so many minutes into the
hours that a clock on the wall shows, over midnight and through a change to summer time; `may_run`
answers for one run. Unknown is never taken for allowed. Start at `zone_permits`.
"""
