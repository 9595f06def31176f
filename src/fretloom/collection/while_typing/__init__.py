"""What is shown to somebody who types a lesson: what stands at a place, what may follow, what there is."""
