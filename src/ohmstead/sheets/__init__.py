"""The sheets to build from: one file a sheet, found by folder, all made of the same few blocks."""
