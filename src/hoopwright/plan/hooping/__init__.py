"""A planned ring on its real segments: the sizing operation filled in from the plan."""
