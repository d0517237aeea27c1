"""The offline site: shells for the theme, our own blocks, emergency pages, search. All that knows the theme."""
