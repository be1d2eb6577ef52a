"""The installed command in a process of its own, forked from one that has its modules loaded already.

The tests run the command thousands of times; to start Python and load modules again took two thirds of each run.
What is forked is a process that has loaded modules and done nothing else: a command finds what it would find in a
new one. What Python reads as it starts (its own settings, the language) can't be given later: for another setting
than the nursery's, and wherever `REEDMACE_TESTS_EXEC` is set, the installed script is started anew.
How long the command takes to start, and what it loads, is tested with the script itself (`cli/test_start_up.py`).
"""

from __future__ import annotations

import contextlib
import gc
import json
import os
import pkgutil
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import NamedTuple, Self

READ_AT_START = ("PYTHON", "LC_", "LANG", "LD_")
LONGEST = 1 << 20  # bytes of a request: arguments and environment


class Done(NamedTuple):
    """What a command left behind: its exit code (minus the signal that ended it), standard output and error."""

    returncode: int
    stdout: bytes
    stderr: bytes


class Nursery:
    """A process that forks itself into commands, one at a time, all with the start-up settings of `env`."""

    def __init__(self, env: Mapping[str, str]) -> None:
        self._started_with = _read_at_start(env)
        self._ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        self._ours.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, LONGEST)
        with theirs:
            self._process = subprocess.Popen(
                [sys.executable, __file__, str(theirs.fileno())],
                pass_fds=[theirs.fileno()],
                # Pipes, as a command's own: Python looks once at what its streams are.
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.PIPE,
                env=dict(env),
            )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._ours.close()  # the end of its requests is the end of it
        self._process.communicate()

    def fits(self, env: Mapping[str, str]) -> bool:
        """Whether a command with this environment can be forked here."""
        return _read_at_start(env) == self._started_with

    def run(
        self, script: Path, arguments: list[str], typed: bytes, env: Mapping[str, str], cwd: Path, timeout: float
    ) -> Done:
        """As `subprocess.run([script, *arguments], input=typed, capture_output=True, …)`.

        Raises subprocess.TimeoutExpired, with the command ended, when it takes longer than `timeout` seconds.
        """
        stdin, to_stdin = os.pipe()
        from_stdout, stdout = os.pipe()
        from_stderr, stderr = os.pipe()
        request = json.dumps([str(script), arguments, dict(env), str(cwd)]).encode()
        socket.send_fds(self._ours, [request], [stdin, stdout, stderr])
        for end in (stdin, stdout, stderr):
            os.close(end)
        child = int(self._ours.recv(100))
        late = threading.Timer(timeout, _end, [child])
        late.start()
        said: dict[int, bytes] = {}
        hearing = [threading.Thread(target=_hear, args=[end, said]) for end in (from_stdout, from_stderr)]
        for thread in hearing:
            thread.start()
        with contextlib.suppress(BrokenPipeError), os.fdopen(to_stdin, "wb", buffering=0) as pipe:
            pipe.write(typed)
        for thread in hearing:
            thread.join()
        code = int(self._ours.recv(100))
        expired = not late.is_alive()
        late.cancel()
        if expired:
            raise subprocess.TimeoutExpired([script, *arguments], timeout)
        return Done(code, said[from_stdout], said[from_stderr])


def _hear(end: int, said: dict[int, bytes]) -> None:
    with os.fdopen(end, "rb") as pipe:
        said[end] = pipe.read()


def _end(child: int) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.kill(child, 9)


def _read_at_start(env: Mapping[str, str]) -> dict[str, str]:
    return {name: value for name, value in env.items() if name.startswith(READ_AT_START)}


def load_everything() -> None:
    """Import every module of the program, and with them those of others that it needs."""
    import reedmace

    for module in pkgutil.walk_packages(reedmace.__path__, "reedmace."):
        if not module.name.endswith("__main__"):
            import_module(module.name)


def become_commands(requests: socket.socket) -> bool:
    """Fork once for each request. True in a command that is to run now, False at the end, in the nursery."""
    while True:
        request, handles, *_ = socket.recv_fds(requests, LONGEST, 3)
        if not request:
            return False
        child = os.fork()
        if not child:
            _settle_in(request, handles)
            requests.close()
            return True
        for handle in handles:
            os.close(handle)
        requests.send(str(child).encode())
        requests.send(str(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])).encode())


def _settle_in(request: bytes, handles: list[int]) -> None:
    script, arguments, env, cwd = json.loads(request)
    for standard, handle in enumerate(handles):
        os.dup2(handle, standard)
        os.close(handle)
    os.environ.clear()
    os.environ.update(env)
    time.tzset()
    os.chdir(cwd)
    sys.argv = [script, *arguments]
    sys.path[0] = str(Path(script).parent)


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as requests:
        load_everything()
        gc.freeze()  # what is loaded is not gone through again by a command's collector, nor copied for it
        to_run = become_commands(requests)
    if to_run:
        from reedmace.cli.main import run

        sys.exit(run())
