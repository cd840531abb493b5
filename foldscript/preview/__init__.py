"""Preview: scripts watched while they are written, their pages shown in a browser on this machine."""
