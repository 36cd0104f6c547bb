"""Outlines from files that a drawing program wrote: DXF through ezdxf, SVG through svgelements.

`outline_file.read_outline` is the door. A reader (`dxf_file`, `svg_file`) turns entities into drawn pieces
in mm (`drawn`), curves becoming arcs by `fit`; `chains` joins pieces end to end, `contours` refuses what is no
outline and makes holes of what lies inside. Bytes are looked at (`dxf_guard`, `svg_xml`) before a library
sees them: nothing here follows a reference out of the file.
"""
