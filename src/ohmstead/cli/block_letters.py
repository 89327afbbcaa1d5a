"""Block letters for a terminal on a bench, read from an arm's length."""

WIDE = 5
GAP = 1

_SHAPES = {
    "0": " ### #   ##   ##   # ### ", "1": "  #   ##    #    #   ### ", "2": "####     # ### #    #####",
    "3": "####     # ###     ##### ", "4": "#  # #  # #####   #    # ", "5": "######    ####     ##### ",
    "6": " ### #    #### #   # ### ", "7": "#####   #   #   #    #   ", "8": " ### #   # ### #   # ### ",
    "9": " ### #   # ####    # ### ", ".": "                      #  ", "-": "          ###            ",
    "+": "       #   ###   #       ", " ": "                         ", "%": "##  #   #   #   #   #  ##",
    "A": " ### #   #######   ##   #", "D": "#### #   ##   ##   ##### ", "G": " #####    #  ###   # ####",
    "I": " ###   #    #    #   ### ", "K": "#   ##  # ###  #  # #   #", "L": "#    #    #    #    #####",
    "N": "#   ###  ## # ##  ###   #", "O": " ### #   ##   ##   # ### ", "P": "#### #   ##### #    #    ",
    "S": " #####     ###     ##### ", "T": "#####  #    #    #    #  ", "V": "#   ##   # # #  # #   #  ",
    "W": "#   ##   ## # ### ###   #", "k": "#    #  # # #  # #  #   #", "m": "     ## # # # ## # ## # #",
    "µ": "     #   ##   ## ###    #", "Ω": " ### #   ##   # # # ## ##", "°": " ##  #  #  ##            ",
    "C": " #####    #    #     ####", "n": "     ###  #  # #  # #  # ", "y": "     #  # #  #  ###    # ",
    "e": " ### #   ######     ###  ", "s": "      ### #     ##  ###  ", "o": "      ##  #  # #  #  ##  ",
    "h": "#    #    ###  #  # #  # ",
}  # fmt: skip


def large(text: str, most: int) -> list[str]:
    """A text in five rows of block letters; the text itself where it is wider than `most` or a sign is missing."""
    if len(text) * (WIDE + GAP) > most or any(sign not in _SHAPES for sign in text):
        return [text]
    rows = []
    for row in range(WIDE):
        line = (" " * GAP).join(_SHAPES[sign][row * WIDE : (row + 1) * WIDE] for sign in text)
        rows.append(line.replace("#", "█").rstrip())
    return rows
