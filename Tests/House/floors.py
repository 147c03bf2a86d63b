#!/usr/bin/env python3
"""Checks that the house stands as it is drawn: python3 floors.py PROJECT_ROOT

  - a file of Source/ includes only its own folder and those that the table below allows it (floors go down only)
  - floors 1 to 3 include no JUCE, no files, no threads and no clocks; FFTW's header is in one file only
  - every source file is named in its CMakeLists.txt, so that no test is silently absent
  - no text file of the project holds an absolute path of somebody's machine

What could pass here for the wrong reason: a check that finds no files, or one that sees nothing. So each finding
says how many files it read, and in the same run a small project is built in a temporary folder, found in order, then
broken in each way in turn; each fault must be seen and no other. Exit status 1 if anything falls short.
"""

import os
import posixpath
import re
import subprocess
import sys
import tempfile

ENGINE = ["Core", "Dsp", "Measure", "PracticeRoom", "Trial", "Correction"]  # floors 1 to 3

# What each folder of Source/ may include besides itself.
ALLOWED = {
    "Core": [],
    "Dsp": ["Core"],
    "Measure": ["Core", "Dsp"],
    "PracticeRoom": ["Core", "Dsp"],
    "Trial": ["Core", "Dsp", "Measure"],
    "Correction": ["Core", "Dsp", "Measure"],
    "Files": ENGINE,
    "Realtime": ["Core", "Dsp"],
    "Plugin": ENGINE + ["Files", "Realtime"],
    "Editor": ["Core", "Measure", "Trial", "Correction"],
    "Command": ENGINE + ["Files", "Realtime", "Plugin"],
    "Entry": ENGINE + ["Files", "Realtime", "Plugin", "Editor", "Command"],
}

# The one header of a higher or forbidden folder that a folder may include.
ALLOWED_FILES = {"Editor": ["Plugin/EditorInterface.h"]}

# Not in floors 1 to 3: files, threads, clocks.
FORBIDDEN_IN_ENGINE = {
    "fstream", "filesystem", "thread", "chrono", "future", "condition_variable", "semaphore", "latch", "barrier",
    "stop_token", "ctime", "time.h", "pthread.h", "unistd.h", "fcntl.h", "dirent.h", "windows.h",
}
FFTW_FILE = "Dsp/Fft.cpp"

SOURCE_ENDINGS = (".h", ".hpp", ".cpp", ".cc", ".c", ".mm")
COMPILED_ENDINGS = (".cpp", ".cc", ".c", ".mm")
COMMENT = re.compile(r'//[^\n]*|/\*.*?\*/|("(?:\\.|[^"\\\n])*")', re.S)
INCLUDE = re.compile(r'^[ \t]*#[ \t]*(?:include|include_next|import)\b[ \t]*([^\n]*)', re.M)

# Spelt in pieces, or this file would find itself. A name must follow, so that "/home" in a sentence is no fault.
STARTS = r"(?:(?<![\w.~$})\]/-])|(?<=-[IL])|(?<=file://))"
MACHINE_PATH = re.compile(
    STARTS + "/(?:" + "ho" + "me|Us" + "ers|wo" + r"rk|mnt|media|srv)/[\w.-]+"
    "|" + STARTS + "/ro" + r"ot(?![\w-])|\b[A-Za-z]:\\+Us" + r"ers\\")


def read(path):
    with open(path, encoding="utf-8", errors="replace") as file:
        return file.read()


def files_below(root, folder, endings):
    """Paths relative to `root`/`folder`, with forward slashes, sorted."""
    found = []
    top = os.path.join(root, folder)
    for where, _, names in os.walk(top):
        found += [os.path.relpath(os.path.join(where, name), top).replace(os.sep, "/")
                  for name in names if name.endswith(endings)]
    return sorted(found)


def without_comments(text):
    """Strings are kept, so that a // inside one is no comment."""
    return COMMENT.sub(lambda match: match.group(1) or " ", text)


