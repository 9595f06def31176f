"""A guitar that plays a playback: strings as sums of their partials, a body, a room."""
