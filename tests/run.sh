#!/usr/bin/env bash
# Builds and tests everything on Debian 12: the coverage of rules/measure, the
# tests labelled "concurrent" with ThreadSanitizer, then all tests and lints with
# AddressSanitizer and UndefinedBehaviorSanitizer. Installs the packages that are
# missing, as root or with sudo. A second run is quick.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=deploy/step.sh
source deploy/step.sh
# shellcheck source=deploy/packages.sh
source deploy/packages.sh
trap stop_step EXIT

logs=build/logs
# A clone in another folder finds what was compiled before.
export CCACHE_BASEDIR=$PWD CCACHE_NOHASHDIR=true
export UBSAN_OPTIONS=print_stacktrace=1

# build PRESET TARGET
build() {
  step "$1: configuring" "$logs/$1-configure.log" cmake --preset "$1"
  step "$1: building" "$logs/$1-build.log" \
    cmake --build "build/$1" --parallel "$(nproc)" --target "$2"
}

# One more at a time than there are processors: some wait for the disk.
run_tests() {
  step "$1: testing" "$logs/$1-tests.log" \
    ctest --preset "$1" --parallel "$(($(nproc) + 1))" --no-label-summary \
    --no-tests=error
}

install_missing "$logs/test-packages.log" \
  "${build_packages[@]}" "${test_packages[@]}"
build coverage measure_test
run_tests coverage
build tsan concurrent_tests
run_tests tsan
build asan-ubsan all
run_tests asan-ubsan
printf 'All is well, after %s. The last word of ctest:\n' "$(minutes_since 0)"
tail -n 3 "$logs/asan-ubsan-tests.log"
