"""What `?` says on a zone's page: every header, every figure and every sign of its pictures."""

from __future__ import annotations

ZONE_HELP = """\
The verdict
✓ sound: all that is asked of the zone is entered, checked and met. ✗ wrong: something is not met; \
the word after it says what. ? not checked: something is still to be entered; it is named. \
? doubtful: a figure that the zone rests on has a flag.

What it is held to
now: the figure as solved, or by the nozzles where the zone is not solved.
limit: what it may be at most (draw, velocity) or must be at least (pressure).
spare: what is left to the limit; below zero it is not kept.
draw: what the zone takes while it runs, against what the street allows. The rule that allows the \
least is named after "Governs".
worst head: the head with the least pressure over what it needs, and the run it stands on.
run, mainline, service line: the pipe whose water is nearest its velocity limit, in ft/s or m/s.
Governs: the one with the least to spare, as a part of its limit.

Supply and zone
Across is flow, up is pressure at the point of connection: behind the meter and the service line.
The whole line is the supply: how its pressure falls as more water runs. With a flow test it goes \
through the test; else it is static less the losses of meter and service line.
The dashed line is the zone: how much pressure it takes to drive so much water through it.
◆ is where they meet: there the zone works.
┊ is the flow that the street allows.

Pressure to the worst head
Each bar begins where the last one ended. - is a loss, + a gain (water runs downhill), = what is \
left. The figures are in the unit at the top.
static pressure: the pressure at the street while no water runs.
supply (flow test): what the street, the meter and the service line lose at this flow, together.
backflow assembly, mainline, valve, filter, regulator, run: what each of them takes.
height of the head: how far the head stands above the street, at 0.433 psi a foot.
A loss that rounds to nothing has no bar. On a long way neighbouring runs of one size share a bar.
left at the head: the pressure at its inlet.
it needs: the zone's needed pressure, else what the nozzle is rated at. ┊ carries it up the picture.
to spare, short: what is left over that, or what is missing.

The tree
◇ is the valve, with the pressure behind it (and behind its filter and regulator).
A row is a run of pipe. It goes on in the column of the run that feeds it, or branches off to the \
right. run: its number. size: the nominal size in inches. length: as entered. flow: the water in \
it. velocity: how fast that water is. head: the pressure at the head that it ends in.
! is water faster than the limit for its pipe.
● is a head at the end of the run, with its pressure and how that stands: good, tight, low, dry or \
high.
◂ is the worst head. ? is not entered, or not known yet.

How surely it works
works down to: the static pressure at the street under which its worst head no longer gets what it \
needs.
between: the band in which the worst head's pressure may truly lie, for what the gauge, the flow \
test, the friction and the hour leave open. tight: the band crosses what the head needs.
uniformity: what the driest quarter of the heads gives, as a part of what they give on average.

What mends it
Each change was solved by itself and passes every check; what would come of it stands beside it. \
First come changes without digging, then those with the fewest feet to dig up, valves to add, feet \
of pipe and pieces.

Keys
s sizes all laterals of the zone at the least pipe cost that passes every check, and shows the \
sizes before they are kept; what is signed as buried stays as it is.
Arrows and PgUp, PgDn scroll. Ctrl+S writes the page's pictures to a file as SVG. Esc closes."""
