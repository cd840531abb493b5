"""Two fingertips that take the paper between them: a part of signs of pulling and of raising.

Path data: the spot is at the origin, where the paper goes along x.
"""

from __future__ import annotations

GRIP = (
    "M -2.6 -1.3 C -1.2 -1.1 0.6 -1.3 1.6 -2.2 C 2.6 -3.2 1.6 -4.6 0.2 -4.2 "
    "C -1.2 -3.8 -2.4 -2.8 -2.6 -1.3 Z "
    "M -2.6 1.3 C -1.2 1.1 0.6 1.3 1.6 2.2 C 2.6 3.2 1.6 4.6 0.2 4.2 "
    "C -1.2 3.8 -2.4 2.8 -2.6 1.3 Z"
)
