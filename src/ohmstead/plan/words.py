"""Every text of the plan that a reader sees and that is not of a rule or a sheet."""

DEMANDS = {
    "gap": "the gap between parts",
    "hands": "room for hands before terminals and plugs",
    "air": "free air above and below",
    "bends": "room for cables to bend",
    "lights": "sight of the indicator lights",
    "mains": "distance from mains voltage",
    "ducts": "the ducts",
    "heights": "parts that sit high, low or at a height",
    "outlines": "the bare outlines of the parts",
}
NO_PLACE = "the plate does not hold all parts: {left} no place"
FINDS, FIND = "{names} finds", "{names} find"
COLLIDE = "together these take more than there is: {demands}"
NO_PLACE_EXPECTED = "a plate on which every part finds its place"
NO_PLACE_MEND = "take a larger plate, narrower ducts, fewer rows or smaller clearances, or move a part elsewhere"
NO_SOLVER = "{name} has no place, and what finds places is not installed here"
NO_SOLVER_EXPECTED = "a place for every part, or OR-tools"
NO_SOLVER_MEND = "run pip install 'ohmstead[plan]', or state at: [120 mm, 80 mm] for each part and across for the ducts"
NO_WAY = "no way on the plate leads from {start} to {end}"
NO_WAY_EXPECTED = "a free way between parts, or ducts that reach both"
NO_WAY_MEND = "leave a gap beside the part, or move what stands in the way"
FUSE_BEYOND = "the fuse at {at} sits beyond the {length} that the plan gives this run"
FUSE_BEYOND_EXPECTED = "a place of the fuse within the run"
FUSE_BEYOND_MEND = "put the fuse at the source end, such as fuse at: 0 m"