def includes_of(text):
    """(name, quoted) of each include; name is None where it is a macro and cannot be read."""
    for match in INCLUDE.finditer(without_comments(text)):
        written = re.match(r'"([^"]+)"|<([^>]+)>', match.group(1).strip())
        yield (written.group(1) or written.group(2), bool(written.group(1))) if written else (None, False)


def include_fault(root, name, target, quoted):
    """(kind, words) if the file `name` of Source/ may not include `target`, or None."""
    folder = name.split("/")[0]
    if target is None:
        return "unreadable", "includes by a macro, which cannot be checked"
    place = posixpath.normpath(target)
    if place.startswith(".."):
        place = posixpath.normpath(posixpath.join(posixpath.dirname(name), target))
    other = place.split("/")[0]
    if other in ALLOWED and "/" in place:
        may = other == folder or other in ALLOWED[folder] or place in ALLOWED_FILES.get(folder, [])
        if not may:
            return "upwards", f"includes {place}: {folder} may not use {other}"
        if place != target:
            return "relative", f"includes {target}: write it relative to Source/"
        if not os.path.isfile(os.path.join(root, "Source", place)):
            return "missing", f"includes {place}, which is not there"
        return None
    if place == "fftw3.h" and name != FFTW_FILE:
        return "fftw", f"includes fftw3.h, which belongs in {FFTW_FILE} alone"
    if folder in ENGINE:
        lower = place.lower()
        if lower.split("/")[-1].startswith("juce") or lower.startswith("juce"):
            return "juce", f"includes {place}: floors 1 to 3 know no JUCE"
        if place in FORBIDDEN_IN_ENGINE or place.startswith("sys/"):
            return "files, threads, clocks", f"includes {place}: floors 1 to 3 have no files, threads or clocks"
    if quoted and place != "fftw3.h":
        return "relative", f"includes \"{target}\": write it relative to Source/, or with <> if it is a library's"
    return None


def check_includes(root):
    faults, names = [], files_below(root, "Source", SOURCE_ENDINGS)
    for name in names:
        if "/" not in name or name.split("/")[0] not in ALLOWED:
            faults.append(("unknown folder", f"Source/{name}: its folder is on no floor"))
            continue
        for target, quoted in includes_of(read(os.path.join(root, "Source", name))):
            fault = include_fault(root, name, target, quoted)
            if fault:
                faults.append((fault[0], f"Source/{name} {fault[1]}"))
    return len(names), faults


def check_built(root, top):
    """Every source file is named in the CMakeLists.txt of its folder or of one above it, up to `top`, or with its whole
    path in a file of cmake/, where the plugin's formats are made."""
    faults, names = [], files_below(root, top, COMPILED_ENDINGS)
    lists = {}
    for listing in files_below(root, top, ("CMakeLists.txt",)):
        text = re.sub(r"#[^\n]*", "", read(os.path.join(root, top, listing)))
        lists[posixpath.dirname(listing)] = set(re.split(r'[\s()"]+', text))
    formats = set()
    for listing in files_below(root, "cmake", (".cmake",)):
        formats |= set(re.split(r'[\s()"]+', re.sub(r"#[^\n]*", "", read(os.path.join(root, "cmake", listing)))))
    for name in names:
        folder, named = posixpath.dirname(name), f"{top}/{name}" in formats
        while not named:
            named = posixpath.relpath(name, folder or ".") in lists.get(folder, ())
            if folder == "":
                break
            folder = posixpath.dirname(folder)
        if not named:
            faults.append(("not built", f"{top}/{name} is named in no CMakeLists.txt"))
    return len(names), faults


