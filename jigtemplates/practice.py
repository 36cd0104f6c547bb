"""Figures of the trade that several rooms work with, each with its source; mm."""

#: A bit this much wider than the cut still counts as fitting (`template.FITS`, which is made from the offset's
#: slack, said again here so that light commands need no geometry; a test holds the two together).
FITS = 1e-5

#: Running clearance when none is given (chosen: a bushing of nominal size just slides).
CLEARANCE = 0.1

#: Least room for chips, bore less bit: 1/16 in (a router manual, read; see references).
LEAST_ROOM = 25.4 / 16

#: With less room than this, bore less bit, the bit touches the bushing. Chosen: a bushing is rarely centred better
#: than 0.05 mm (what the budget of errors takes), bit and collet run out as much, and both count on either side.
TOUCHES = 0.2

#: Better room for chips: 1/16 in a side (B. Hylton, Router Magic, read).
BETTER_ROOM = 25.4 / 8

#: Least of a bushing's wall, outside diameter less bore: 5/16 in with a bore of 1/4 in (shop tip "router
#: template offsets", alan.net, read; see references).
LEAST_WALL = 25.4 / 16

#: Least length of stem against the template's edge. Chosen: half the shortest stem that is sold,
#: 3/16 in (WOOD, "Get on Board with Guide Bushings", read), and a little.
LEAST_ENGAGEMENT = 3.0

#: Deepest single pass whatever the bit (about 5 mm: common practice, no source).
DEEPEST_PASS = 5.0

#: Least length of shank in the collet: 3/4 in (trade articles, read; see references).
HELD = 19.05

#: Corners that reach less far than this are not worth a word (chosen).
HAIR = 0.01

#: Fit of a loose tenon in its mortise, thickness: strongest at a tight 0.1 mm (Elek et al., Eur. J. Wood Wood
#: Prod. 78, 2020, abstract read); snug against loose is about 0.005 in, 0.13 mm (forum, read).
FIT = 0.1

#: Glue room at the bottom of each mortise, least and most: 1/16 to 1/8 in (Popular Woodworking, "Make More Room
#: in the Mortise", read).
GLUE_ROOM = (25.4 / 16, 25.4 / 8)
