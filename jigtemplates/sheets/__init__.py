"""Many templates on few sheets: which plates go where, and the files that say so.

`packing` knows rectangles only; `plates`, `stock` and `choice` say which; `laying` brings them together; `drawing`,
`page` and `making` turn what was laid into files, and `words` into text.
"""
