"""Whatever is wrong with what comes in: the exit that README names, the reason on standard error with the file's
name, nothing half-written, no temporary file, no signal; and a good run in the same place afterwards.

What could pass here for the wrong reason: a program that refuses everything (each group ends with a good
run, and the good recording that each bad one is made from is analysed first); a reason that fits any file
(it must hold a word of the cause); a folder that is clean because nothing was ever to be written there
(outputs go to the listed folder); a missing right that root does not miss (those cases run as nobody); a
disk that is full without anything to write (the limit is below the size of what the good run wrote).
"""
import json
import os
import shutil
import subprocess

import numpy as np

from refusal import Bench, limited, mounted
from support import analyse, known, later, listing, main, read_json, stimulus


def recordings(program, report, folder):
    bench = Bench(program, report, folder)
    bench.good_run("nothing")
    rate, mic, loop = bench.rate, bench.mic, bench.loop
    rng = np.random.default_rng(1)
    whole = open(bench.good, "rb").read()
    right, sweep = bench.played.plan["layout"]["rightStartSample"], bench.played.plan["sweep"]["samples"]
    t = np.arange(len(mic)) / rate
    tune = sum(0.05 * np.sin(2 * np.pi * 110 * 2 ** (np.floor(3 * t) % 5 / 12 + o) * t) for o in range(4))
    other = stimulus(program, bench.files, "longer", seconds=2)
    patched = lambda at, raw: whole[:at] + raw + whole[at + len(raw):]
    header = whole.index(b"fmt ") + 8
    nan, infinite = mic.copy(), mic.copy()
    nan[len(mic) // 2], infinite[len(mic) // 2] = np.nan, np.inf
    cases = (
        ("a letter", bench.write("letter.wav", "dear reader\n" * 99), ("wav",)),
        ("an empty file", bench.write("empty.wav", b""), ("empty", "wav")),
        ("a header and no samples", bench.write("header.wav", whole[:whole.index(b"data") + 8]),
         ("short", "cut", "sample", "empty", "end")),
        ("half a header", bench.write("stump.wav", whole[:30]), ("short", "cut", "wav", "end", "header")),
        ("cut short in its samples", bench.write("cut.wav", whole[:int(len(whole) * 0.99)]),
         ("short", "cut", "truncat", "end", "missing")),
        ("no channels", bench.write("none.wav", patched(header + 2, b"\0\0")), ("channel", "wav")),
        ("a rate of 0", bench.write("zero.wav", patched(header + 4, b"\0\0\0\0")), ("rate", "wav", "hz")),
        ("a compressed format", bench.write("packed.wav", patched(header, b"\x55\0")),
         ("format", "compress", "wav")),
        ("another rate", bench.wav("other-rate.wav", mic, loop, rate=44100), ("44100", "44.1", "44 100")),
        ("ending within the right sweep",
         bench.wav("brief.wav", mic[:right + sweep // 2], loop[:right + sweep // 2]), ("short", "end")),
        ("ending before the right sweep", bench.wav("left-only.wav", mic[:right - 5000], loop[:right - 5000]),
         ("short", "end", "right")),
        ("a tenth of a second", bench.wav("blink.wav", mic[right:right + 4800], loop[right:right + 4800]),
         ("short", "end", "stimulus")),
        ("noise", bench.wav("noise.wav", *(0.1 * rng.standard_normal((2, len(mic))))), ("stimulus", "sweep")),
        ("a tune", bench.wav("tune.wav", tune, tune), ("stimulus", "sweep")),
        ("another stimulus", bench.wav("longer-take.wav", other.samples.sum(1), other.samples.sum(1)),
         ("stimulus", "sweep")),
        ("a NaN", bench.wav("nan.wav", nan, loop), ("nan", "not a number", "finite")),
        ("an infinity", bench.wav("infinite.wav", infinite, loop), ("inf", "finite")),
        ("a NaN in the loopback", bench.wav("nan-loop.wav", mic,
                                            np.where(np.isnan(nan[:len(loop)]), np.nan, loop)),
         ("nan", "not a number", "finite")),
        ("a folder", bench.files, ("folder", "directory")),
        ("a file that is not there", os.path.join(bench.files, "gone.wav"),
         ("not there", "no such", "not found", "does not exist", "open")),
    )
    for what, path, causes in cases:
        bench.refused(f"recording: {what}", bench.analysis(path, None, "--reference-channel", 2), (3,),
                      [os.path.basename(path)], causes)
    for what, path in (("noise", bench.wav("noise-1.wav", 0.1 * rng.standard_normal(len(mic)))),
                       ("a tune", bench.wav("tune-1.wav", tune)),
                       ("another stimulus", bench.wav("longer-1.wav", other.samples.sum(1)))):
        bench.refused(f"recording, no loopback: {what}", bench.analysis(path), (3,), [os.path.basename(path)],
                      ("stimulus", "sweep"))
    one = bench.wav("one.wav", mic)
    bench.refused("a loopback channel that is not there", bench.analysis(one, None, "--reference-channel", 2),
                  (2, 3), (), ("channel",))
    bench.refused("a microphone channel that is not there",
                  bench.analysis(one, None, "--microphone-channel", 5), (2, 3), (), ("channel",))
    bench.good_run("bad recordings")


def changed(plan, *path_and_value):
    *path, last, value = path_and_value
    copy = json.loads(json.dumps(plan))
    inner = copy
    for key in path:
        inner = inner[key]
    if value is None:
        del inner[last]
    else:
        inner[last] = value
    return json.dumps(copy)


def plans(program, report, folder):
    bench = Bench(program, report, folder)
    plan = bench.played.plan
    text = json.dumps(plan)
    vast = 10 ** 15
    cases = (
        ("of a future schema", changed(plan, "schema", "plumbline/stimulus/2"),
         ("schema", "version", "newer")),
        ("of another kind", changed(plan, "schema", "plumbline/analysis/1"), ("schema", "stimulus")),
        ("without a schema", changed(plan, "schema", None), ("schema", "plumbline/stimulus")),
        ("damaged", text[:len(text) // 2], ("json", "damaged", "read")),
        ("empty", "", ("json", "empty", "read")),
        ("a list", "[]", ()),
        ("100 000 brackets deep", "[" * 100000, ()),
        ("bytes that are no text", b"\xff\xfe\x00{" * 20, ()),
        ("a NaN level", changed(plan, "levelDbfs", float("nan")), ()),
        ("a level past any number", text.replace('"levelDbfs": ', '"levelDbfs": 1e999, "was": '), ()),
        ("a level in words", changed(plan, "levelDbfs", "loud"), ("level",)),
        ("a level above full scale", changed(plan, "levelDbfs", 60), ("level",)),
        ("a vast sweep", changed(plan, "sweep", "samples", vast), ()),
        ("a vast stream", changed(plan, "layout", "totalSamples", vast), ()),
        ("a vast silence", changed(plan, "layout", "silenceSamples", vast), ()),
        ("a negative start", changed(plan, "layout", "leftStartSample", -5), ()),
        ("right before left", changed(plan, "layout", "rightStartSample", 10), ()),
        ("half a sample", changed(plan, "sweep", "samples", 1000.5), ()),
        ("fades longer than the sweep", changed(plan, "sweep", "fadeInSamples", plan["sweep"]["samples"] + 1),
         ()),
        ("no rate", changed(plan, "sampleRateHz", 0), ("rate",)),
        ("a sweep that does not rise", changed(plan, "sweep", "rateSeconds", 0), ()),
        ("no sweep", changed(plan, "sweep", None), ("sweep",)),
        ("no layout", changed(plan, "layout", None), ("layout",)),
        ("three channels", changed(plan, "channels", ["left", "right", "top"]), ("channel",)),
    )
    for number, (what, content, causes) in enumerate(cases):
        path = bench.write(f"plan-{number}.json", content)
        bench.refused(f"stimulus description: {what}", bench.analysis(None, path, "--reference-channel", 2),
                      (3,), [os.path.basename(path)], causes)
    bench.refused("stimulus description: a folder", bench.analysis(None, bench.files), (3,), ["files"],
                  ("folder", "directory"))
    bench.refused("stimulus description: not there",
                  bench.analysis(None, os.path.join(bench.files, "gone.json")), (3,), ["gone.json"])
    bench.refused("stimulus description: the WAV in its place", bench.analysis(None, bench.played.wav), (3,),
                  ["s.wav"])
    calibrations = (("empty", ""), ("words", "bright at the top\n"), ("one column", "20\n100\n"),
                    ("falling", "100 0\n50 1\n"),
                    ("a NaN", "20 0\n100 nan\n"), ("a negative frequency", "-20 0\n100 1\n"),
                    ("a word among numbers", "20 0\n100 loud\n"),
                    ("the same frequency twice", "20 0\n100 1\n100 2\n"))
    for number, (what, content) in enumerate(calibrations):
        path = bench.write(f"microphone-{number}.txt", content)
        bench.refused(f"calibration: {what}", bench.analysis(None, None, "--calibration", path), (3,),
                      [os.path.basename(path)])
    bench.refused("calibration: a folder", bench.analysis(None, None, "--calibration", bench.files), (3,),
                  ["files"], ("folder", "directory"))
    bench.good_run("bad descriptions")


def options(program, report, folder):
    bench = Bench(program, report, folder)
    s = os.path.join(bench.outputs, "t.wav")
    uses = [(), ("measure",), ("analyse",), ("analyse", bench.good), bench.analysis(None, None, "--loud"),
            ("stimulus",),
            bench.analysis(None, None, "--smoothing")]
    uses += [bench.analysis(None, None, o, v) for o, v in (
        ("--smoothing", 0), ("--smoothing", 49), ("--smoothing", -3), ("--smoothing", "wide"),
        ("--smoothing", "12x"), ("--window", -5), ("--window", "wide"), ("--window", "nan"),
        ("--temperature", "warm"), ("--sensitivity", "nan"), ("--reference-channel", 0),
        ("--reference-channel", 1), ("--microphone-channel", "one"))]
    uses += [("stimulus", "--out", s, o, v) for o, v in (
        ("--seconds", 0.5), ("--seconds", 31), ("--seconds", "nan"), ("--rate", 0), ("--rate", 47.5),
        ("--rate", "fast"), ("--from", 0), ("--from", 30000),
        ("--to", 30000), ("--to", 10), ("--level", 1), ("--level", "inf"))]
    for use in uses:
        shown = " ".join(str(u) if len(str(u)) < 20 else os.path.basename(str(u)) for u in use)
        bench.refused(f"wrong use: plumbline {shown}", use, (2,), (), ("help",))
    bench.good_run("wrong uses")


def tree(folder):
    return {name: open(os.path.join(folder, name), "rb").read() for name in os.listdir(folder)}


def places(program, report, folder):
    """Where the output is to go."""
    bench = Bench(program, report, folder)
    work = lambda *more, out=None: bench.analysis(None, None, "--reference-channel", 2, *more, out=out)
    report.line(program.run(*work()).code == 0, "a first run writes")
    bench.refused("an output that exists", work(), (3,), ["out"], ("exist", "replace"))
    before = tree(bench.out)
    again = program.run(*work("--replace", "--smoothing", 3))
    report.line(again.code == 0 and tree(bench.out).keys() == before.keys() and tree(bench.out) != before
                and os.listdir(bench.outputs) == ["out"],
                f"--replace replaces what the program wrote (exit {again.code})")
    bad = bench.write("bad.wav", "no")
    bench.refused("--replace with a bad recording leaves the old output",
                  bench.analysis(bad, None, "--replace"), (3,), ["bad.wav"])
    theirs = os.path.join(bench.outputs, "theirs")
    os.mkdir(theirs)
    open(os.path.join(theirs, "diary.txt"), "w").close()
    bench.refused("--replace of a folder that somebody else wrote", work("--replace", out=theirs), (3,),
                  ["theirs"])
    bench.refused("a file in place of the output", work("--replace", out=os.path.join(theirs, "diary.txt")),
                  (1, 3), ["diary.txt"])
    bench.refused("an output below a file", work(out=os.path.join(theirs, "diary.txt", "out")), (1, 3),
                  ["diary.txt"])
    shutil.rmtree(theirs)
    bench.good_run("bad places")


def rights(program, report, folder):
    bench = Bench(program, report, folder)
    through, able = (), program.path
    if os.geteuid() == 0:
        through = ("setpriv", "--reuid", "65534", "--regid", "65534", "--clear-groups", "--")
        if subprocess.run([*through, "test", "-x", able], check=False).returncode:
            able = shutil.copy(program.path, os.path.join(folder, "plumbline"))
    for place in (folder, bench.files, bench.outputs):
        os.chmod(place, 0o755)
    os.chmod(program.home, 0o777)
    os.chmod(bench.outputs, 0o555)
    known_path, program.path = program.path, able
    bench.refused("analyse: no right to write", bench.analysis(), (1, 3), ["out"],
                  ("permi", "right", "allow", "write"), through=through)
    bench.refused("stimulus: no right to write", ("stimulus", "--out", os.path.join(bench.outputs, "t.wav")),
                  (1, 3), ["t.wav"],
                  ("permi", "right", "allow", "write"), through=through)
    bench.refused("add: no right to write",
                  ("add", os.path.join(bench.outputs, "trial"), bench.good, "--stimulus", bench.played.path,
                   "--stance", "Heron 6, upright"), (1, 3), ["trial"], ("permi", "right", "allow", "write"),
                  through=through)
    os.chmod(bench.outputs, 0o777)
    os.chmod(bench.good, 0)
    bench.refused("analyse: no right to read", bench.analysis(), (3,), ["good.wav"],
                  ("permi", "right", "allow", "read", "open"), through=through)
    os.chmod(bench.good, 0o644)
    done = program.run(*bench.analysis(), through=through)
    report.line(done.code == 0 and not done.died(),
                f"the same user with the right to does it (exit {done.code})")
    program.path = known_path
    bench.good_run("missing rights")


def full_disk(program, report, folder):
    bench = Bench(program, report, folder)
    trial = os.path.join(bench.outputs, "trial")
    jobs = (("analyse", bench.analysis(), "out", 20),
            ("stimulus", ("stimulus", "--out", os.path.join(bench.outputs, "t.wav")), "t.wav", 500),
            ("add", ("add", trial, bench.good, "--stimulus", bench.played.path, "--stance",
                     "Heron 6, upright"), "trial", 500))
    full = ("full", "space", "write", "large", "room")
    for what, arguments, name, kilobytes in jobs:
        bench.refused(f"{what}: files may not grow past {kilobytes} kB", arguments, (1, 3), [name], full,
                      before=limited(kilobytes * 1024))
    for what, arguments, name, kilobytes in jobs:
        if not mounted(bench.outputs, kilobytes):
            report.remark(f"{what} on a disk of {kilobytes} kB: nothing can be mounted here,"
                          " the size limit above stands for it")
            continue
        try:
            bench.refused(f"{what}: a disk of {kilobytes} kB", arguments, (1, 3), [name], full)
        finally:
            subprocess.run(["umount", bench.outputs], check=False)
    bench.good_run("full disks")


def doubtful(program, report, folder):
    """Recordings that can be analysed, or nearly: the faults say what is wrong with them."""
    bench = Bench(program, report, folder, level=-6)
    mic, loop = bench.mic, bench.loop
    honest = analyse(program, bench.good, bench.played.path, "--reference-channel", 2)
    report.line(honest["faults"] == [],
                f"control: the good recording has no faults ({[f['code'] for f in honest['faults']]})")
    hot = mic * 2 / np.max(np.abs(mic))
    for kind in ("float", "int16", "int24"):
        path = bench.wav(f"clipped-{kind}.wav", np.clip(hot, -1, 1), loop, kind=kind)
        result = analyse(program, path, bench.played.path, "--reference-channel", 2, allow=(0, 4))
        said = [f for f in result["faults"] if f["severity"] == "doubt"
                and "clip" in (f["code"] + f["words"]).lower()]
        report.line(bool(said),
                    f"a clipped {kind} recording is in doubt: {[f['code'] for f in result['faults']]}")
    system, rate = bench.system, bench.rate
    left, right = (later(system.run(x), 200) for x in bench.played.sides())
    cases = (
        ("a silent loopback", "silent-loop.wav", (mic, loop * 0), ("loopback", "reference", "silent")),
        ("a silent microphone", "silent.wav", (mic * 0, loop), ("silent", "silence", "nothing")),
        ("a silent left monitor", "right-only.wav", (right, loop), ("left",)),
        ("a silent right monitor", "left-only.wav", (left, loop), ("right",)),
        ("a microphone later than the silence is long", "late.wav", (later(mic, 3 * rate // 2), loop), ()),
        ("a loopback 40 ms later than the microphone", "early.wav", (mic, later(loop, rate // 25)), ()),
    )
    for what, name, channels, causes in cases:
        doubted(bench, what, bench.wav(name, *channels), honest, causes)


def doubted(bench, what, path, honest, causes):
    """Refused, or in doubt: then what is shown is right, or nothing is."""
    before = listing(bench.outputs)
    done = bench.program.run(*bench.analysis(path, None, "--reference-channel", 2))
    if done.code == 3:
        ok = any(c in done.err.lower() for c in causes or ("",)) and os.path.basename(path) in done.err
        ok = ok and listing(bench.outputs) == before
        bench.report.line(ok, f"{what}: refused ({' '.join(done.err.split())[:120]})")
        return
    faults = [] if done.code == 4 else [f"exit {done.code}, neither refused nor in doubt"]
    result = read_json(os.path.join(bench.out, "analysis.json"))
    if not any(c in (f["code"] + f["words"]).lower() for f in result["faults"] for c in causes or ("",)):
        faults.append("no fault says so")
    for side, found in result["sides"].items():
        is_known = np.array(found["response"]["known"])
        off = known(found["response"]["levelDb"]) - known(honest["sides"][side]["response"]["levelDb"])
        if not is_known.any() and (found["travelTimeSeconds"] is not None or found["polarity"] is not None):
            faults.append(f"{side} unknown, with a travel time or polarity")
        elif is_known.any() and np.max(np.abs(off[is_known])) > 0.01:
            faults.append(f"{side} shown {np.max(np.abs(off[is_known])):.2f} dB wrong")
    bench.report.line(not faults, f"{what}: {'; '.join(faults) or 'in doubt, and what is shown is right'}")
    shutil.rmtree(bench.out)


def trials(program, report, folder):
    """What `add` and `practice` refuse, and that a refusal leaves the trial as it was."""
    bench = Bench(program, report, folder)
    trial = os.path.join(bench.outputs, "trial")
    filed = lambda recording, where=trial, *more: ("add", where, recording, "--stimulus", bench.played.path,
                                                   "--stance", "Heron 6, upright",
                                                   "--reference-channel", 2, *more)
    bad = bench.write("bad.wav", "no")
    bench.refused("add: a bad recording makes no trial", filed(bad), (3,), ["bad.wav"])
    first = program.run(*filed(bench.good))
    report.line(first.code == 0, f"add: a good one does (exit {first.code})")
    bench.refused("add: a bad recording leaves the trial as it was", filed(bad), (3,), ["bad.wav"])
    path = os.path.join(trial, "trial.json")
    whole = open(path, encoding="utf-8").read()
    for what, content in (("damaged", whole[:len(whole) // 2]),
                          ("of a future schema", whole.replace("plumbline/trial/1", "plumbline/trial/2")),
                          ("empty", "")):
        with open(path, "w", encoding="utf-8") as f:
            f.write(content)
        bench.refused(f"add: a trial {what} is left alone", filed(bench.good), (3,), ["trial.json"])
    with open(path, "w", encoding="utf-8") as f:
        f.write(whole)
    theirs = os.path.join(bench.outputs, "theirs")
    os.mkdir(theirs)
    open(os.path.join(theirs, "diary.txt"), "w").close()
    bench.refused("add: a folder that is no trial", filed(bench.good, theirs), (3,), ["theirs"])
    again = program.run(*filed(bench.good))
    report.line(again.code == 0 and len(read_json(path)["takes"]) == 2,
                f"add: afterwards a second take is filed (exit {again.code})")
    for what, content in (("not JSON", "once upon"), ("an empty object", "{}"),
                          ("of a future schema", '{"schema": "plumbline/scenario/9"}')):
        scenario = bench.write("scenario.json", content)
        bench.refused(f"practice: {what}", ("practice", scenario, "--out", os.path.join(bench.outputs, "p")),
                      (3,), ["scenario.json"])
    bench.refused("practice: a folder", ("practice", bench.files, "--out", os.path.join(bench.outputs, "p")),
                  (3,), ["files"])


if __name__ == "__main__":
    main(recordings, plans, options, places, rights, full_disk, doubtful, trials)
