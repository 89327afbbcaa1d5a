"""What a quantity reader says when it cannot read: the fault, what was expected, how to mend it."""


class QuantityError(ValueError):
    """Text that cannot be read as the quantity wanted.

    `problem` states the fault, `expected` what would have been right, `mend` what to write instead.
    """

    def __init__(self, problem: str, expected: str, mend: str) -> None:
        super().__init__(problem, expected, mend)
        self.problem = problem
        self.expected = expected
        self.mend = mend

    def __str__(self) -> str:
        return f"{self.problem}; expected {self.expected}; {self.mend}"


def quoted(text: str) -> str:
    """The text as it can stand in a message: shortened, with invisible characters made visible."""
    shown = "".join(sign if sign.isprintable() else f"<U+{ord(sign):04X}>" for sign in text[:40])
    return shown + "…" if len(text) > 40 else shown
