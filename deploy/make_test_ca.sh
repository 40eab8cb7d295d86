#!/usr/bin/env bash
# Makes a certificate authority for tests, a certificate for a service on this
# machine, and one for each caller. NOT for real participants: whoever has the
# folder can be anybody, and the keys lie about in it.
#   deploy/make_test_ca.sh FOLDER [NAME=URI ...]
# In FOLDER then: ca.pem, service.pem and NAME.pem for each caller, each with the
# certificate and its key. The URI is what the site's file has as
# certificate_uri. Run again with the same FOLDER it keeps the authority and
# makes the certificates anew. DAYS: for how long they hold, 7 if not set.
set -euo pipefail

[[ $# -ge 1 ]] || {
  sed -n '2,/^set/{/^#/s/^# \{0,1\}//p}' "$0" >&2
  exit 2
}
folder=$1
shift
days=${DAYS:-7}
for caller in "$@"; do
  case ${caller%%=*} in
    ca | ca-key | service)
      echo "a caller cannot be called ${caller%%=*}: that is another file" >&2
      exit 2
      ;;
  esac
done
umask 077
mkdir -p "$folder"
cd "$folder"

if [[ ! -e ca-key.pem ]]; then
  openssl genpkey -algorithm EC -pkeyopt ec_paramgen_curve:P-256 \
    -out ca-key.pem 2>/dev/null
  openssl req -x509 -new -key ca-key.pem -days "$days" -out ca.pem \
    -subj "/O=turnstone TEST ONLY/CN=Test authority, trust it nowhere" \
    -addext "keyUsage=critical,keyCertSign,cRLSign"
fi

# issue NAME SUBJECT_ALTERNATIVE_NAME USAGE. The file takes its place by a rename:
# nobody sees half of it.
issue() {
  openssl genpkey -algorithm EC -pkeyopt ec_paramgen_curve:P-256 \
    -out "$1.key" 2>/dev/null
  openssl req -new -key "$1.key" -subj "/O=turnstone TEST ONLY/CN=$1" |
    openssl x509 -req -CA ca.pem -CAkey ca-key.pem -days "$days" -sha256 \
      -set_serial "0x$(openssl rand -hex 8)" -out "$1.new" -extfile <(
        echo "basicConstraints=critical,CA:FALSE"
        echo "keyUsage=critical,digitalSignature"
        echo "extendedKeyUsage=$3"
        echo "subjectAltName=$2"
      ) 2>/dev/null
  cat "$1.key" >>"$1.new"
  rm "$1.key"
  mv "$1.new" "$1.pem"
}

issue service "DNS:localhost,IP:127.0.0.1,IP:::1" serverAuth
for caller in "$@"; do
  issue "${caller%%=*}" "URI:${caller#*=}" clientAuth
done
