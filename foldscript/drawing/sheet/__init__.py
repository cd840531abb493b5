"""The paper of a figure as ink: areas, edges, creases and fold lines."""
