"""One drawing code for screen, paper and machine: a retained drawing in millimetres, written as SVG, PDF and DXF."""
