"""The cabinet: walls, vents, fan, filter, sun on its faces, air in two zones, hour by hour."""
