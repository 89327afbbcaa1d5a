"""From filled blocks to files: HTML, PDF, CSV, a workbook."""
