# English. One message for each thing said on cards, in reports and in calendars; `es.ftl` has the same.

## Dates and figures

weekday = { $weekday ->
    [0] Monday
    [1] Tuesday
    [2] Wednesday
    [3] Thursday
    [4] Friday
    [5] Saturday
   *[6] Sunday
}
month = { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
}
points = { $number } points
north = N

## Pages

report-title = Report: { $title }
cards-title = Run cards: { $title }
contents = On this page
nav-evenness = Evenness
nav-undone = Undone
nav-timeline = Timeline
nav-maps = Maps
nav-people = People
nav-rooms = Rooms
nav-assumptions = Assumptions
away = Away
not-sound = Not sound.
not-sound-do = Do not work from these sheets before this is put right.
sound-all = All work due is planned.
sound-rules = Every rule is kept.
sound-undone = { $time } of work is left undone.
sound-undone-see = See what, and why.

## Evenness

evenness-head = How evenly the work is shared
highest = highest
lowest = lowest
range = range
deviation = standard deviation
bound = proven bound
gap = gap
not-cleaning = not cleaning
not-cleaning-is = { $is } (no plan below { $least })
bound-lead = Nobody could get the longest run, { $name }'s, below { $least }; this plan's is { $load }.
bound-share = Nobody could get the longest run's share below { $bound } ({ $least } of the { $available } that { $name } has); this plan's is { $share } ({ $load }).
bound-unknown = The longest run is that of { $name }: { $share } ({ $load }). No bound is known for it.
bound-nobody = Nobody is present, so there is nothing to share.
bound-made-of = What the bound is made of
bound-part = What no plan can do without
share-is = Share: busy time of available time (shift less breaks and reserve).
share-bound = The broken line is the proven bound, { $bound }: no plan that does this work could bring the longest below it.
share-columns = Work (with getting ready and putting away), walk, fill (with emptying and machines) and wait in minutes. Waiting between stops is not load.
share-of = { $share } ({ $load } of { $available })
col-worker = Worker
col-share = Share
col-bar = 0 to { $most }
col-load = Load
col-work = Work
col-walk = Walk
col-fill = Fill
col-wait = Wait
col-floors = Floors
col-minutes = Minutes

## Undone

undone-nothing = Nothing: all work due is in a run.
undone-nobody = nobody present may do it: { $why }
undone-no-window = it fits no shift and window: { $why }
undone-too-late = too late for it that night: { $why }
undone-no-time = not enough time beside work that matters as much or more
priority-health = health
priority-expected = expected
priority-appearance = appearance
priority-duty = duty
col-place = Place
col-left = Left undone
n-places = { $count ->
    [one] 1 place
   *[other] { $count } places
}
n-more-places = { $count ->
    [one] 1 more place
   *[other] { $count } more places
}
n-broken = { $count ->
    [one] 1 rule broken
   *[other] { $count } rules broken
}

## Timeline

timeline-note = One row for each person. Point at a mark, or tap it, for its times.
timeline-runs = All runs, hour by hour
panel-also = Every time is also in the tables below.
marks = Marks
mark-work = work
mark-walk = walking
mark-fill = fresh water
mark-dump = emptying
mark-machine = machine
mark-setup = getting ready, putting away
mark-break = break
mark-wait = waiting
shift-of = Shift of { $name }, { $shift }
walk-to = Walk to { $place }, { $time }
groups-head = Is one always open? Rooms of which some must stay open
groups-note = Full bar: all rooms of the group are open. Hatched from above: so much of the group is closed. The line is what must stay open.
group-row = { $name }: at least { $keep } of { $rooms } must stay open; fewest open: { $fewest }
group-all = { $name }: all { $rooms } open where nothing is hatched
group-open = { $name }: { $open } of { $rooms } open, { $times }
closed-head = Rooms closed while they are cleaned
closed-note = Hatched: closed to users, from the first stop of a visit until it is open again.

## Maps

maps-head = Floor maps
map-schematic = Rooms are drawn at their doors along the halls. Outlines are schematic: as wide as the next doors allow, as deep as the area asks. They are no plan of walls, and none of ways out in an emergency.
map-laid-out = The site gives no drawing for some halls. They are laid out here by how they join: lengths are right, directions are not.
map-title = Floor { $floor }: who does which rooms
map-desc = { $name }: { $rooms }.
map-run = Floor { $floor }: run of { $name }, with the numbers of its stops
map-who = Who does which rooms
map-signs = Signs
map-water = fresh water
map-waste = waste
map-stairs = stairs
map-lift = lift
map-spot = entrance or other place
map-wet = restroom or changing room
map-route = way walked
floor-head = Floor { $floor }

