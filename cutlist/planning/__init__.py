"""The whole: buys, nests, sequences and audits one job."""
