# Reads a file with pandas' C engine for each line of JSON on standard input, and answers with the seconds it took.
import json
import sys
import time

import pandas

for line in sys.stdin:
    order = json.loads(line)
    start = time.perf_counter()
    table = pandas.read_csv(order["file"], float_precision=order.get("precision"))
    seconds = time.perf_counter() - start
    if "out" in order:
        # Column after column, as doubles.
        table.to_numpy(dtype="float64").T.tofile(order["out"])
    print(json.dumps({"seconds": seconds, "rows": len(table), "version": pandas.__version__}), flush=True)
