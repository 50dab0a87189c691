#!/bin/bash
# The packages of the browser tests, exactly as package-lock.json has them; does nothing when they are there.
set -eu
cd "$(dirname "$0")"
[ -e node_modules/.package-lock.json ] && [ ! package-lock.json -nt node_modules/.package-lock.json ] && exit 0
npm ci --no-audit --no-fund --ignore-scripts
