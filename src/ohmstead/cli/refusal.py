"""A command that cannot be done as asked."""


class Refused(Exception):
    """What is wrong, and the cure: `Refused(problem, mend)`."""