## People and rooms

people-head = Runs, person by person
people-note = Numbers are those on the maps. Open "walk" for the way there.
rooms-head = Rooms
stops-of = Stops of { $name } in order
no-stops = No stops in this shift ({ $shift }).
not-due = nothing due
col-number = No.
col-time = Time
col-where = Where
col-what = What
col-where-what = Where and what
col-room = Room
col-floor = Floor
col-who = Who
col-when = When
col-done = Done
on-floor = floor { $floor }
with-cart = with a cart
on-foot = on foot
fact-shift = shift
fact-run = run
fact-share = share
fact-going = going
fact-floors = floors
fact-start = start and end
fact-breaks = breaks

## What is done at a stop

do-start = Start
do-end = End
do-set-up = Get ready
do-tear-down = Put away
do-close-clean = Close and clean
do-clean = Clean
do-close-spray = Close and spray
do-spray = Spray
do-wipe-mop = Wipe and mop
do-wipe = Wipe
do-reopen = Open again
do-fill = Fresh water
do-dump = Empty the cart
do-fetch = Fetch { $machine }
do-return = Bring back { $machine }
do-break = Break: { $name }
half-spray = spray ({ $tasks })
half-wipe = wipe ({ $tasks })
wait-spray = Spray still works: there at { $arrive }, wipe from { $begin }.
wait-dry = Floor still dries: there at { $arrive }, open from { $begin }.
wait-break = { $time } free before the break: there at { $arrive }, break from { $begin }.
wait-begin = There at { $arrive }; do not begin before { $begin } ({ $time } free).

## What is there

n-bowls = { $count ->
    [one] 1 bowl
   *[other] { $count } bowls
}
n-urinals = { $count ->
    [one] 1 urinal
   *[other] { $count } urinals
}
n-basins = { $count ->
    [one] 1 basin
   *[other] { $count } basins
}
n-mirrors = { $count ->
    [one] 1 mirror
   *[other] { $count } mirrors
}
n-dispensers = { $count ->
    [one] 1 dispenser
   *[other] { $count } dispensers
}
n-showers = { $count ->
    [one] 1 shower
   *[other] { $count } showers
}
n-bins = { $count ->
    [one] 1 bin
   *[other] { $count } bins
}
n-desks = { $count ->
    [one] 1 desk
   *[other] { $count } desks
}
n-sinks = { $count ->
    [one] 1 sink
   *[other] { $count } sinks
}
n-glass = { $count ->
    [one] 1 glass panel
   *[other] { $count } glass panels
}
n-couches = { $count ->
    [one] 1 couch
   *[other] { $count } couches
}

## What to mind at a stop

note-dwell = Wet for at least { $time } (label decides); wipe at { $then }.
note-dries-opens = Floor dries at least { $time }; opens at { $then } if dry.
note-dries = Floor dries at least { $time }; sign stays till dry.
note-halves = Way out: mop one half, let it dry, then the other.
note-water-only = Only for { $place }.
note-water-for = For { $place }.
note-next-water = Next fresh water: { $place }, { $then }.
note-water-trips = { $count ->
    [one] Time for 1 trip to change the water included.
   *[other] Time for { $count } trips to change the water included.
}
note-waste-trips = { $count ->
    [one] Time for 1 trip to empty the cart included.
   *[other] Time for { $count } trips to empty the cart included.
}

## The way

walk-time = walk { $time }
walk-to-floor = walk { $time }, to floor { $floor }
walk-stay = stay
walk-across = across the hall to { $end }
walk-near = to { $end }
walk-legs = { $legs } to { $end }
walk-left = left along { $hall } { $length }
walk-right = right along { $hall } { $length }
walk-along = along { $hall } { $length }
walk-way = { $way } to { $end }
walk-level = { $way } { $length } to { $end }
spot-left = { $hall }, left side, { $length } in
spot-right = { $hall }, right side, { $length } in
spot-start = start of { $hall }
spot-end = end of { $hall }

## Cards

