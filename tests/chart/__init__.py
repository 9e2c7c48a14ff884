"""What is claimed of the chart model."""
