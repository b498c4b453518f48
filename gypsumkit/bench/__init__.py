"""What is planned, measured and judged at the bench: plan, records, comparison, conformity, own powders. No widgets, no pictures."""
