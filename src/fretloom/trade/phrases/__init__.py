"""The words of the pages for students, in one table a language."""
