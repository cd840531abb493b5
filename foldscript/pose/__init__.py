"""The model in space: goals and the paper as it lies → a proved `Pose`. Start reading at `pose.py`."""
