"""The model in space as ink: a `Pose` and a camera → areas, edges and creases. Start reading at `ink.py`."""
