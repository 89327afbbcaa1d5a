"""What is wrong with the name of a part."""


class PartError(ValueError):
    """A part's text that cannot be understood: the fault, what is expected, and how to mend it."""

    def __init__(self, problem: str, expected: str, mend: str) -> None:
        super().__init__(f"{problem}; expected {expected}; mend: {mend}")
        self.problem = problem
        self.expected = expected
        self.mend = mend
