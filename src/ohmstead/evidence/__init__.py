"""What rules look at and what they say: evidence by run and part, findings, severities."""
