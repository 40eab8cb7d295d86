# Sourced by deploy/demo.sh and tests/run.sh: one long command after another,
# quiet while all is well.
# shellcheck shell=bash

step_pid=

# Ends the command under way, for the caller's EXIT trap.
stop_step() {
  [[ -z $step_pid ]] || kill "$step_pid" 2>/dev/null || true
}

minutes_since() {
  local seconds=$((SECONDS - $1))
  printf '%d min %02d s' $((seconds / 60)) $((seconds % 60))
}

# step NAME LOG COMMAND...: runs the command with its output in LOG. Says how
# far it is: in place on a terminal, once a minute otherwise. If it fails,
# shows the end of the log and returns 1.
step() {
  local name=$1 log=$2
  shift 2
  mkdir -p "$(dirname "$log")"
  local began=$SECONDS
  "$@" >"$log" 2>&1 </dev/null &
  step_pid=$!
  watch_step "$name" "$log" "$began"
  local ended=0
  wait "$step_pid" || ended=$?
  step_pid=
  if [[ $ended -eq 0 ]]; then
    printf '%s: done, %s\n' "$name" "$(minutes_since "$began")"
    return 0
  fi
  printf '%s: FAILED after %s. From %s:\n\n' \
    "$name" "$(minutes_since "$began")" "$log"
  show_failure "$log"
  return 1
}

# What ninja or ctest said last of how far it is: "45/133", or nothing.
step_progress() {
  tail -n 20 "$1" 2>/dev/null |
    grep -oE '^(\[[0-9]+/[0-9]+\]| *[0-9]+/[0-9]+ Test)' | tail -n 1 |
    grep -oE '[0-9]+/[0-9]+' || true
}

watch_step() {
  local name=$1 log=$2 began=$3 told=$SECONDS
  while kill -0 "$step_pid" 2>/dev/null; do
    sleep 0.5
    local line
    line="$name: $(step_progress "$log") $(minutes_since "$began")"
    if [[ -t 1 ]]; then
      printf '\r\033[K%s' "$line"
    elif [[ $((SECONDS - told)) -ge 60 ]]; then
      told=$SECONDS
      printf '%s\n' "$line"
    fi
  done
  [[ ! -t 1 ]] || printf '\r\033[K'
}

# Compilers bury the reason under what came after it: errors first, then the
# last lines.
show_failure() {
  grep -nE '(error|FAILED|\*\*\*Failed|fatal):?' "$1" | head -n 15 || true
  printf '...\n'
  tail -n 40 "$1"
}
