"""Pictures of a season: the battery through the worst year, the worst fortnight by the hour, months in balance."""

from collections.abc import Callable, Sequence

from ..sun.hours import HOURS_A_YEAR, FloatArray
from .canvas import CELLS, GRID, HEAD, HELD, INK, LACK, LOAD, PAPER, SUN, Canvas, ticks
from .ledger import Ledger
from .year import EPS_WH, FORTNIGHT, MONTHS, calendar_days, months_of, worst_begin

Place = Callable[[FloatArray, float, float, float], list[tuple[float, float]]]
BATTERY_NOTE = "Framed: lowest to highest state of the day; the box is empty at its bottom and full at its top."


def pictures(ledger: Ledger) -> dict[str, str]:
    """File name -> SVG."""
    return {
        "battery-through-the-year.svg": calendar(ledger),
        "worst-fortnight.svg": fortnight(ledger),
        "months.svg": balance(ledger),
    }


def worst_year(ledger: Ledger) -> int:
    """The year, counted from 0, with most unserved; where nothing lacks, the one with the lowest battery."""
    unserved = ledger.unserved_w.reshape(-1, HOURS_A_YEAR).sum(axis=1)
    if float(unserved.max()) > EPS_WH:
        return int(unserved.argmax())
    return int(ledger.state_fraction.reshape(-1, HOURS_A_YEAR).min(axis=1).argmin())


def calendar(ledger: Ledger) -> str:
    """A box a day, a row a month: how full the battery was, and on which days the load lacked."""
    which = worst_year(ledger)
    cut = slice(which * HOURS_A_YEAR, (which + 1) * HOURS_A_YEAR)
    state = ledger.state_fraction[cut].reshape(365, 24)
    lack = (ledger.unserved_w[cut].reshape(365, 24) > EPS_WH).sum(axis=1)
    wide, high, left, top = 26.0, 34.0, 92.0, HEAD + 26.0
    n_lack = int((lack > 0).sum())
    number = f"year {which + 1} of {ledger.hours.n_year}, the worst" if ledger.hours.n_year > 1 else "the year"
    sheet = Canvas(left + 31 * wide + 24, top + 12 * (high + 6) + 66, f"State of the battery, {number}",
                   f"{BATTERY_NOTE} {n_lack} days with a lack.")  # fmt: skip
    month, day = calendar_days()
    for number_of_day in range(1, 32):
        sheet.words(left + (number_of_day - 0.5) * wide, top - 8, str(number_of_day), "middle faint", 9.5)
    for index, name in enumerate(MONTHS):
        sheet.words(left - 10, top + index * (high + 6) + high / 2 + 4, name, "end")
    for index in range(365):
        x = left + (int(day[index]) - 1) * wide + 1
        y = top + int(month[index]) * (high + 6)
        sheet.box(x, y, (wide - 2, high), PAPER, GRID)
        low, most = float(state[index].min()), float(state[index].max())
        sheet.box(x, y + high * (1 - low), (wide - 2, high * low), HELD)
        sheet.box(x, y + high * (1 - most), (wide - 2, max(high * (most - low), 1.5)), CELLS, INK)
        if lack[index]:
            share = float(lack[index]) / 24.0
            sheet.box(x, y + high + 0.5, ((wide - 2) * share, 4), LACK)
    bottom = top + 12 * (high + 6) + 22
    sheet.key(left, bottom, ((CELLS, "state of the battery"), (LACK, "hours of the day with a lack, below the box")))
    return sheet.svg()


