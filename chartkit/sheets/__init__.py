"""Pages other than charts: advice, plans, set sheets, notices."""