kit-head = Take along
kit-keys = keys
kit-close = closing rooms
kit-wipe = wiping
kit-dry = dry work
kit-floor = floors
kit-machines = fetched on the way
as-at = as at stop { $number }
defects-head = Seen on the way
defects-note = Defects, what is used up, what was left and why: where, what, when.
mind-head = Mind
mind-of = Cautions for { $name }
mind-chemicals = Chemicals
mind-chemicals-do = Follow the product label, for gloves and eyes too. Never mix products. The contact time is the label's, not this sheet's.
mind-wet = Wet floors
mind-wet-do = Signs out before mopping; they stay until the floor is dry. Keep exits and ways out clear of carts, buckets and cords.
mind-sharps = Sharps, blood, body fluids
mind-sharps-do = Do not touch. Never reach into a bin or press a bag down. Keep others away, report it, and follow the site's procedure.
mind-lifting = Lifting
mind-lifting-do = Fill buckets and bags only as far as you can carry safely, lift with straight back and bent knees, and ask for help with more.
mind-machine = Machines
mind-machine-do = Only if you are trained on it. Look over cord and plug first; switch off and unplug before changing or emptying anything.
mind-closed = Closed rooms
mind-closed-do = Knock, call and make sure the room is empty before closing it; keep the sign up until it is open again.
mind-alone = Working alone
mind-alone-do = Keep a phone or radio on you and keep to the site's check-in times. Leave at once if something feels wrong.
mind-last = Who has the last word
mind-last-do = Product labels, the site's own rules and local codes come before this sheet; work that needs a licence is for those who hold it. Times are planning figures: never cut a contact or drying time short to keep one.

## Assumptions

assumptions-note = Times are planning figures. Product labels, the site's own rules and local codes come first.
figures-used = Rules and figures used
col-figure = What
col-value = Value
set-setup = getting ready
set-tear-down = putting away
set-reserve = kept free in every shift
set-overtime = most overtime
set-fill = fresh water
set-dump = emptying the cart
set-fetch = fetching a machine, and again bringing it back
set-band = shares count as equal within
set-walking = walking
walking-counted = counted
walking-free = left out
set-foot = speed on foot
set-cart = speed with a cart
set-stairs = speed on stairs, up and down
set-zone = time zone
zone-none = none: every day has 24 hours
set-seed = seed
set-iterations = iterations
set-program = program
sources-of = Where the minutes of each task come from
col-source = Source
col-tasks = Tasks
source-none = not stated

## Audit

nav-audit = Today and the best split
nav-findings = What is wrong today
nav-effort = Hard work
nav-rotation = Hard work over several plans
audit-head = Today's split: { $site }, { $date }
audit-caption = Each run of today's split beside the same person's run in the best plan found
audit-lead = Today { $least } to { $most }; possible { $leastBest } to { $mostBest }.
audit-bound = Highest share: today { $today }, best plan found { $best }, proven bound { $bound } (gap { $gap }).
audit-no-moves = No short list of moves was found that gets 80 % of the gain: look at the best plan as a whole.
audit-nothing-to-gain = There is nothing to gain by moving rooms.
audit-moves = { $count ->
    [one] Moving this room gets 80 % of the gain: the highest share is then { $after }.
   *[other] Moving these { $count } rooms gets 80 % of the gain: the highest share is then { $after }. A smaller set was not found.
}
audit-moves-smallest = { $count ->
    [one] Moving this room gets 80 % of the gain: the highest share is then { $after }.
   *[other] Moving these { $count } rooms gets 80 % of the gain: the highest share is then { $after }. Every smaller set was tried, and none does.
}
audit-hands = Rooms that change hands
audit-how = Load is busy time, share is load over available time. Today's runs may end after the shift here, which is then listed as a broken rule.
audit-moves-how = A set of moves is judged by putting each room where it costs least in its new run and timing that run exactly; every move that can be left out is left out.
findings-head = What is wrong with today's split
findings-none = Nothing: every rule is kept, and every room is somebody's.
finding-late = start not possible
finding-undone = undone
finding-unassigned = nobody's
finding-twice = given to two
late-is = { $worker } is to begin { $room } at { $said } and can at { $can }
twice-is = { $room }: { $first } has it, { $also } is written as well
effort-head = How hard the runs are
effort-today = Today
effort-best = Best plan found
effort-wet = Wet min
effort-restrooms = Restroom min
effort-steps = Steps up
effort-metres = Metres
effort-waste = Waste l
effort-heavy = Heavy min
effort-counted = In brackets: part of everybody's. Wet: spraying, damp wiping, mopping and filling buckets. Steps up: stairs climbed between stops. Metres: walked between stops on the level, without trips in the middle of a stop. Waste: litres collected; the site does not say what they weigh. Heavy: tasks marked heavy. Reported, not optimised.
rotation-head = Hard work over several plans
rotation-caption = Sum of all plans, part of everybody's, and in how many plans the person had the most
col-rooms-today = Rooms today
col-load-today = Load today
col-share-today = Share today
col-over = Over
col-rooms-best = Rooms best
col-load-best = Load best
col-share-best = Share best
col-from = From
col-to = To
col-finding = Finding
col-shifts = Shifts
n-more-findings = { $count ->
    [one] and one more of the kind
   *[other] and { $count } more of the kind
}

