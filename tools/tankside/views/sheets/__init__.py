"""What each kind of sheet shows, beside the step sheet, which shows what the page does."""
