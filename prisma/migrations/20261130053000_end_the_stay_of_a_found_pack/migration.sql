-- Goods-in ends a stay, with the words why; of its columns these alone change.
GRANT UPDATE ("endedBecause") ON "QuarantineStay" TO bench_actor;
