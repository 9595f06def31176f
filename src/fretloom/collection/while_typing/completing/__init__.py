"""What may follow at a place of a lesson that is being typed."""
