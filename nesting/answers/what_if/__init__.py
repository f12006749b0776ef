"""What another bolt would need: a little narrower, with nap, of another width."""
