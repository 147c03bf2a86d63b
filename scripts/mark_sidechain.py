#!/usr/bin/env python3
"""Tells LV2 hosts which ports are the side-chain, which JUCE 7.0.5 does not write.

usage: mark_sidechain.py BUNDLE/dsp.ttl [GROUP_NAME]     (GROUP_NAME: Return, unless told otherwise)

Adds `lv2:portProperty lv2:isSideChain` to each port of that input group and `pg:sideChainOf`, naming the main
input's group, to the group itself. A file that is marked already stays as it is, so that it may run after every
build. The file is replaced whole or not at all. Exit status 1, with a sentence, if it cannot be done.
"""
import os
import re
import sys

GROUP = r'(?P<group>plug:\w+)\n\ta pg:InputGroup ;\n(?P<marked>\tpg:sideChainOf plug:\w+ ;\n)?\tlv2:name "%s" ;'
MAIN = re.compile(r"pg:mainInput (plug:\w+)")


class Fault(Exception):
    """What is wrong, as a sentence."""


def marked(text, name):
    """The text with the marks, and how many ports carry them."""
    found = re.search(GROUP % re.escape(name), text)
    if not found:
        raise Fault(f'there is no input group called "{name}"')
    main = MAIN.search(text)
    if not main:
        raise Fault("it names no main input (pg:mainInput), so nothing says what the side-chain is beside")
    group = found["group"]
    if not found["marked"]:
        head = f"{group}\n\ta pg:InputGroup ;\n"
        text = text.replace(head, f"{head}\tpg:sideChainOf {main[1]} ;\n", 1)
    member = f"\t\tpg:group {group} ;\n"
    mark = "\t\tlv2:portProperty lv2:isSideChain ;\n"
    ports = text.count(member)
    if ports == 0:
        raise Fault(f'no port belongs to the group "{name}"')
    return text.replace(member + mark, member).replace(member, member + mark), ports


def main(arguments):
    if not 2 <= len(arguments) <= 3:
        print(__doc__, file=sys.stderr)
        return 2
    path, name = arguments[1], arguments[2] if len(arguments) == 3 else "Return"
    try:
        with open(path, encoding="utf-8") as file:
            before = file.read()
        after, ports = marked(before, name)
        if after == before:
            return 0
        with open(path + ".new", "w", encoding="utf-8") as file:
            file.write(after)
        os.replace(path + ".new", path)
    except (OSError, UnicodeDecodeError, Fault) as fault:
        print(f"The side-chain of {path} could not be marked: {fault}.", file=sys.stderr)
        return 1
    print(f"{ports} ports marked as side-chain")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
