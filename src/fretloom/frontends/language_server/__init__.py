"""The language server: what an editor shows of a lesson while it is typed, by the Language Server Protocol."""
