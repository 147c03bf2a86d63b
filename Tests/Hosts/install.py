#!/usr/bin/env python3
"""Installs the build into a home of its own, finds everything where hosts look for it, and removes it again.

usage: install.py BUILD_FOLDER CMAKE

Once with a prefix inside the home (~/.local), once with one outside. What could pass here for the wrong reason: a
removal that takes away too much, or finds nothing to remove. So a stranger's bundle stands beside ours and must be
there afterwards, untouched, and the folders are listed before and after. Prints "holds: ..." or "falls short: ...";
exit status 1 if anything fell short.
"""
import os
import shutil
import stat
import subprocess
import sys
import tempfile

SCRIPT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "scripts", "uninstall.sh")
SHARED = ["share/applications/plumbline.desktop", "share/doc/plumbline/LICENSE", "share/doc/plumbline/NOTICES",
          "share/plumbline/Presets/practice/three-pairs.json"]
LISTS = ["install_manifest.txt", "install_folders.txt"]
short = 0


def line(ok, words):
    global short
    short += not ok
    print(("holds: " if ok else "falls short: ") + words, flush=True)


def everything_below(folder):
    found = []
    for where, folders, files in os.walk(folder):
        found += [os.path.relpath(os.path.join(where, name), folder) for name in folders + files]
    return sorted(found)


def is_program(path):
    return os.path.isfile(path) and os.stat(path).st_mode & stat.S_IXUSR


def missing(prefix, bundles):
    """What is not where it should be."""
    vst3, lv2 = bundles
    inside = os.path.join(vst3, "Plumbline.vst3", "Contents")
    modules = [name for name in everything_below(inside) if name.endswith((".so", "/Plumbline"))]
    wanted = [os.path.join(prefix, name) for name in SHARED]
    wanted += [os.path.join(lv2, "Plumbline.lv2", name) for name in ("manifest.ttl", "dsp.ttl")]
    gone = [path for path in wanted if not os.path.isfile(path)]
    gone += [name for name in ("plumbline", "plumbline-standalone")
             if not is_program(os.path.join(prefix, "bin", name))]
    return gone + ([] if len(modules) == 1 else ["the VST3 bundle's module"])


def run(environment, *words):
    done = subprocess.run(words, env=environment, capture_output=True, text=True, timeout=120, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{os.path.basename(words[0])} ends with {done.returncode}: {done.stderr.strip()[-400:]}")
    return done.stdout


def try_prefix(build, cmake, top, prefix, bundles, words):
    home = os.path.join(top, "home")
    environment = {**os.environ, "HOME": home}
    environment.pop("DESTDIR", None)
    environment.pop("LV2_PATH", None)
    for folder in bundles:  # a stranger's, beside ours
        os.makedirs(os.path.join(folder, "Stranger.bundle"))
    before = everything_below(top)
    run(environment, cmake, "--install", build, "--prefix", prefix)
    gone = missing(prefix, bundles)
    line(not gone, f"{words}: everything is where hosts look" + (f", but for {gone}" if gone else ""))
    if not gone:
        said = run(environment, os.path.join(prefix, "bin", "plumbline"), "--version")
        line("Plumbline" in said or said.strip()[:1].isdigit(), f"{words}: the console program runs from there")
        with open(os.path.join(prefix, SHARED[0]), encoding="utf-8") as file:
            line(f'"{prefix}/bin/plumbline-standalone"' in file.read(), f"{words}: the menu's entry names the program")
    if shutil.which("lv2ls") and bundles[1].startswith(home):
        line("plumbline" in run(environment, "lv2ls"), f"{words}: an LV2 host lists it")
    run(environment, cmake, "--install", build, "--prefix", prefix)  # once more over itself
    run(environment, "bash", SCRIPT, build)
    after = everything_below(top)
    line(after == before, f"{words}: nothing of ours is left, nothing of others is gone"
         + ("" if after == before else f", but {sorted(set(after) ^ set(before))[:5]}"))
    again = subprocess.run(["bash", SCRIPT, build], env=environment, capture_output=True, text=True, check=False)
    line(again.returncode == 1 and "Nothing was installed" in again.stderr, f"{words}: removing twice is said")


def main():
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    build, cmake = os.path.abspath(sys.argv[1]), sys.argv[2]
    with tempfile.TemporaryDirectory(prefix="plumbline-install-") as top:
        top = os.path.realpath(top)
        kept = os.path.join(top, "lists")  # of an installation that somebody really made
        trial = os.path.join(top, "trial")
        os.makedirs(kept)
        os.makedirs(os.path.join(trial, "home"))
        for name in LISTS:
            if os.path.exists(os.path.join(build, name)):
                shutil.move(os.path.join(build, name), kept)
        try:
            home, outside = os.path.join(trial, "home"), os.path.join(trial, "usr")
            try_prefix(build, cmake, trial, os.path.join(home, ".local"),
                       (os.path.join(home, ".vst3"), os.path.join(home, ".lv2")), "for one user")
            try_prefix(build, cmake, trial, outside,
                       (os.path.join(outside, "lib", "vst3"), os.path.join(outside, "lib", "lv2")), "for everybody")
        except (OSError, RuntimeError) as fault:
            line(False, str(fault))
        finally:
            for name in os.listdir(kept):
                shutil.move(os.path.join(kept, name), os.path.join(build, name))
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
