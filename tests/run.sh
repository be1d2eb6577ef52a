#!/bin/sh
# Installs Reedmace and what the tests need into an environment of their own, then runs every check.
# Run it from any folder. Arguments go to pytest:  sh tests/run.sh -k grid
set -eu
project=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
. "$project/demo/environment.sh"

find_python
environment=${REEDMACE_TEST_ENV:-$project/.venv-tests}
[ -d "$environment" ] || echo "Making an environment for the tests; the first time this takes a minute or two."
make_environment "$environment"
# Installing beneath a running test would take the program away from it: whoever tests holds the lock with others,
# whoever installs holds it alone, and waits for those who test.
lock() {
    "$bin/python" -c '
import fcntl, sys
how = fcntl.LOCK_EX if sys.argv[1] == "alone" else fcntl.LOCK_SH
try:
    fcntl.flock(9, how | fcntl.LOCK_NB)
except OSError:
    print("Waiting for another run in this environment.", file=sys.stderr)
    fcntl.flock(9, how)' "$1"
}
dependencies=$(digest "$project/pyproject.toml")
program=$(digest "$project/pyproject.toml" "$project/src" "$project/keys" "$project/README.md")
exec 9>>"$environment/lock"
lock together
if ! installed "$environment/dependencies" "$dependencies" || ! installed "$environment/installed" "$program"; then
    lock alone
    install "$environment/dependencies" "$dependencies" "$project[tests]"
    # Not editable: the tests run against what a user would have installed.
    install "$environment/installed" "$program" --force-reinstall --no-deps --no-build-isolation "$project"
    lock together
fi
cd "$project"
PATH=$bin:$PATH
if [ $# -eq 0 ]; then
    echo "ruff"
    ruff check --quiet .
    ruff format --quiet --check .
    echo "mypy"
    mypy --no-error-summary
    echo "import floors"
    lint-imports >"$environment/floors" || { cat "$environment/floors"; exit 1; }
fi
exec python -m pytest -n auto "$@"
