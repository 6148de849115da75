"""The terms on which a job is planned: seed, allowance, parameters, and who hears of it."""
