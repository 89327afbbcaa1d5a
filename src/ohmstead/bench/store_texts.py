"""What the store of readings says: for each fault what happened, what was expected, how to mend it."""

FAULTS: dict[str, tuple[str, str, str]] = {
    "full": (
        "the disk is full; this reading was NOT stored, all earlier ones are safe",
        "room for a few kB",
        "free some space and enter the reading again",
    ),
    "read-only": (
        "readings cannot be stored here: the folder or the file may only be read",
        "a folder that you may write to, since the store keeps its log beside itself",
        "change its permissions, or copy the site file and its readings into a folder of your own",
    ),
    "newer": (
        "these readings were written by a newer Ohmstead (form {found}; this one knows up to {known}); "
        "nothing was touched",
        "readings of form {known} or older",
        "install the newer Ohmstead, or let it export the readings as CSV",
    ),
    "foreign": (
        "this file is no store of readings, or its beginning is damaged; nothing was touched",
        "a file made by `ohmstead readings`, or none yet",
        "move it away, or put back a copy from your backups",
    ),
    "damaged": (
        "the store of readings is damaged ({reason})",
        "a file as it was written",
        "copy it and what lies beside it to a safe place first; `ohmstead readings FILE --rescue CSV` saves what can "
        "still be read",
    ),
    "busy": (
        "somebody else has been writing for {seconds:.0f} s; this reading was NOT stored",
        "a moment in which nobody else writes",
        "enter it again; if it stays so, close the other programs that have this file open",
    ),
    "moved": (
        "the file of readings was moved, replaced or deleted while it was open; this reading may be lost with it",
        "the same file from opening to closing",
        "look where the file went, open it again and enter the last reading again",
    ),
    "disk": (
        "the disk reports a fault ({reason}); this reading was NOT stored",
        "a disk that writes",
        "copy the readings to another disk at once, then look at this one",
    ),
    "old-library": (
        "the SQLite of this Python is {found}",
        "SQLite 3.37 or newer",
        "use a newer Python",
    ),
    "none-yet": (
        "there are no readings yet",
        "a file of readings beside the site file",
        "enter the first one with `ohmstead readings FILE --add`",
    ),
    "nowhere": (
        "there is no folder {folder}",
        "the folder of the site file",
        "check the spelling of the path",
    ),
    "no-entry": ("there is no reading number {number}", "a number that the list shows", "list the readings"),
    "corrected": (
        "reading {number} was already corrected by reading {by}, of {who}",
        "the newest row of a reading",
        "look at reading {by} and correct that one, if it is still wrong",
    ),
    "withdraw": (
        "a withdrawn reading needs a reason",
        "a few words why it does not count",
        "say why, such as `lead was in the wrong socket`",
    ),
    "picture-kind": (
        "{name} is no picture that is taken",
        "a JPEG, PNG, WebP or PDF",
        "save the picture in one of these forms",
    ),
    "picture-size": (
        "{name} has {size:.1f} MB",
        "at most {most:.0f} MB a picture",
        "make the picture smaller",
    ),
    "no-value": ("a reading without a value", "a number with its unit", "enter what the meter shows"),
    "clash": (
        "another reading was stored under the same token",
        "one token for each reading",
        "leave the token out, or make a new one",
    ),
    "quantity": (
        "'{given}' is no quantity",
        "voltage, current, resistance, power or temperature",
        "choose one of these",
    ),
    "point": ("it is not said what was measured", "the point of measuring", "name the point, as the plan calls it"),
    "who": ("it is not said who measured", "a name or initials", "say who you are"),
    "value": ("{given} is no reading", "a finite number", "enter what the meter shows"),
    "uncertainty": ("{given} is no uncertainty", "0 or more, in the unit of the reading", "leave it out if unknown"),
    "long": ("the {given} is too long", "at most {most} characters", "shorten it"),
    "control": ("the {given} holds invisible control characters", "plain text", "type it again"),
    "at": ("'{given}' is no moment", "a date and time such as 2026-11-27T09:14:00Z", "write it so"),
    "revision": ("'{given}' is no checksum of a site file", "64 hexadecimal digits", "use `revision_of` the text"),
}

# A row of a sheet that cannot be read in.
ROW_FAULTS: dict[str, tuple[str, str, str]] = {
    "no-head": (
        "the first line does not name the columns",
        "a head with `value` and either `step` or `point`, such as step,value,unit,who",
        "write it, or start from the sheet that `ohmstead bench FILE --csv plan.csv` makes",
    ),
    "no-step": (
        "the plan has no step '{given}'",
        "a step of the plan, or a point with its state and quantity",
        "copy the step from the plan of this site file",
    ),
    "at-or-uncertainty": (
        "'{given}' is no moment, or the uncertainty is no number",
        "a date and time such as 2026-11-27T09:14:00Z, and a plain number",
        "write them so, or leave them out",
    ),
    "unreadable": ("'{given}' cannot be taken: {problem}", "a reading with its unit", "{mend}"),
}
AS_ASKED = "write it as the sheet asks"
