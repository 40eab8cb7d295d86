#!/usr/bin/env bash
# What differs and what is malformed is told, with line and column, and told
# apart by the exit code. The altered tables are made from the worked cases.
#
# Usage: refuses.sh DATA_FOLDER, with TURNSTONE_BUILD set.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
trends=$1/trend_cases.csv
zones=$1/time_zone_cases.csv
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
failures=0

# expect CODE TEXT ARGUMENT...: run with the arguments exits so and says so.
expect() {
  local code=$1 text=$2 said got=0
  shift 2
  said=$("$here/run" "$@" 2>&1) || got=$?
  if [[ $got -ne $code || $said != *"$text"* ]]; then
    printf 'run %s: expected %s with "%s", got %s with:\n%s\n' \
      "$*" "$code" "$text" "$got" "$said"
    failures=$((failures + 1))
  fi
}

# altered KIND CODE TEXT SCRIPT: the table of that kind after sed SCRIPT.
altered() {
  local kind=$1 code=$2 text=$3 script=$4 from=$trends
  [[ $kind == zones ]] && from=$zones
  sed -E "$script" "$from" >"$scratch/table.csv"
  if cmp -s "$from" "$scratch/table.csv"; then
    printf '%s alters nothing\n' "$script"
    failures=$((failures + 1))
  fi
  expect "$code" "$text" "$kind" "$scratch/table.csv"
}

# A value that differs.
altered trend 1 'line 2, column S: got 3, expected 4' '2s/,3,1,1,/,4,1,1,/'
altered trend 1 'line 2, column theil_slope: got 0.25, expected 0.2500001' \
  '2s/,0.25,9.5,/,0.2500001,9.5,/'
altered trend 1 'line 4, column tau_b: got none, expected 1' \
  '4s/,0,0,,1,1,/,0,0,1,1,1,/'
altered trend 1 'line 2, column tau_a: got 1, expected none' \
  '2s/,3,1,1,/,3,,1,/'
altered trend 1 'line 2, column n: got 3, expected 4' '2s/,3,0;/,4,0;/'
altered zones 1 \
  'column utc_fold0_offset_before: got 2025-03-29T23:30:00Z, expected 2025-03-29T23:30:01Z' \
  '2s/23:30:00Z,/23:30:01Z,/'

# Columns that are absent are passed over, unless none is left.
altered trend 0 '0 differ' '1s/,S,/,another,/'
altered trend 2 'line 1, column S: nor any other result' \
  '1s/,S,/,another,/; 1s/,n,/,b1,/; 1s/tau_|mk_|theil_|ols_/not_&/g'

# A file that is not as it should be.
altered trend 2 'line 1, column y: there is none' '1s/,y,/,why,/'
altered trend 2 'line 1, column t: there is none' '1s/,t,/,when,/'
altered trend 2 'line 3, column t: not a list of numbers' '3s/0;14;/0;;/'
altered trend 2 'line 3, column y: not a list of numbers' '3s/20;15/20;x/'
altered trend 2 'line 3, column y: not a list of numbers' '3s/20;15/20;inf/'
altered trend 2 'line 3, column y: 2 values for 3 days' '3s/20;15;/20;/'
altered trend 2 'line 2, column S: not a number' '2s/,3,1,1,/,three,1,1,/'
altered trend 2 'line 2: the row has 27 of 28 cells' '2s/,3,1,1,/,3,1,/'
altered zones 2 'line 2, column zone: not in' '2s/London/Nowhere/'
altered zones 2 'line 2, column local: not a local time' '2s/,2025-03-29T/,29 March /'
altered zones 2 'column utc_fold0_offset_before: not a time' '2s/00Z,/00,/'
altered zones 2 'line 1, column zone: there is none' '1s/zone/place/'
altered zones 2 'line 1, column local: there is none' '1s/local/clock/'
altered zones 2 'line 1, column utc_fold0_offset_before: there is none' \
  '1s/utc_fold0/utc/'

# A command that is not as it should be.
expect 2 'usage:' trend
expect 2 'write trend or zones' trends "$trends"
expect 2 'cannot read' trend "$scratch/none.csv"
TURNSTONE_BUILD=$scratch expect 2 'Build it first' trend "$trends"

[[ $failures -eq 0 ]] || { printf '%s went wrong\n' "$failures"; exit 1; }
