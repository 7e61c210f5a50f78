"""Reviews that go wrong, as the process that reviews several sessions may meet them."""

from __future__ import annotations

import os
import time

from mixlint.media import workers
from mixlint.runs.each_apart import Made, Task
from mixlint.runs.listening import Watch


def task(asked: Task, watch: Watch) -> Made:
    """Go wrong in the way that the session's name says."""
    watch.doing("something")
    match asked.path.stem:
        case "fault":
            raise ZeroDivisionError("by a stranger's\nfigure")
        case "hang":
            time.sleep(600)
        case "workers":
            with workers._stopped_at_once(workers._pool(1)) as pool:
                pool.submit(time.sleep, 600).result()
        case "death":
            os._exit(9)
        case "memory":
            bytes(40 << 30)
        case "gone":
            asked.path.read_bytes()
        case _:
            pass
    return Made(unfitted=(asked.path.stem, str(os.getpid())))
