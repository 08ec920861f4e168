#!/usr/bin/env bash
# Holds signatures of packs against OpenSSH's ssh-keygen: what one signs the other verifies, and what one refuses the other refuses.
#
#   tests/outside/openssh.sh REDTAG ARCHIVE
#
# Ends with 0 when both programs agree everywhere; each disagreement is printed.
set -euo pipefail
[ $# -eq 2 ] || { echo "usage: $0 REDTAG ARCHIVE" >&2; exit 2; }
redtag=$(realpath "$1")
archive=$(realpath "$2")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
# A line names the packs its key may sign: to OpenSSH the pack's name is the identity that is asked for.
who=$("$redtag" pack show "$archive" --format json | sed -n 's/^  "name": "\(.*\)",$/\1/p')
[ -n "$who" ] || { echo "the pack has no name" >&2; exit 2; }
bad=0
say() { echo "$1"; }
disagree() { echo "DISAGREE: $1"; bad=1; }

# Whether each program takes the signature FILE.sig of FILE by the trust file.
openssh_takes() { ssh-keygen -Y verify -f "$2" -I "$who" -n redtag-pack -s "$1.sig" < "$1" > /dev/null 2>&1; }
redtag_takes() { "$redtag" pack verify "$1" --trust "$2" > /dev/null 2>&1; }
both() { # WANTED FILE TRUST WORDS
    local openssh=refuses redtag_says=refuses
    if openssh_takes "$2" "$3"; then openssh=takes; fi
    if redtag_takes "$2" "$3"; then redtag_says=takes; fi
    if [ "$openssh" = "$1" ] && [ "$redtag_says" = "$1" ]; then say "both: $1: $4"; else
        disagree "$4: OpenSSH $openssh, redtag $redtag_says, wanted $1"
    fi
}

for kind in ed25519 ecdsa; do
    ssh-keygen -q -t "$kind" -N '' -C "$who" -f "$kind"
    echo "$who namespaces=\"redtag-pack\" $(cat "$kind.pub")" > "$kind.signers"

    cp "$archive" "$kind-theirs.zip"
    ssh-keygen -q -Y sign -n redtag-pack -f "$kind" "$kind-theirs.zip" 2> /dev/null
    both takes "$kind-theirs.zip" "$kind.signers" "$kind, signed by OpenSSH"

    cp "$archive" "$kind-ours.zip"
    "$redtag" pack sign "$kind-ours.zip" --key "$kind" > /dev/null
    both takes "$kind-ours.zip" "$kind.signers" "$kind, signed by redtag"

    cp "$archive" "$kind-elsewhere.zip"
    ssh-keygen -q -Y sign -n file -f "$kind" "$kind-elsewhere.zip" 2> /dev/null
    both refuses "$kind-elsewhere.zip" "$kind.signers" "$kind, signed for another purpose"

    cp "$archive" "$kind-altered.zip"
    printf '\0' >> "$kind-altered.zip"
    cp "$kind-ours.zip.sig" "$kind-altered.zip.sig"
    both refuses "$kind-altered.zip" "$kind.signers" "$kind, the archive altered"

    cp "$archive" "$kind-cut.zip"
    head -c 150 "$kind-ours.zip.sig" > "$kind-cut.zip.sig"
    both refuses "$kind-cut.zip" "$kind.signers" "$kind, the signature cut short"
done
# ed25519 leaves nothing to chance (RFC 8032): both programs write the same signature.
if cmp -s ed25519-ours.zip.sig ed25519-theirs.zip.sig; then say "both: the same ed25519 signature to the byte"; else
    disagree "the ed25519 signatures differ"
fi

key=$(cat ed25519.pub)
trusts() { echo "$1 $key" > line.signers; both "$2" ed25519-ours.zip line.signers "trust line: $1"; }
trusts "$who" takes
trusts "$who namespaces=\"git,redtag-pack\"" takes
trusts "$who namespaces=\"redtag-*\"" takes
trusts "$who namespaces=\"git\"" refuses
trusts "$who namespaces=\"*,!redtag-pack\"" refuses
trusts "$who valid-after=\"20200101\"" takes
trusts "$who valid-after=\"29990101\"" refuses
trusts "$who valid-before=\"20200101Z\"" refuses
trusts "$who valid-after=\"20200101\",valid-before=\"299901011200\"" takes
trusts "$who cert-authority" refuses
trusts "${who%?}*" takes
trusts "${who%?}?" takes
trusts "plans@county.example,*" takes
trusts "plans@county.example" refuses
trusts "other-*" refuses
trusts "*,!$who" refuses
cp ecdsa.signers line.signers
both refuses ed25519-ours.zip line.signers "a key that is in no line"
exit $bad
