"""The CAD kernel: STEP, STL, GLB and the second route to every volume."""
