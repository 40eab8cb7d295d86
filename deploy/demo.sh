#!/usr/bin/env bash
# Builds turnstone on Debian 12 and plays ten weeks of a fictional team.
# Installs the packages that are missing, as root or with sudo.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=deploy/step.sh
source deploy/step.sh
# shellcheck source=deploy/packages.sh
source deploy/packages.sh
trap stop_step EXIT

build=build/release
logs=build/logs
install_missing "$logs/demo-packages.log" "${build_packages[@]}"
step "Configuring" "$logs/demo-configure.log" \
  cmake --preset release -DTURNSTONE_BUILD_TESTS=OFF
step "Building turnstone (some minutes the first time)" \
  "$logs/demo-build.log" cmake --build "$build" --parallel "$(nproc)"
echo
bash deploy/demo/play.sh "$build"
