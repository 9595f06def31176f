"""Commands for many lessons at once: checking them, putting them in form, and what is settled for them."""
