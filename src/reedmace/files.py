"""A finished file gets its name: in one step, durably, and never in place of one that is to stay."""

import os
from contextlib import suppress
from pathlib import Path


def give_name(part: Path, target: Path, *, overwrite: bool = False) -> None:
    """Give the finished file `part` the name `target`; raises `FileExistsError` where that is taken.

    The old name may be left beside it: whoever made `part` takes it away.
    """
    if overwrite:
        part.replace(target)
    else:
        try:
            os.link(part, target)  # fails where there is a file, even one that has just appeared
        except FileExistsError:
            raise
        except OSError:
            # The disks of sticks and cards know no links; a look before has to do.
            if os.path.lexists(target):
                raise FileExistsError(target) from None
            part.replace(target)
    with suppress(OSError):
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
