"""Holds the place of a module until something of it is asked for: see late."""


def __getattr__(name: str):
    import late

    return late.asked_for(__name__, name)
