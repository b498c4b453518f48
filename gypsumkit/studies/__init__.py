"""What a lesson asks of mixes beyond one prediction: compared, aged, packed, poured; numbers only, no pictures."""
