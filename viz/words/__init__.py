"""What is said, and where it is said: terminal lines, numbers, sentences of care."""
