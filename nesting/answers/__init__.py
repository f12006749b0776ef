"""What people ask: how much, which bolt, what a rule costs, what fits, and the whole list."""
