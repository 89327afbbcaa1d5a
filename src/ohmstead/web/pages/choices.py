"""What the file leaves open: proposals with their reasons, taken one by one or all together."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...choose.apply import written
from ...choose.decide import Proposal, decide
from ...quantity.show import show
from ..answers import back, desk_of, guarded, page
from ..desk import Desk
from ..tab import Tab
from .change import posted

TAB = Tab("choices", 20)


@guarded
def choices(request: Request) -> Response:
    """Proposals for everything left open."""
    desk = desk_of(request)
    found = _decided(desk)
    return page(request, "choices.html", desk=desk, found=found, mass=show(found.mass_kg, "mass"))


def take(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Write the picked ones into the file."""
    picked = {key.removeprefix("take:") for key in values if key.startswith("take:")}
    found = [choice for choice in _decided(desk).choices if str(choice.place.start) in picked]
    desk.write(values.get("mark", ""), written(desk.text(), found))
    return back(request, "choices")


def _decided(desk: Desk) -> Proposal:
    """Decided once for each text."""
    study = desk.study()
    kept: Proposal | None = study.__dict__.get("_proposal")
    if kept is None:
        kept = study.__dict__["_proposal"] = decide(study.site)
    return kept


ROUTES = (
    Route("/s/{file}/choices", choices, name="choices"),
    posted(take, "take", "/s/{file}/choices"),
)
