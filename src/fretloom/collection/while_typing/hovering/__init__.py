"""What is shown of the thing that stands at a place of a lesson."""
