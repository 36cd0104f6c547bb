"""Exact outlines of lines and arcs, and what can be done with them. Millimetres, x right, y up."""