def project_files(root):
    """Those that git tracks or would track; without git all but build folders and hidden ones."""
    asked = subprocess.run(["git", "-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
                           capture_output=True, check=False) if os.path.exists(os.path.join(root, ".git")) else None
    if asked and asked.returncode == 0 and asked.stdout:
        return sorted(set(asked.stdout.decode("utf-8", "replace").strip("\0").split("\0")))
    found = []
    for where, folders, names in os.walk(root):
        folders[:] = [folder for folder in folders if folder not in (".git", "__pycache__", ".cache")
                      and not (where == root and re.match(r"build(-|$)", folder))]
        found += [os.path.relpath(os.path.join(where, name), root) for name in names]
    return sorted(found)


def check_paths(root):
    faults, count = [], 0
    for name in project_files(root):
        path = os.path.join(root, name)
        if not os.path.isfile(path):
            continue  # tracked, and just removed
        with open(path, "rb") as file:
            content = file.read()
        if b"\0" in content[:8000]:
            continue  # not text
        count += 1
        for number, line in enumerate(content.decode("utf-8", "replace").splitlines(), 1):
            match = MACHINE_PATH.search(line)
            if match:
                faults.append(("machine path", f"{name}:{number} holds a path of one machine: {match.group(0)}"))
    return count, faults


CHECKS = [
    ("files include only what their floor may", check_includes),
    ("source files are all built", lambda root: check_built(root, "Source")),
    ("test files are all built", lambda root: check_built(root, "Tests")),
    ("text files hold no path of one machine", check_paths),
]


def all_faults(root):
    return [fault for _, check in CHECKS for fault in check(root)[1]]


# A small project in order, and the ways to break it: (file, its text, the kind of fault that must be seen).
GOOD = {
    "Source/CMakeLists.txt": "add_library(engine Dsp/Fft.cpp Measure/Sweep.cpp Files/Wav.cpp Plugin/Processor.cpp)\n",
    "Source/Core/Result.h": "#include <vector>\n#include <mutex>\n",
    "Source/Dsp/Fft.h": '#include "Core/Result.h"\n// #include "Plugin/Processor.h"\n/* #include <thread> */\n',
    "Source/Dsp/Fft.cpp": '#include "Dsp/Fft.h"\n#include <fftw3.h>\n',
    "Source/Measure/Sweep.h": "",
    "Source/Measure/Sweep.cpp": '#include "Measure/Sweep.h"\n#include "Dsp/Fft.h"\n',
    "Source/Files/Wav.cpp": '#include "Measure/Sweep.h"\n#include <juce_core/juce_core.h>\n#include <fstream>\n',
    "Source/Plugin/EditorInterface.h": "",
    "Source/Plugin/Processor.h": "",
    "Source/Plugin/Processor.cpp": '#include "Plugin/Processor.h"\n',
    "Source/Editor/Board.h": '#include "Plugin/EditorInterface.h"\n#include "Measure/Sweep.h"\n',
    "Tests/CMakeLists.txt": "add_executable(tests Dsp/FftTest.cpp)\nadd_subdirectory(Bench)\n",
    "Source/Entry/Main.cpp": "",
    "cmake/Formats.cmake": "target_sources(plugin PRIVATE Source/Entry/Main.cpp)\n",
    "Tests/Dsp/FftTest.cpp": '#include "Dsp/Fft.h"\n#include <thread>\n',
    "Tests/Bench/CMakeLists.txt": "add_executable(bench Speed.cpp)\n",
    "Tests/Bench/Speed.cpp": "",
    "README.md": "See https://example.org/" + "ho" + "me/x and $HOME" + "/wo" + "rk/x, /usr/share and the /ho" + "me page.\n",
}
BAD = [
    ("Source/Core/Result.h", '#include "Dsp/Fft.h"\n', "upwards"),
    ("Source/Measure/Sweep.h", '#include "Files/Wav.h"\n', "upwards"),
    ("Source/Measure/Sweep.h", '#  include   <Plugin/Processor.h>\n', "upwards"),
    ("Source/Measure/Sweep.h", '#include "../Plugin/Processor.h"\n', "upwards"),
    ("Source/Measure/Sweep.h", 'const char* a = "//";\n#include "PracticeRoom/Room.h"\n', "upwards"),
    ("Source/PracticeRoom/Room.h", '#include "Measure/Sweep.h"\n', "upwards"),
    ("Source/Trial/Stance.h", '#include "Correction/Target.h"\n', "upwards"),
    ("Source/Realtime/Player.h", '#include "Files/Wav.h"\n', "upwards"),
    ("Source/Editor/Board.h", '#include "Plugin/Processor.h"\n', "upwards"),
    ("Source/Editor/Board.h", '#include "Dsp/Fft.h"\n', "upwards"),
    ("Source/Command/Main.h", '#include "Editor/Board.h"\n', "upwards"),
    ("Source/Measure/Sweep.h", '#include "../Dsp/Fft.h"\n', "relative"),
    ("Source/Dsp/Fft.h", '#include "Fft.inc"\n', "relative"),
    ("Source/Measure/Sweep.h", '#include "Dsp/Gone.h"\n', "missing"),
    ("Source/Measure/Sweep.h", "#include SOME_MACRO\n", "unreadable"),
    ("Source/Cellar/Wine.h", "", "unknown folder"),
    ("Source/Measure/Sweep.h", "#include <juce_core/juce_core.h>\n", "juce"),
    ("Source/Correction/Target.h", "#include <JuceHeader.h>\n", "juce"),
    ("Source/Measure/Sweep.h", "#include <fftw3.h>\n", "fftw"),
    ("Source/Plugin/Processor.h", '#include "fftw3.h"\n', "fftw"),
    ("Tests/Measure/SweepTest.cpp", "", "not built"),
    ("Tests/CMakeLists.txt", "# Dsp/FftTest.cpp\nadd_subdirectory(Bench)\n", "not built"),
    ("Tests/Bench/CMakeLists.txt", "add_executable(bench Other.cpp)\n", "not built"),
    ("Source/Measure/Gate.cpp", "", "not built"),
    ("cmake/Formats.cmake", "# Source/Entry/Main.cpp\n", "not built"),
    ("README.md", "cd /ho" + "me/mary/plumbline\n", "machine path"),
    ("Tests/Dsp/FftTest.cpp", 'open("/wo' + 'rk/main/x.wav");\n', "machine path"),
    ("notes.txt", "g++ -I/ho" + "me/mary/include\n", "machine path"),
    ("notes.txt", "cache in /ro" + "ot/.cache\n", "machine path"),
    ("notes.txt", "in C:\\Us" + "ers\\mary\n", "machine path"),
] + [("Source/Trial/Stance.h", f"#include <{header}>\n", "files, threads, clocks")
     for header in ("fstream", "thread", "filesystem", "chrono", "sys/stat.h")]


def write_tree(root, files):
    for name, text in files.items():
        path = os.path.join(root, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)


def check_controls():
    """Faults of the checks themselves, found on the small project."""
    faults = []
    with tempfile.TemporaryDirectory() as good:
        write_tree(good, GOOD)
        faults += [f"the project in order is said to be broken: {words}" for _, words in all_faults(good)]
    for name, text, kind in BAD:
        with tempfile.TemporaryDirectory() as bad:
            write_tree(bad, {**GOOD, name: text})
            kinds = {found for found, _ in all_faults(bad)}
            if kinds != {kind}:
                faults.append(f"{name} with {text.strip()!r}: must be seen as \"{kind}\", was {sorted(kinds)}")
    return faults


def main(arguments):
    if len(arguments) != 2 or not os.path.isdir(os.path.join(arguments[1], "Source")):
        print("usage: floors.py PROJECT_ROOT (the folder that holds Source/)", file=sys.stderr)
        return 2
    short = False
    for words, check in CHECKS:
        count, faults = check(arguments[1])
        if count == 0:
            faults = [("empty", "no file was found to check")]
        for _, fault in faults:
            print(f"falls short: {fault}")
        if not faults:
            print(f"holds: {words} ({count} read)")
        short = short or bool(faults)
    faults = check_controls()
    for fault in faults:
        print(f"falls short: the check itself: {fault}")
    if not faults:
        print(f"holds: each of {len(BAD)} faults put into a small project is seen, and none in the project in order")
    return 1 if short or faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
