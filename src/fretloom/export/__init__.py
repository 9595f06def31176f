"""The formats a lesson leaves in: one module, or a few, each."""
