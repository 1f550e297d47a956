"""The handbook formulas: plane figures, layers, walls, timber, joints and edges."""
