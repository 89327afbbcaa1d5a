"""`ohmstead bench FILE --walk`: one step at a time, in large letters, each reading safe before the verdict shows."""

from collections.abc import Callable, Iterator

from ..bench import words
from ..bench.figures import band_text, shown_at, unit_of, value_text
from ..bench.session import Outcome, Session
from ..bench.step import Step
from .bench_texts import WALK
from .block_letters import large
from .paper import Paper, wrapped

STYLE = {"good": "fine", "look": "tight", "stop": "danger"}
INDENT = 10


class Walk:
    """The talk at the bench; `ask` gives what was typed and raises EOFError at the end of it."""

    def __init__(
        self, session: Session, ask: Callable[[str], str], say: Callable[[str], None], sheet: Paper, wide: int
    ) -> None:
        self.session, self.ask, self.say, self.sheet, self.wide = session, ask, say, sheet, wide
        self._note = ""

    def run(self) -> None:
        """From the first step without an answer to the end, or until somebody says quit."""
        step = self.session.next_step()
        while step is not None:
            for line in self.shown_step(step):
                self.say(line)
            following = self._answer(step)
            if following == "quit":
                break
            step = following if isinstance(following, Step) else self._after(step)
        for line in self.closing():
            self.say(line)

    def shown_step(self, step: Step) -> Iterator[str]:
        """A step as it stands on the terminal."""
        steps = self.session.plan.steps
        number = next(k for k, other in enumerate(steps, 1) if other.id == step.id)
        yield ""
        yield self.sheet.rule("━")
        yield WALK["stage"].format(number=number, count=len(steps), stage=words.STAGES[step.stage])
        yield self.sheet.ink(step.title, "title")
        yield from wrapped(step.act, 2)
        if step.probes:
            yield from wrapped(step.probes, 2)
        for caution in step.cautions:
            yield self.sheet.ink(f"  ! {caution}", "strong")
        yield ""
        if step.asks == "number":
            band = band_text(step)
            for row in large(value_text(step), self.wide) if step.value is not None else ():
                yield f"  {self.sheet.ink(row, 'strong')}"
            yield f"  {WALK['expect']} {band}   ({WALK['bare'].format(unit=unit_of(step))})"
        yield f"  {self.sheet.ink(WALK['help'], 'quiet')}"

    def _answer(self, step: Step) -> Step | str:
        """What comes after an answer: a step to go to, "next" or "quit"."""
        entered: Outcome | None = None
        while True:
            try:
                prompt = "answer" if entered else "prompt-tick" if step.asks == "tick" else "prompt"
                text = self.ask(WALK[prompt]).strip()
            except EOFError:
                return "quit"
            word, _, rest = text.partition(" ")
            try:
                if word in ("quit", "q"):
                    return "quit"
                if word == "back":
                    return self._before(step)
                if word == "undo":
                    gone = self.session.undo(WALK["undo-note"])
                    self.say(WALK["undone"] if gone else WALK["nothing-undone"])
                    return gone or step
                if word == "skip":
                    self.session.skip(step, rest)
                    self.say(WALK["skipped"].format(reason=rest.strip()))
                    return "next"
                if word == "next" and entered is not None:
                    if entered.verdict is not None and entered.verdict.word == "stop" and not rest.strip():
                        raise ValueError(words.SAY_WHY)
                    if rest.strip():
                        self.session.annotate(step, rest.strip())
                    return "next"
                if word in ("?", "help"):
                    self._causes(step)
                elif word == "note":
                    self._note = rest.strip()
                    self.say(WALK["noted"])
                elif text:
                    entered = self._enter(step, text)
                    if entered.verdict is not None and entered.verdict.word == "good":
                        return "next"
            except ValueError as error:
                self.say(WALK["wrong"].format(reason=error))

    def _enter(self, step: Step, text: str) -> Outcome:
        old = self.session.answered(step)
        outcome = self.session.enter(step, text, self._note)
        self._note = ""
        verdict = outcome.verdict
        assert verdict is not None
        value = outcome.entry.reading.value or 0.0
        said = words.VERDICTS[verdict.word]
        for row in large(said, self.wide):
            self.say(f"  {self.sheet.ink(row, STYLE[verdict.word])}")
        if step.asks == "number":
            self.say(f"  {shown_at(step, value)} {words.SIDES[verdict.side]}".rstrip())
        for cause in verdict.causes:
            self.say(f"  - {cause}")
        kept = "stored" if old is None else "corrected"
        self.say(WALK[kept].format(number=outcome.entry.number, old=old.number if old else 0))
        if verdict.word != "good":
            self.say(WALK["stop-first" if verdict.word == "stop" else "look"])
        return outcome

    def _causes(self, step: Step) -> None:
        for side, causes in (("low", step.causes_low), ("high", step.causes_high)):
            if causes and (step.asks == "number" or side == "high"):
                self.say(f"  {words.SIDES[side] if step.asks == 'number' else words.CROSS}:")
                for cause in causes:
                    self.say(f"  - {cause}")
        self.say(f"  {step.basis}")

    def _after(self, step: Step) -> Step | None:
        """The next step; after a battery was measured the plan is made anew with it."""
        if step.id.startswith("battery.rest."):
            self.session.refresh()
        else:
            self.session.look_again()
        steps = self.session.plan.steps
        here = next(k for k, other in enumerate(steps) if other.id == step.id)
        return next((other for other in steps[here + 1 :] if self.session.answered(other) is None), None)

    def _before(self, step: Step) -> Step:
        steps = self.session.plan.steps
        here = next(k for k, other in enumerate(steps) if other.id == step.id)
        if here == 0:
            self.say(WALK["first"])
        return steps[max(here - 1, 0)]

    def closing(self) -> Iterator[str]:
        """How it stands."""
        outcomes = self.session.outcomes()
        tally = {"good": 0, "look": 0, "stop": 0, "skipped": 0}
        for outcome in outcomes:
            tally[outcome.verdict.word if outcome.verdict else "skipped"] += 1
        left = len(self.session.plan.steps) - len(outcomes)
        yield ""
        if left:
            yield WALK["later"].format(left=left)
        else:
            yield WALK["end"].format(**tally)
