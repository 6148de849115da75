"""From ordered cuts to the plan, in names, money and the unit of the job; weights and trips."""
