#!/usr/bin/env bash
# Holds pack archives against ordinary zip programs: Info-ZIP's unzip and zip, and Python's zipfile where Python is there.
#
#   tests/outside/zip.sh REDTAG FOLDER
#
# FOLDER is a built pack. Ends with 0 when every program reads the sealed archive as it is, and redtag reads one made by zip as the
# same pack.
set -euo pipefail
[ $# -eq 2 ] || { echo "usage: $0 REDTAG FOLDER" >&2; exit 2; }
redtag=$(realpath "$1")
folder=$(realpath "$2")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
"$redtag" pack seal "$folder" --output pack.redtag > sealed.txt
digest=$(sed -n 's/.*digest of the pack //p' sealed.txt)
[ -n "$digest" ]

unzip -tq pack.redtag
(cd "$folder" && find . -type f ! -path '*/.*' | sed 's#^\./##' | LC_ALL=C sort) > wanted.txt
unzip -Z1 pack.redtag > listed.txt
diff wanted.txt listed.txt
mkdir out && unzip -q pack.redtag -d out
diff -r "$folder" out
echo "unzip: tested, listed and unpacked $(wc -l < listed.txt) files, all as in the folder"

if command -v python3 > /dev/null; then
    python3 - pack.redtag <<'PYTHON'
import sys, zipfile
with zipfile.ZipFile(sys.argv[1]) as archive:
    assert archive.testzip() is None
    kinds = {(info.compress_type, info.date_time, info.external_attr >> 16) for info in archive.infolist()}
    assert kinds == {(zipfile.ZIP_STORED, (1980, 1, 1, 0, 0, 0), 0o100644)}, kinds
    print("zipfile: every file stored, dated 1980-01-01, mode 644")
PYTHON
fi

(cd "$folder" && zip -qr "$work/theirs.zip" .)
"$redtag" pack verify theirs.zip | grep -F "$digest"
echo "zip: an archive it made is the same pack"
