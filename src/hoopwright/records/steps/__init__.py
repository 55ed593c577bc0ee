"""Steps of the format, each as it was when it was made: a step is never changed once records stand on it."""
