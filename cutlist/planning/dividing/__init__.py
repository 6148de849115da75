"""From a job to packing problems in whole numbers: groups, shop, how stock lies."""
