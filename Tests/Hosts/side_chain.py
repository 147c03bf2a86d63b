#!/usr/bin/env python3
"""Checks that the LV2 bundle says which of its ports are the side-chain.

usage: side_chain.py BUNDLE.lv2 MARK_SCRIPT

In dsp.ttl, exactly two audio inputs carry lv2:isSideChain, they belong to the group called Return, and that group
says pg:sideChainOf the main input's. What could pass here for the wrong reason: a reader that finds what it wants
anywhere in the file. So a copy without the marks must fall short, and a copy with the mark on another port too.
Prints "holds: ..." or "falls short: ..."; exit status 1 if anything fell short.
"""
import os
import re
import subprocess
import sys
import tempfile

short = 0


def line(ok, words):
    global short
    short += not ok
    print(("holds: " if ok else "falls short: ") + words, flush=True)


def blocks(text):
    """What stands between [ and ], and the statements that begin in the first column."""
    return re.findall(r"\[(.*?)\]", text, re.S), re.split(r"\.\n\n", text)


def fault(text):
    """What is wrong with the marks, or None."""
    ports, statements = blocks(text)
    group = next((s for s in statements if 'lv2:name "Return"' in s and "pg:InputGroup" in s), None)
    if group is None:
        return "there is no input group called Return"
    name = group.strip().split()[0]
    main = re.search(r"pg:mainInput (\S+)", text)
    if main is None or f"pg:sideChainOf {main[1]} " not in group:
        return "the group does not say whose side-chain it is"
    members = [p for p in ports if f"pg:group {name} " in p]
    marked = [p for p in ports if "lv2:isSideChain" in p]
    if len(members) != 2 or any("lv2:AudioPort" not in p or "lv2:InputPort" not in p for p in members):
        return f"the group has {len(members)} ports, not two audio inputs"
    if marked != members:
        return f"{len(marked)} ports are marked, and they are not the group's"
    return None


def mark(script, path):
    return subprocess.run([sys.executable, script, path, "Return"], capture_output=True, text=True, check=False)


def main():
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    with open(os.path.join(sys.argv[1], "dsp.ttl"), encoding="utf-8") as file:
        text = file.read()
    found = fault(text)
    line(found is None, "the bundle marks its Return" + (f": {found}" if found else ""))
    bare = re.sub(r"[^\n]*(lv2:isSideChain|pg:sideChainOf)[^\n]*\n", "", text)
    line(fault(bare) is not None, "a copy without the marks is seen to lack them")
    first = "\t\tpg:group plug:input_group_1 ;\n"
    moved = bare.replace(first, first + "\t\tlv2:portProperty lv2:isSideChain ;\n")
    line(moved != bare and fault(moved) is not None, "marks on the main input are seen to be wrong")
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "dsp.ttl")
        for words, before in (("marked anew it is the same again", bare), ("marked twice it is the same", text)):
            with open(path, "w", encoding="utf-8") as file:
                file.write(before)
            done = mark(sys.argv[2], path)
            with open(path, encoding="utf-8") as file:
                line(done.returncode == 0 and file.read() == text, words)
        with open(path, "w", encoding="utf-8") as file:
            file.write("@prefix lv2: <http://lv2plug.in/ns/lv2core#> .\n")
        done = mark(sys.argv[2], path)
        line(done.returncode == 1 and "could not be marked" in done.stderr, "a file without the group is refused in words")
        line(os.listdir(folder) == ["dsp.ttl"], "nothing half-written is left")
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
