"""Write, check and publish fingerstyle guitar lessons."""
