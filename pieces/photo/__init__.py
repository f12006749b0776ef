"""From photographs of paper pieces to lines in mm.

Data flows one way: ``reading`` (the file) to ``marks`` or ``blank_sheet`` (points whose places are
known), to ``plane`` (from pixels to mm), to ``ground`` (paper or floor), to ``tracing`` and
``grain`` (lines in mm), to ``joining`` (several photographs), and ``preview`` (a picture to check).
"""
