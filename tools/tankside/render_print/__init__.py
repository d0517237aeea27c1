"""Sheets for the wall, as PDF. All that knows WeasyPrint."""
