#!/usr/bin/env python3
"""Looks whether what a host saved names the trial: check_state.py SESSION_FOLDER TRIALS

Reads every file of the session, as it is and with what is encoded in it taken apart (base64, as hosts keep VST3
state; JUCE's own "SIZE.letters", as it keeps LV2 state), and seeks our state with the id and the folder of the only
trial below TRIALS. An id that was never given must not be found. Prints "holds: ..." or "falls
short: ..."; exit status 1 if it falls short.
"""
import base64
import glob
import json
import os
import re
import sys

RUN = re.compile(rb"[A-Za-z0-9+/\s]{80,}={0,2}")

JUCE_RUN = re.compile(rb'"(\d+)\.([A-Za-z0-9+.]+)"')
JUCE_LETTERS = b".ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+"


def juce_decoded(size, letters):
    """Six bits a letter, the lowest first."""
    bits = sum(JUCE_LETTERS.index(letter) << (6 * k) for k, letter in enumerate(letters))
    return bits.to_bytes(max(size, len(letters)), "little")[:size]


def texts(folder):
    for where, _, names in os.walk(folder):
        for name in names:
            with open(os.path.join(where, name), "rb") as file:
                data = file.read()
            yield data
            for size, letters in JUCE_RUN.findall(data):
                yield juce_decoded(int(size), letters)
            for run in RUN.findall(data):
                packed = re.sub(rb"\s", b"", run)
                for cut in range(4):  # a word before it may have run into it
                    part = packed[cut:].rstrip(b"=")
                    yield base64.b64decode(part[:len(part) // 4 * 4])


def named(folder, trial, where):
    return any(b"plumbline/host-state/" in text and f'"{trial}"'.encode() in text and where.encode() in text
               for text in texts(folder))


def main():
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    found = glob.glob(os.path.join(sys.argv[2], "*", "trial.json"))
    if len(found) != 1:
        print(f"falls short: there are {len(found)} trials, not one")
        return 1
    with open(found[0], encoding="utf-8") as file:
        trial = json.load(file)["id"]
    if named(sys.argv[1], trial[::-1] + "0", os.path.dirname(found[0])):
        print("falls short: an id that was never given is found")
        return 1
    if not named(sys.argv[1], trial, os.path.dirname(found[0])):
        print("falls short: the saved session does not name the trial")
        return 1
    print("holds: the saved session names the trial and its folder")
    return 0


if __name__ == "__main__":
    sys.exit(main())
