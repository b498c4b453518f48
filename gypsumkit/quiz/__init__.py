"""Questions, their marking and the reader's progress: pure data and logic, no widgets."""
