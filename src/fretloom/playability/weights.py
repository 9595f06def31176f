"""Weights of the fingering terms, in units in which a difference of 1 means odds of 2.7 to 1."""

#: What the thumb over the neck costs (an assumption: the data has no such fingerings).
THUMB_COST = 4.0

FITTED: dict[str, float] = {
    "fingers": -0.9, "skip": -0.2,
    "use1": -3.1, "use2": -1.5, "use3": 1.2, "use4": 2.5, 
    "barre1": -0.3, "barre2": 1.9, "barre3": 2.9, "barre4": 6.3,
    "barre1_extra": -4.9, "barre2_extra": 0.3, "barre3_extra": -3.0, "barre4_extra": -2.1,
    "barre_gap": 1.6, "barre_gap_hi": 0.3, "barre_arch1": 2.6, "barre_arch": 2.5,
    "barre1_open": -0.8, "reversed": 5.8, "sameskip": 0.7,
    "spread12": 5.1, "spread13": 4.3, "spread14": 5.0, "spread23": 3.9, "spread24": -1.1,
    "spread34": 2.0, "squeeze12": 0.1, "squeeze13": -0.2, "squeeze14": -0.1, "squeeze23": -2.7,
    "squeeze24": 0.2, "squeeze34": -3.9, "stretchmm": 0.5, "slant": -0.9,
}  # fmt: skip
