"""DXF and SVG drawings of pieces, molds and cut sheets."""
