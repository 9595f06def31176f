"""Which bars of the performance one measure can stand for, and the repeat signs, endings and jumps that say so."""
