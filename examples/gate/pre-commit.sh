#!/bin/sh
# A hook for git alone: copy to .git/hooks/pre-commit of your repository and make it executable. redtag has to be on the path.
# It reviews the project files of the commit as they lie in the folder, and lets only what is new since the last commit stop it.
set -eu
base=HEAD
# The first commit of a repository has nothing to be compared with.
git rev-parse --verify --quiet HEAD >/dev/null || base=
set -f
IFS='
'
files=$(git -c core.quotePath=false diff --cached --name-only --diff-filter=ACMR -- 'projects/*.json')
[ -n "$files" ] || exit 0
# One file on each line, so that names may hold blanks.
exec redtag review ${base:+--base="$base"} $files
