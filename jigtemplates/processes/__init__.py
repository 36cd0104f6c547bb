"""A template becomes a drawing for one way of making it: laser, CNC router, paper."""
