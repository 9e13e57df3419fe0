#!/bin/sh
# Checks designs; for every CI service that can run a shell, and for your own machine. In the top folder of the repository:
#
#   PROJECTS="plant.fed" sh ci.sh              layout, findings, expectations, documents
#   PROJECTS="plant.fed" sh ci.sh origin/main  and what changed since that branch was left, into review.md
#
# PROJECTS names .fed files, or folders with a project.fed; the documents of plant.fed are in issued/plant.
# OUTPUTS names those that the repository keeps, as "--only one-line --only bill"; all of them when it is left out.
set -eu
failed=0
fedfrom fmt --check $PROJECTS || failed=1
fedfrom check $PROJECTS || failed=1
fedfrom check $PROJECTS --format junit > expectations.xml || failed=1
for project in $PROJECTS; do
    fedfrom build "$project" -o "issued/$(basename "$project" .fed)" ${OUTPUTS:-} --check 2> /dev/null || failed=1
done
if [ $# -gt 0 ]; then
    : > review.md
    for project in $PROJECTS; do
        # exit code 1 says that the design differs, which is what a change is for
        fedfrom diff "$1...HEAD" "$project" --format markdown >> review.md || [ $? -eq 1 ] || failed=1
    done
fi
exit $failed
