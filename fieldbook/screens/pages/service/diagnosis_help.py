"""What `?` says on the page of a diagnosis: what can be typed, and how the answer comes about."""

from __future__ import annotations

DIAGNOSIS_HELP = """\
What can be typed, with commas between
static 55: the tap with everything off. running 48: the same tap while the zone runs.
flow 12.1: the zone, timed at the meter with everything else off.
head 3 28: the pressure at the head of run 3. A gauge below the body shows the pipe.
saw 3 short: how the head of run 3 looks: fine, misting, weak, dry, low (does not rise), short (or \
one-sided), gush (a solid column of water).
wet 3: the ground is wet at the end of run 3. looked: all heads and trenches were looked at, and \
what is not named was fine and dry.
others weak, others fine: how other zones run. meter moves, meter still: with everything off.
weeps stops, weeps never stops: the lowest head after the zone shut.
Of a zone that does not run: dead; ohms 900 (at the controller, common lifted); coil 34 (alone, at \
the valve); volts 25 (at its terminal while on); box-volts 24; other-zones run or none; ran \
nothing or another; by-hand runs or dry; moved runs or nothing (its wire on another output).
Pressures and flows are in the job's units, or carry one: 3.8 bar, 40 L/min.

How the answer comes about
The zone is solved with every fault at several severities, and with two together where one does \
not explain the readings. Each is weighed by how far the readings are from it, in units of what \
gauge, meter, friction law, nozzles and supply may be off, and by how common it is.
Faults that change the water alike are one line: no gauge tells a clogged nozzle from one that is \
too small. "To see which" names the look that does.
Very likely: 90 % or more. Likely: 60 %. Possible: 30 %. Less likely: 10 %.
Can't tell yet: no line has 60 %. The next reading is the one that is expected to tell most for \
the minutes that it takes.
How common faults are, what crews note and the minutes are common practice, no source: they are in \
trade/water_faults.toml and dead_zone_faults.toml. A diagnosis says what to look at. It proves \
nothing, and it is not kept: what is found belongs to a visit.\
"""
