"""The box: how warm it gets hour by hour, what would cool it, and what is left open decided."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...choose.cabinet.decide import decisions
from ...choose.cabinet.ways import ways
from ...cli.heat_texts import HEAT
from ...cli.heat_words import part_rows, way_row
from ...sheets.boxed.pictures import pictures
from ...site.edit import replace_value
from ..answers import back, desk_of, guarded, page
from ..chapters import contents
from ..desk import Desk
from ..tab import Tab
from .change import posted
from .plate import plate_of

CHAPTERS_HERE = ("zones", "cabinet", "fan", "filter", "plate", "entries", "mounts")
TAB = Tab("cabinet", 40)


@guarded
def cabinet(request: Request) -> Response:
    """Every cabinet of the file."""
    desk = desk_of(request)
    study = desk.study()
    boxes = [
        {
            "name": view.name,
            "parts": [tuple(map(str, row)) for row in part_rows(view)],
            "ways": [tuple(map(str, way_row(way))) for way in ways(view)],
            "decided": decisions(view),
            "pictures": pictures(view),
        }
        for view in study.evidence.cabinets
    ]
    heads = (HEAT["parts-head"].split("|"), HEAT["ways-head"].split("|"))
    plate = plate_of(request, desk)
    told = contents(study.site, study.site.text, CHAPTERS_HERE)
    return page(request, "cabinet.html", desk=desk, contents=told, boxes=boxes, heads=heads, plate=plate)


def take(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Write the picked decisions into the file."""
    picked = {key.removeprefix("take:") for key in values if key.startswith("take:")}
    found = [decision for view in desk.study().evidence.cabinets for decision in decisions(view) if decision.chosen]
    text = desk.text()
    for decision in sorted(found, key=lambda decision: decision.place.start, reverse=True):
        if str(decision.place.start) in picked:
            text = replace_value(text, decision.place, decision.chosen)
    desk.write(values.get("mark", ""), text)
    return back(request, "cabinet")


ROUTES = (
    Route("/s/{file}/cabinet", cabinet, name="cabinet"),
    posted(take, "cabinet-take", "/s/{file}/cabinet"),
)
