# Sourced by deploy/demo.sh and tests/run.sh: the Debian 12 packages the
# project needs, and how those that are missing get installed.
# shellcheck shell=bash

build_packages=(
  cmake g++ ninja-build pkg-config
  libabsl-dev libboost-math-dev libcli11-dev libcurl4-openssl-dev
  libgrpc++-dev libprotobuf-dev libsqlite3-dev libssl-dev nlohmann-json3-dev prometheus-cpp-dev
  protobuf-compiler protobuf-compiler-grpc python3 tzdata
)
test_packages=(
  ccache clang clang-format clang-tidy clips libbenchmark-dev libclang-rt-dev
  libclips-dev llvm
  libgmock-dev libgtest-dev librapidcheck-dev openssl prometheus
  python3-aiosmtpd python3-grpcio python3-protobuf python3-scipy
  python3-z3 systemd
)

# missing_packages NAME...: those of them that are not installed.
missing_packages() {
  local name
  for name in "$@"; do
    dpkg-query -W -f='${db:Status-Status}\n' "$name" 2>/dev/null |
      grep -qx installed || printf '%s\n' "$name"
  done
}

# apt_install NAME...: as root, or with sudo.
apt_install() {
  local as_root=()
  if [[ $(id -u) -ne 0 ]]; then
    command -v sudo >/dev/null || {
      echo "Run this as root, or install sudo first." >&2
      return 1
    }
    as_root=(sudo)
  fi
  "${as_root[@]}" apt-get update -q &&
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
      apt-get install -q -y --no-install-recommends "$@"
}

# install_missing LOG NAME...: does nothing where all is there.
install_missing() {
  local log=$1
  shift
  local missing
  mapfile -t missing < <(missing_packages "$@")
  [[ ${#missing[@]} -eq 0 ]] && return 0
  step "Installing ${#missing[@]} Debian packages" "$log" \
    apt_install "${missing[@]}"
}
