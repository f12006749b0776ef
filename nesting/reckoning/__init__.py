"""Sums of the trade: each module one subject, each rule a function, each dispute a parameter.

These are rules of thumb and exact formulas from published sources, which are named beside each.
They know lengths in mm and the pieces of a pattern, and nothing of bolts or markers. Where
geometry gives the true answer, as for cloth to buy, the marker is to be believed and the rule of
thumb is what it is compared with.
"""
