#!/usr/bin/env bash
# Install the Debian packages that the tests use, when this may be done;
# otherwise say which are missing. The program itself needs none of them.
set -eu
declare -A need=(
  [pdftotext]=poppler-utils [pdftoppm]=poppler-utils [qpdf]=qpdf
  [chromium]=chromium [glpsol]=glpk-utils [hunspell]=hunspell
)
missing=()
for tool in "${!need[@]}"; do
  command -v "$tool" >/dev/null 2>&1 || missing+=("${need[$tool]}")
done
[ ${#missing[@]} -eq 0 ] && exit 0
mapfile -t missing < <(printf '%s\n' "${missing[@]}" | sort -u)
if command -v apt-get >/dev/null 2>&1 && [ "$(id -u)" = 0 ]; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
else
  echo "The tests need these Debian packages: ${missing[*]}" >&2
  echo "Install them with: sudo apt-get install ${missing[*]}" >&2
  exit 1
fi
