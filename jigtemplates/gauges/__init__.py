"""Gauges: small plates and a page that show what a bushing, a beam, a pair or a printer really does.

Each is made by the same writers as a template, with its values engraved: the one that suits is read off the plate and
entered with `jigtemplates calibrate`.
"""
