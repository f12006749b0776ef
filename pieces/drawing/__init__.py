"""Drawings of pieces: what SVG and DXF files have in common, and what each has of its own.

A file becomes a :class:`pieces.drawing.drawing.Drawing`, and a drawing becomes a pattern; on the
way out it goes the other way. :mod:`.svg_file` and :mod:`.dxf_file` are
the doors.
"""
