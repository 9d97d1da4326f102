#!/bin/sh
# A sample for BACKUP_HOOK: called with the folder of each backup that was proven. It packs the folder, encrypts it to
# the public key in BACKUP_KEY_FILE with age (age-encryption.org, in Debian as "age") and puts it into SEND_TO, a folder
# that is mounted from another machine; `rclone copy` or `restic backup` stand in its place as well. The private key
# stays elsewhere: whoever steals this machine cannot read what was sent.
# To get one back:  age --decrypt -i private-key FILE | tar x   and then   npm run restore -- FOLDER
set -eu
backup=$1
key=${BACKUP_KEY_FILE:-/etc/broodbench-backup.pub}
to=${SEND_TO:-/mnt/elsewhere}
name=$(basename "$backup")
umask 077
failed=$(mktemp)
{ tar -C "$(dirname "$backup")" -cf - "$name" || echo tar >"$failed"; } | age -R "$key" -o "$to/.$name.part"
[ ! -s "$failed" ] || { echo "$backup could not be packed" >&2; exit 1; }
rm "$failed"
mv "$to/.$name.part" "$to/$name.tar.age"
