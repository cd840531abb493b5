"""The words of a model in one language: the teacher's captions, and automatic ones where there are none."""
