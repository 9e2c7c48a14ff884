"""A score as measures in time, and the chart it makes: knows no file format."""
