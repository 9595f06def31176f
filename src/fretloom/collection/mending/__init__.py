"""Sure changes that findings carry, made in the files of lessons."""
