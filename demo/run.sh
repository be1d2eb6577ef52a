#!/bin/sh
# Names three insects of an invented walk, logs them, checks them and exports the season.
# Needs only Python 3.11 or newer; run it from any folder, as often as you like.
set -eu
project=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
. "$project/demo/environment.sh"

find_python
environment=${REEDMACE_DEMO_ENV:-$project/.venv-demo}
[ -d "$environment" ] || echo "Making an environment for the demo; the first time this takes about a minute."
make_environment "$environment"
install "$environment/installed" "$(digest "$project/pyproject.toml" "$project/src" "$project/keys")" --force-reinstall "$project"

walk=${REEDMACE_DEMO_WALK:-$project/demo/walk}
rm -rf "$walk"
mkdir -p "$walk"
REEDMACE_LEDGER=$walk/sightings.ledger
export REEDMACE_LEDGER
PATH=$bin:$PATH
cd "$walk"

# show COMMAND...: print a command as one would type it, then run it.
show() {
    printf '\n$ reedmace'
    for word in "$@"; do
        case $word in
            *[!A-Za-z0-9=/.:~,_-]*) printf ' "%s"' "$word" ;;
            *) printf ' %s' "$word" ;;
        esac
    done
    printf '\n'
    reedmace "$@"
}

echo
echo "An invented walk: 12 July 2026, Sallow Farm pond near Harrowmere. Three insects, three looks."
show people --me "Ada Marsh"

echo
echo "1. A blue damselfly by the garden pond, seen well:"
show name wings-at-rest=closed eyes=apart abdomen-colour=blue spur=present shoulder-stripes=thin \
    shoulder-stripe-form=entire segment-2-mark=u eye-bar=absent \
    --date 2026-07-12 --place "SU 431 118" --habitat garden-pond

echo
echo "2. A big brown one, high over the hedge:"
show name wings-at-rest=flat build=long abdomen-colour=brown wing-tint=amber veins=amber \
    --date 2026-07-12 --place "SU 431 118" --habitat pond

echo
echo "3. A green female demoiselle, gone too soon: an honest \"one of these two\":"
show name flight=flutters wings-at-rest=closed abdomen-colour=metallic-green wing-band=none \
    --date 2026-07-12 --place "SU 431 118" --habitat stream

echo
echo "Writing them down, as one visit:"
show log "2 azure dam m  # thin unbroken stripes, U on segment 2" "1 brown hawker" "banded/beautiful demoiselle f" \
    --date 2026-07-12 --place "SU 431 118" --locality "Harrowmere, Sallow Farm pond" --vice-county 11 --habitat pond
show ledger list
show check
show export --season 2026 --to season-2026.csv --dataset "Walks at Harrowmere"

cat <<END

The ledger:  $walk/sightings.ledger
The season:  $walk/season-2026.csv   (Darwin Core; it opens in any spreadsheet)

What to type next:
  $bin/reedmace key --place "SU 431 118" --habitat pond
      a conversation about what you see
  $bin/reedmace log 12 common blue m --place "SU 431 118"
      a sighting of your own, in a ledger of your own
  $bin/reedmace --help
To have it as  reedmace  from any folder:  pipx install .
Away from home: ask the landowner, mind the water, leave fresh insects alone.
END
