"""Cooks of our own making, in ovens of our own making: a second model, for tests and benches only.

It is built otherwise than skills/oven on purpose: nine zones of fine cells instead of three columns, grey exchange
between zones instead of one node, films that grow with the difference, flames with a delay and a peak, embers that
fade slower behind a shut door, gusts. Where it and skills/oven agree, that is not because they share code.
"""
