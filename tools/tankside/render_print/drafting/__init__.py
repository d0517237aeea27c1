"""Each kind of sheet as a draft: its view, its template, its paper and its type size."""
