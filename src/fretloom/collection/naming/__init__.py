"""Names in the lessons of a collection: where each is given, where it is used, and how it is changed."""
