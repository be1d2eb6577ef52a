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
install "$environment/dependencies" "$(digest "$project/pyproject.toml")" "$project[tests]"
# Not editable: the tests run against what a user would have installed.
install "$environment/installed" "$(digest "$project/pyproject.toml" "$project/src" "$project/keys" "$project/README.md")" \
    --force-reinstall --no-deps --no-build-isolation "$project"
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