## Calendar

nav-calendar = Calendar
nav-calendar-work = What falls on which day
calendar-head = Calendar of periodic work: { $site }, { $from } to { $to }
calendar-counted = { $turns } turns of periodic work over { $days } working days; { $kept } of them stand as the calendar file has them.
calendar-lead = The heaviest day is at { $share } of the time available, work alone; { $before } if every task fell by itself. No calendar can be below { $bound } (gap { $gap }).
calendar-everybody = everybody
calendar-nobody = nobody's
calendar-heaviest = The heaviest day, as work over available time, without walking
calendar-days = Minutes of work on each working day
calendar-without-day = Without any day: the room is closed throughout, or its owner is never there
calendar-irregular = Not as far from the turn before as they should be
calendar-how = Work alone is counted: no walking, no fills. The bound is from a linear program that leaves spacing out, and is checked in whole numbers.
calendar-work-head = What falls on which day
calendar-event = { $count ->
    [one] Periodic work in one room
   *[other] Periodic work in { $count } rooms
}
col-without-calendar = Without
col-with-calendar = Calendar
col-bound = Bound
col-gap = Gap
col-day = Day
col-daily = Daily
col-periodic = Periodic

## Staff

nav-staff = How many people
nav-hours = Hours of work
nav-formulas = Published formulas
staff-head = How many people: { $site }, { $date }
staff-lead = { $enough } people are enough for all that fits into such a shift; fewer than { $atLeast } cannot be. Between the two nobody knows.
staff-proven = { $enough } people are enough for all that fits into such a shift, and fewer cannot be.
staff-none = No number of people was found to be enough; fewer than { $atLeast } cannot be.
staff-shift = Everybody works { $shift }; each has { $available } available.
staff-levels = By level of service: which work is done, the people found to be enough, the proven least, hours of cleaning, and people by hours a year / 1,760 (USPS)
staff-attempts = Plans by number of people: { $work }
staff-how = Enough: a plan with nothing undone was found. At least: with fewer, work, walking and fills that no plan avoids do not fit into the shifts.
staff-alike = People are taken to be alike: every skill and key, pace 1, a cart. A crew in which not everybody may do everything can take more.
staff-to-health = health only
staff-to-expected = health and expected
staff-to-appearance = everything
hours-head = Hours of cleaning
hours-caption = Hours a week by how often and how much it matters
hours-how = At pace 1, without walking, fills and duties. A year has 52.18 weeks here; holidays are not taken off.
hours-all = all
turn-daily = daily
turn-named = on named days
turn-weekly = so many times a week
turn-weeks = every so many weeks
turn-monthly = monthly
turn-termly = termly
formulas-head = Published formulas, for orientation
formulas-lead = These are not results of this plan: they know floor area ({ $area }, { $sqft } sq ft) and little else. People for 8 hours each.
formulas-differ = The lists disagree: at level 3 one has 19,000 to 25,000 square feet for a person, the other 28,000 to 31,000. A level is only worth something with the name of its list.
col-work-done = Work done
col-enough = Enough
col-at-least = At least
col-hours-week = Hours/week
col-hours-year = Hours/year
col-usps = By USPS
col-people = People
col-highest = Highest share
col-lowest = Lowest share
col-undone-time = Undone
col-undone-tasks = Undone tasks
col-often = How often
col-list = List
col-basis = Basis
col-turns = Turns
staff-levels-left = { $count ->
    [one] There was no time to look at one more kind of work asked for: give more seconds.
   *[other] There was no time to look at { $count } more kinds of work asked for: give more seconds.
}
staff-never = { $count ->
    [one] One task or duty is left undone by any number: nobody may do it, or it fits into no such shift even alone.
   *[other] { $count } tasks or duties are left undone by any number: nobody may do them, or they fit into no such shift even alone.
}
