#!/usr/bin/env bash
# Plays ten weeks of a fictional team, and the half year after, against a server
# of its own, and checks what was raised.
# Usage: play.sh BUILD_FOLDER, from anywhere.
set -euo pipefail
build=$(realpath "${1:?say where turnstone was built, e.g. build/release}")
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
demo=deploy/demo
scratch=$(mktemp -d)
server_pid=

finish() {
  if [[ -n $server_pid ]]; then
    kill -TERM "$server_pid" 2>/dev/null || true
    wait "$server_pid" || true
  fi
  rm -rf "$scratch"
}
trap finish EXIT
trap 'exit 130' INT
trap 'exit 143' TERM HUP

fail() {
  printf '\nThe demonstration FAILED: %s\n' "$1"
  [[ ! -s $scratch/log ]] || {
    printf 'The end of the server log:\n'
    tail -n 20 "$scratch/log"
  }
  exit 1
}

turnstone() { "$build/clients/cli/turnstone" "$@"; }

# Port 0: the system picks a free one, and the log tells which.
serve() {
  : >"$scratch/log"  # it is looked into before the server may have begun it
  "$build/service/turnstoned" --config rules --config deploy/config \
    --data "$scratch/data" --listen 127.0.0.1:0 --plain \
    --clock simulated --start 2027-01-04T08:00:00Z 2>>"$scratch/log" &
  server_pid=$!
  local port='' waited
  for waited in $(seq 300); do
    port=$(sed -nE 's/.*"serving","port":"([0-9]+)".*/\1/p' "$scratch/log")
    [[ -z $port ]] || break
    kill -0 "$server_pid" 2>/dev/null || fail "the server did not start"
    sleep 0.1
  done
  [[ -n $port ]] || fail "no word from the server after $((waited / 10)) s"
  export TURNSTONE_SERVER=127.0.0.1:$port TURNSTONE_PLAIN=1
}

# Alerts that are new, or stand differently, since the last time.
tell_new() {
  turnstone alerts --all --json |
    /usr/bin/python3 -B "$demo/briefly.py" "$scratch/seen"
}

# step NAME ADVANCE EXIT_CODE STORY: on to a Friday, 16:00 UTC, then the events
# of that week or month, if there are any.
step() {
  local file now said='' code=0
  file=$demo/$(printf '%s%02d' "${1% *}" "${1#* }").jsonl
  now=$(turnstone clock advance "$2") || fail "the clock did not move"
  printf '%s, %s: %s\n' "${1^}" "${now% 2027 *}" "$4"
  [[ ! -e $file ]] || said=$(turnstone submit "$file" 2>&1) || code=$?
  # The alerts follow one by one; a summary without a surprise says no more.
  grep -vE '^$|^accepted .*of which 0 .* refused 0|^ +A-' <<<"$said" |
    sed 's/; alerts: .*//' | fold -s -w 76 | sed 's/^/  /' || true
  [[ $code -eq $3 ]] || fail "submit ended with $code, not with $3: $said"
  tell_new
}

# Shows a command as one would type it, then runs it.
type_in() {
  printf '$ turnstone %s\n' "${*@Q}" | sed "s/'\([A-Za-z0-9.,-]*\)'/\1/g"
  turnstone "$@"
}

id_of() {
  turnstone alerts --participant "$1" --json |
    sed -nE "s/^\{\"alertId\":\"([^\"]+)\".*\"rule\":\"$2\".*/\1/p"
}

ten_weeks() {
  step "week 1" 4d8h 0 "six are screened, others were enrolled before"
  step "week 2" 7d 0 "first visits; p-04 declines the self-harm item"
  step "week 3" 7d 0 "p-01 doubts the practice; p-15 needs a follow-up"
  step "week 4" 7d 1 "p-03 does not open; p-15 is seen late; a mistyped line"
  step "week 5" 7d 0 "that line, mended; one form sent twice; p-06 refuses"
  step "week 6" 7d 0 "p-08's total is wrong; p-03 skips an item; p-06, p-20 leave"
  step "week 7" 7d 0 "p-08's form is corrected; p-05 is 6 above the start"
  step "week 8" 7d 0 "p-14, p-21 leave, all done; p-12 leaves early; p-22 dies"
  step "week 9" 7d 0 "p-05 has the last visit; p-01, done for two weeks, leaves"
  step "week 10" 7d 0 "p-09, screened again, is below the range; p-13 moves"
}

half_a_year() {
  step "month 1" 14d 0 "p-01 and p-18 are seen in time, p-14 is not"
  step "month 3" 56d 0 "p-14 is seen in time; p-18 is worse again, willing"
  step "month 4" 28d 0 "p-05 is seen late, and is above the range"
  step "month 6" 63d 0 "p-18 and p-21 are seen in time; p-21 is in range again"
  step "month 7" 28d 0 "the third follow-ups of the others are due"
}

work_one_alert() {
  local id code=0
  id=$(id_of p-03 missed-after-self-harm)
  [[ -n $id ]] || fail "p-03 has no alert for the missed visit"
  printf '\nOne alert, read (its first half)\n'
  type_in alert "$id" | sed '/^What was known/,$d'
  printf 'Taken on by the one on duty, and closed. Without an outcome it does\n'
  printf 'not close; and here the site asks for a second person.\n'
  export TURNSTONE_AS="t.linnet,on-call-lead"
  type_in oncall
  type_in receive "$id"
  type_in close "$id" --note "Spoke on the telephone." 2>&1 |
    sed '6,$c\  ...' || code=$?
  [[ $code -eq 1 ]] || fail "closing without an outcome ended with $code"
  type_in close "$id" --outcome visit-arranged \
    --note "Spoke by telephone, visit tomorrow."
  export TURNSTONE_AS="j.alder,supervisor"
  type_in confirm "$id"
}

open_list() {
  type_in alerts --priority stat --priority asap | sed '/^Next: /,$d'
  echo "The others, by what they ask for"
  turnstone alerts --priority urgent --json |
    /usr/bin/python3 -B "$demo/briefly.py"
  printf '  and %s routine ones, each told above in its week\n' \
    "$(turnstone alerts --priority routine --json | wc -l)"
}

[[ -x $build/service/turnstoned && -x $build/clients/cli/turnstone ]] ||
  fail "there is no turnstoned or turnstone under $build"
export TURNSTONE_AS="r.sorrel,clinician"
echo "turnstone: ten weeks of a fictional team and the half year after, on a"
echo "simulated clock."
turnstone --help | sed -n '/^A prompt for/,/^immediate\|number\.$/p'
serve
echo
ten_weeks
work_one_alert
printf '\nThe open list after ten weeks\n'
open_list
printf '\nThe clock goes on: months since the first ones were done\n'
half_a_year
echo
turnstone alerts --all --json |
  /usr/bin/python3 -B "$demo/verify.py" rules/packs/home-visits.textproto ||
  fail "what was raised is not what was expected"
next=$(<"$demo/next.txt")
echo "${next//BUILD/"$(realpath --relative-to=. "$build")"}"
