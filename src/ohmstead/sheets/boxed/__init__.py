"""Pictures of a cabinet: the hottest and the coldest day by the hour, and the fan where it works."""
