#!/usr/bin/env bash
# Holds SARIF logs of redtag against a validator that is not ours: the npm package @microsoft/sarif-multitool 5.7.0 (MIT), with the
# rules of the standard (Sarif) and those of code scanning (GHAS).
#
#   tests/outside/sarif.sh FOLDER FILE...
#
# FOLDER keeps the package between runs; it is installed there where it is missing. Ends with 0 when there is no error; warnings
# are printed, notes are counted by rule. SARIF2006 (the schema's address cannot be reached) is left aside: the check works offline.
set -euo pipefail
[ $# -ge 2 ] || { echo "usage: $0 FOLDER FILE..." >&2; exit 2; }
folder=$1
shift
if [ ! -d "$folder/node_modules/@microsoft/sarif-multitool" ]; then
    mkdir -p "$folder"
    npm install --prefix "$folder" --no-audit --no-fund --ignore-scripts @microsoft/sarif-multitool@5.7.0
fi
tool=$(find "$folder/node_modules/@microsoft" -name 'Sarif.Multitool' -type f | head -n 1)
# npm was told to run no script of the package, so its program is not executable yet.
chmod u+x "$tool"
bad=0
for file in "$@"; do
    echo "== $file"
    out=$(DOTNET_SYSTEM_GLOBALIZATION_INVARIANT=1 "$tool" validate "$file" --rule-kind 'Sarif;GHAS' --level 'Error;Warning;Note' 2>&1 || true)
    out=$(grep -v 'SARIF2006' <<<"$out")
    grep -v ': note ' <<<"$out" || true
    grep -o ': note [A-Z0-9]*' <<<"$out" | sort | uniq -c || true
    # The validator has to have done its work, and found no error in it.
    grep -q 'Analysis completed' <<<"$out" || bad=1
    if grep -Eq ': error ' <<<"$out"; then bad=1; fi
done
exit $bad
