"""What all pages for students tell, as values: the head, the road, the pieces of a step, what is said of them."""