def fortnight(ledger: Ledger) -> str:
    """Two panels over the fourteen worst days: power, and the state of the battery."""
    first = 24 * worst_begin(ledger)
    cut = slice(first, first + 24 * FORTNIGHT)
    month, day = calendar_days()
    left, right, top, tall, low_tall = 64.0, 940.0, HEAD + 30.0, 210.0, 130.0
    below = top + tall + 34
    lacking = float(ledger.unserved_w[cut].sum()) / 1000
    words = f"{lacking:.2f} kWh unserved" if lacking > 0 else "nothing unserved"
    sheet = Canvas(right + 24, below + low_tall + 74, f"The worst fortnight: {words}",
                   "Hours; days begin in the standard time of the weather.")  # fmt: skip
    harvest, asked, served = ledger.harvest_w[cut], ledger.asked_w[cut], ledger.served_w[cut]
    given = harvest + ledger.backup_w[cut]
    marks = ticks(float(max(given.max(), asked.max())))

    def place(values: FloatArray, most: float, bottom: float, height: float) -> list[tuple[float, float]]:
        """Steps: each hour a level stretch."""
        across = (right - left) / len(values)
        return [(left + (i + side) * across, bottom - height * float(value) / most)
                for i, value in enumerate(values) for side in (0, 1)]  # fmt: skip

    floor = top + tall
    for mark in marks:
        y = floor - tall * mark / marks[-1]
        sheet.line(((left, y), (right, y)), GRID)
        sheet.words(left - 8, y + 4, f"{mark:g}", "end faint", 10)
    sheet.words(left, top - 10, "power, W", "start strong")
    upper, lower = place(asked, marks[-1], floor, tall), place(served, marks[-1], floor, tall)
    sheet.area([*upper, *reversed(lower)], "url(#lack)")
    sun = place(harvest, marks[-1], floor, tall)
    sheet.area([(left, floor), *sun, (right, floor)], SUN)
    key = [(SUN, "harvest"), (LOAD, "load asked for"), ("url(#lack)", "unserved")]
    if ledger.loads.backup is not None:
        sheet.area([*place(given, marks[-1], floor, tall), *reversed(sun)], "url(#backup)")
        key.append(("url(#backup)", "back-up"))
    sheet.line(sun, INK, 0.8)
    sheet.line(upper, LOAD, 1.8)
    sheet.key(left + 150, top - 10, key)
    _state_panel(sheet, ledger, cut, (left, right, below, low_tall), place)
    for index in range(FORTNIGHT + 1):
        x = left + index * (right - left) / FORTNIGHT
        sheet.line(((x, top), (x, floor)), GRID, 0.8)
        sheet.line(((x, below), (x, below + low_tall)), GRID, 0.8)
        if index < FORTNIGHT:
            number = (first // 24 + index) % 365
            label = f"{int(day[number])} {MONTHS[int(month[number])][:3]}"
            sheet.words(x + (right - left) / FORTNIGHT / 2, below + low_tall + 18, label, "middle", 10.5)
    return sheet.svg()


def _state_panel(sheet: Canvas, ledger: Ledger, cut: slice, frame: tuple[float, float, float, float],
                 place: Place) -> None:  # fmt: skip
    """State of the battery with the thresholds of the disconnect."""
    left, right, top, tall = frame
    floor = top + tall
    full = max(ledger.rules.full_wh, 1e-9)
    state = ledger.state_fraction[cut]
    sheet.words(left, top - 10, "state of the battery, % of its energy", "start strong")
    sheet.area([(left, floor), *place(state, 1.0, floor, tall), (right, floor)], CELLS)
    for mark in (0, 25, 50, 75, 100):
        y = floor - tall * mark / 100
        sheet.line(((left, y), (right, y)), GRID)
        sheet.words(left - 8, y + 4, str(mark), "end faint", 10)
    sheet.line(place(state, 1.0, floor, tall), INK, 1.4)
    if ledger.rules.cut_wh > ledger.rules.floor_wh:
        for energy, text in ((ledger.rules.cut_wh, "disconnect opens"), (ledger.rules.back_wh, "closes again")):
            y = floor - tall * energy / full
            sheet.line(((left, y), (right, y)), LACK, 1.2, "5 3")
            sheet.words(right - 4, y - 4, text, "end", 10)


def balance(ledger: Ledger) -> str:
    """Two columns a month: what the sun would give, and what the load asked for."""
    months = months_of(ledger)
    left, top, tall, wide = 64.0, HEAD + 34.0, 280.0, 72.0
    sheet = Canvas(left + 12 * wide + 24, top + tall + 74, "Months of a mean year, kWh a day at the battery",
                   "Left column: what comes in. Right column: load. What comes in over the load served goes through "
                   "the battery or is lost in it.")  # fmt: skip
    marks = ticks(max(max(m.harvest_wh + m.backup_wh, m.served_wh + m.unserved_wh) for m in months) / 1000)
    floor, scale = top + tall, tall / marks[-1] / 1000
    for mark in marks:
        y = floor - tall * mark / marks[-1]
        sheet.line(((left, y), (left + 12 * wide, y)), GRID)
        sheet.words(left - 8, y + 4, f"{mark:g}", "end faint", 10)
    for index, month in enumerate(months):
        x = left + index * wide + 8
        used_wh = month.harvest_wh - month.spilled_wh
        _column(
            sheet,
            x,
            floor,
            ((used_wh, SUN), (month.backup_wh, "url(#backup)"), (month.spilled_wh, "url(#spilled)")),
            scale,
        )
        _column(sheet, x + 29, floor, ((month.served_wh, LOAD), (month.unserved_wh, "url(#lack)")), scale)
        sheet.words(x + 28, floor + 18, month.name[:3], "middle")
        if month.unserved_wh > 0.005 * (month.served_wh + month.unserved_wh):
            lack = month.unserved_wh / (month.served_wh + month.unserved_wh)
            sheet.words(x + 28, floor + 33, f"lack {100 * lack:.0f} %", "middle faint", 9.5)
    sheet.line(((left, floor), (left + 12 * wide, floor)), INK, 1.2)
    backed = [("url(#backup)", "back-up")] if ledger.loads.backup is not None else []
    sheet.key(left, top - 16, ((SUN, "harvest used"), *backed, ("url(#spilled)", "harvest spilled"),
                               (LOAD, "load served"), ("url(#lack)", "load unserved")))  # fmt: skip
    return sheet.svg()


def _column(sheet: Canvas, x: float, floor: float, pieces: Sequence[tuple[float, str]], scale: float) -> None:
    for energy_wh, fill in pieces:
        height = max(0.0, energy_wh) * scale
        floor -= height
        sheet.box(x, floor, (26, height), fill, INK)
