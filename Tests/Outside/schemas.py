"""Every JSON file that the program writes against its schema, and what a schema cannot say: arrays in step,
the grid, null exactly where nothing is known, the same rows in the table, a decimal point in every locale.

Also here, because it needs a trial: a take filed by `add` keeps the recording's samples and analyses again to
the same figures, and a clean take of the practice room agrees with the practice room's own truth.

What could pass here for the wrong reason: schemas that take anything (each must refuse a file with a key
missing, a NaN in words, a number out of range); no unknown values to look at (a noisy recording has some,
which is checked); a locale that is not there and falls back to C in silence (a German one is compiled, and
must print a comma); a truth that was read off the analysis (it is asked for before, in another process,
and differs between positions).
"""
import copy
import csv
import json
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import warnings

import numpy as np
from scipy.io import wavfile

from support import (UNGATED, System, analyse, grid, high_pass, known, later, main, peak, read_json, stack,
                     stimulus, wrapped,
                     write_wav)

try:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import jsonschema
except ImportError:
    sys.exit("falls short: no jsonschema here; install the package python3-jsonschema")

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCHEMAS, SCENARIO = ROOT / "Assets" / "schemas", ROOT / "Presets" / "practice" / "three-pairs.json"


def validator(kind):
    schema = read_json(SCHEMAS / f"{kind}.schema.json")
    jsonschema.Draft202012Validator.check_schema(schema)
    resolver = jsonschema.RefResolver((SCHEMAS / "here").as_uri(), schema)
    return jsonschema.Draft202012Validator(schema, resolver=resolver)


def faults_of(document):
    """What the schema named by the document's own first key says against it."""
    first = next(iter(document))
    if first != "schema":
        return [f"begins with {first}, not schema"]
    kind = document["schema"].split("/")[1]
    return [f"{'.'.join(map(str, e.absolute_path))}: {e.message[:80]}"
            for e in validator(kind).iter_errors(document)][:3]


def fits(report, what, path):
    document = read_json(path)
    faults = faults_of(document)
    report.line(not faults, f"{what} fits {document.get('schema')}" + "".join("; " + f for f in faults))
    return document


def in_step(report, what, analysis, low=20, high=20000):
    faults = []
    for side, found in analysis["sides"].items():
        response = found["response"]
        arrays = {k: v for k, v in response.items() if isinstance(v, list)}
        if len({len(v) for v in arrays.values()}) != 1:
            faults.append(f"{side}: arrays of lengths {sorted({len(v) for v in arrays.values()})}")
            continue
        f, wanted = np.array(response["frequencyHz"]), grid(low, high)
        if len(f) != len(wanted) or np.max(np.abs(f / wanted - 1)) > 1e-12:
            faults.append(f"{side}: not the grid 1000 2^(k/48)")
        for name in ("levelDb", "phaseDeg"):
            wrong = sum((v is None) == k for v, k in zip(response[name], response["known"]))
            if wrong:
                faults.append(f"{side}: {name} and known disagree at {wrong} frequencies")
    report.line(not faults, f"{what}: arrays in step, on the grid, null where unknown"
                + "".join("; " + f for f in faults))


def table_matches(report, what, folder, analysis):
    """response.csv names its columns; each side's frequency and level are found in it, row by row."""
    with open(os.path.join(folder, "response.csv"), encoding="utf-8", newline="") as f:
        rows = [row for row in csv.reader(f) if row and not row[0].startswith("#")]
    numbers = np.array([[float(v) if v.strip() else np.nan for v in row] for row in rows[1:]
                        if is_numeric(row)])
    sides, faults = analysis["sides"], []
    points = len(sides["left"]["response"]["frequencyHz"])
    if len(rows) - 1 not in (points, points * len(sides)):
        faults.append(f"{len(rows) - 1} rows for {points} frequencies")
    if len(numbers) == points:
        for side, found in sides.items():
            level = known(found["response"]["levelDb"])
            if not any(np.allclose(column, level, atol=0.006, equal_nan=True) for column in numbers.T):
                faults.append(f"no column holds the {side}'s level")
        if not any(np.allclose(c, sides["left"]["response"]["frequencyHz"], rtol=1e-3) for c in numbers.T):
            faults.append("no column holds the frequency")
    elif not faults:
        flat = np.concatenate([known(s["response"]["levelDb"]) for s in sides.values()])
        text = [c for c in np.array([r for r in rows[1:]], dtype=object).T]
        columns = [np.array([float(v) if re.fullmatch(r"[-+0-9.eE]+", v) else np.nan for v in c])
                   for c in text]
        if not any(np.allclose(c, flat, atol=0.006, equal_nan=True) for c in columns):
            faults.append("no column holds the levels")
    if any(re.search(r"nan|inf", v, re.I) for row in rows[1:] for v in row):
        faults.append("holds NaN or infinity")
    report.line(not faults, f"{what}: response.csv has the same rows ({len(rows) - 1})"
                + "".join("; " + f for f in faults))


def is_numeric(row):
    return all(re.fullmatch(r"\s*([-+0-9.eE]+)?\s*", v) for v in row)


def ending(done):
    return f"(exit {done.code}{' ' + done.err.strip()[:150] if done.code else ''})"


def make_recording(program, folder, noise=0.0):
    played = stimulus(program, folder, seconds=1)
    rate = played.rate
    pair = System(rate, high_pass(rate, 45),
                  peak(rate, 500, 2, 4)), System(rate, high_pass(rate, 60), peak(rate, 900, 2, -3))
    mic = later(sum(m.run(x) for m, x in zip(pair, played.sides())), 240)
    mic = mic + noise * np.random.default_rng(7).standard_normal(len(mic))
    return played, write_wav(os.path.join(folder, "c.wav"), rate, stack(mic, played.samples.sum(1)))


def outputs(program, report, folder):
    for name, noise in (("clean", 0.0), ("noisy", 0.02)):
        place = os.path.join(folder, name)
        os.mkdir(place)
        played, recording = make_recording(program, place, noise)
        fits(report, f"{name}: s.json", played.path)
        out = os.path.join(place, "out")
        analyse(program, recording, played.path, "--reference-channel", 2, out=out, allow=(0, 4))
        analysis = fits(report, f"{name}: analysis.json", os.path.join(out, "analysis.json"))
        in_step(report, name, analysis)
        table_matches(report, name, out, analysis)
        unknown = sum(not k for s in analysis["sides"].values() for k in s["response"]["known"])
        report.line((unknown > 0) == (noise > 0), f"control: {name} has {unknown} unknown values")
        with open(os.path.join(out, "response.svg"), encoding="utf-8") as f:
            picture = f.read()
        report.line("<svg" in picture and not re.search(r"\b(nan|inf)\b", picture, re.I),
                    f"{name}: response.svg draws no NaN")
        unbuilt = {"groupDelay", "distortion", "decay", "arrivals"} & set(analysis["sides"]["left"])
        empty = [k for k in unbuilt if not analysis["sides"]["left"][k] and k != "arrivals"]
        report.line(not empty, f"{name}: no key is there and empty {empty or ''}")
    strict(report, played.plan, analysis)


def strict(report, plan, analysis):
    """Each of these must be refused by the schema."""
    def spoil(document, *path_and_value):
        spoilt = copy.deepcopy(document)
        inner = spoilt
        for key in path_and_value[:-2]:
            inner = inner[key]
        if path_and_value[-1] is KeyError:
            del inner[path_and_value[-2]]
        else:
            inner[path_and_value[-2]] = path_and_value[-1]
        return spoilt
    spoilt = [spoil(plan, "sweep", KeyError), spoil(plan, "levelDbfs", 3),
              spoil(plan, "sampleRateHz", "48000"),
              spoil(plan, "layout", "totalSamples", 0.5), spoil(plan, "channels", ["right"]),
              spoil(analysis, "method", KeyError), spoil(analysis, "sides", "left", KeyError),
              spoil(analysis, "faults", ["clipped"]),
              spoil(analysis, "sides", "left", "polarity", 0),
              spoil(analysis, "sides", "left", "response", "known", KeyError),
              spoil(analysis, "sides", "left", "response", "levelDb", 0, "NaN"),
              spoil(analysis, "sides", "left", "response", "frequencyHz", 0, -1.0),
              spoil(analysis, "sides", "left", "response", "levelDb", 0, -1e300)]
    passed = [i for i, s in enumerate(spoilt) if not faults_of(s)]
    report.line(not passed,
                f"control: the schemas refuse {len(spoilt) - len(passed)} of {len(spoilt)} spoilt files"
                f" {passed or ''}")


def consistent(trial, folder):
    """Links inside trial.json and to the folders."""
    names = {s["name"] for s in trial["stances"]}
    setups = {s["id"]: s["stance"] for s in trial["setUps"]}
    positions = {p["name"] for p in trial["positions"]}
    monitors, faults = {m["name"] for m in trial["monitors"]}, []
    faults += [f"stance {n} of no monitor or orientation" for n in names
               if not any(n == f"{m}, {o}" for m in monitors for o in trial["orientations"])]
    faults += [f"set-up of no stance: {s}" for s in setups.values() if s not in names]
    if len(setups) != len(trial["setUps"]) or len({t["id"] for t in trial["takes"]}) != len(trial["takes"]):
        faults.append("ids twice")
    for take in trial["takes"]:
        place = os.path.join(folder, "takes", take["id"])
        if take["setUp"] not in setups or take["position"] not in positions:
            faults.append(f"take {take['id']} belongs nowhere")
        elif not {"capture.wav", "capture.json", "analysis.json"} <= set(os.listdir(place)):
            faults.append(f"take {take['id']} holds {os.listdir(place)}")
        else:
            card = read_json(os.path.join(place, "capture.json"))
            if (card["id"], card["stance"], card["setUp"],
                card["position"]) != (take["id"], setups[take["setUp"]], take["setUp"], take["position"]):
                faults.append(f"take {take['id']}: capture.json and trial.json disagree")
    listed = {t["id"] for t in trial["takes"]}
    faults += [f"takes/{n} is in no list" for n in os.listdir(os.path.join(folder, "takes"))
               if n not in listed]
    return faults


def agrees(report, what, summary, analysis):
    """A summary's levels are those of the analysis, at the same frequencies, and null where they are not known."""
    worst, faults = 0.0, []
    for side, found in analysis["sides"].items():
        levels = summary[side]["levelDb"]
        for hz, level, is_known in zip(*(found["response"][k] for k in ("frequencyHz", "levelDb", "known"))):
            mine = levels[round(48 * math.log2(hz / 1000)) - summary["firstStep"]]
            if is_known != (mine is not None):
                faults.append(f"{side} at {hz:.0f} Hz known: {is_known}")
            elif is_known:
                worst = max(worst, abs(mine - level))
    report.line(not faults and worst < 1e-4, f"{what}: levels off by {worst:.1e} dB" + "".join("; " + f for f in faults[:3]))


def filed(program, report, folder):
    played, recording = make_recording(program, folder, 0.0001)
    rate, samples = wavfile.read(recording)
    swapped = write_wav(os.path.join(folder, "swapped.wav"), rate, samples[:, ::-1])
    trial = os.path.join(folder, "trial")
    jobs = (("Heron 6, upright", 1, "seat", recording, (1, 2)),
            ("Heron 6, upright", 1, "left of the seat", recording, (1, 2)),
            ("Heron 6, upright", 2, "seat", swapped, (2, 1)),
            ("Osier 8, side, tweeters out", 1, "seat", recording, (1, None)))
    for stance, setup, position, wav, (mic, loop) in jobs:
        more = ("--reference-channel", loop) if loop else ()
        done = program.run("add", trial, wav, "--stimulus", played.path, "--stance", stance, "--set-up",
                           setup, "--position", position,
                           "--microphone-channel", mic, *more)
        report.line(done.code == 0,
                    f"add: {stance}, set-up {setup}, {position} {ending(done)}")
    document = fits(report, "add: trial.json", os.path.join(trial, "trial.json"))
    faults = consistent(document, trial)
    counts = (len(document["takes"]), len(document["setUps"]), len(document["stances"]),
              len(document["monitors"]), len(document["positions"]))
    report.line(not faults and counts == (4, 3, 2, 2, 2),
                f"add: takes, set-ups, stances, monitors, positions are {counts}"
                + "".join("; " + f for f in faults))
    report.line("choice" not in document, "add: no choice before one is made")
    direct = analyse(program, recording, played.path, "--reference-channel", 2,
                     out=os.path.join(folder, "direct"))
    for take, (_, _, _, _, (_, loop)) in zip(document["takes"], jobs):
        place = os.path.join(trial, "takes", take["id"])
        card = fits(report, f"take {take['id']}: capture.json", os.path.join(place, "capture.json"))
        analysis = fits(report, f"take {take['id']}: analysis.json", os.path.join(place, "analysis.json"))
        in_step(report, f"take {take['id']}", analysis)
        summary = fits(report, f"take {take['id']}: summary.json", os.path.join(place, "summary.json"))
        agrees(report, f"take {take['id']}: summary.json", summary, analysis)
        got_rate, got = wavfile.read(os.path.join(place, "capture.wav"))
        want = samples if loop else samples[:, :1]
        report.line(got_rate == rate and got.dtype == np.float32
                    and card["referenceChannel"] == (2 if loop else None)
                    and np.array_equal(got.reshape(len(got), -1)[:, :want.shape[1]], want),
                    f"take {take['id']}: microphone and loopback are kept to the last bit, 32-bit float")
        again = analyse(program, os.path.join(place, "capture.wav"), os.path.join(place, "capture.json"),
                        out=os.path.join(folder, "again-" + take["id"]),
                        *(("--reference-channel", 2) if loop else ()))
        report.line(same(again, analysis) and (not loop or same(again, direct)),
                    f"take {take['id']}: analysed again, the same figures")


def same(a, b):
    for side in a["sides"]:
        one, two = (known(x["sides"][side]["response"]["levelDb"]) for x in (a, b))
        if not np.allclose(one, two, atol=1e-6, equal_nan=True):
            return False
    return True


def practised(program, report, folder):
    """The shipped scenario, one take a stance, clean."""
    for scenario in sorted(SCENARIO.parent.glob("*.json")):
        fits(report, scenario.name, scenario)
    for mask in sorted((ROOT / "Presets" / "masks").glob("*.json")):
        fits(report, mask.name, mask)
    trial, truth_path = os.path.join(folder, "trial"), os.path.join(folder, "truth.json")
    done = program.run("practice", SCENARIO, "--out", trial, "--clean", "--set-ups", 1, "--takes", 1,
                       "--seed", 3, "--truth", truth_path, timeout=300)
    report.line(done.code == 0,
                f"practice --clean --truth {ending(done)}")
    document = fits(report, "practice: trial.json", os.path.join(trial, "trial.json"))
    truth = fits(report, "practice: truth.json", truth_path)
    faults = consistent(document, trial)
    report.line(not faults and len(document["stances"]) == 9,
                f"practice: three pairs, three orientations ({len(document['stances'])} stances)"
                + "".join("; " + f for f in faults))
    stances = {s["name"]: {p["name"]: p["sides"] for p in s["positions"]} for s in truth["stances"]}
    report.line(set(stances) == {s["name"] for s in document["stances"]},
                "practice: truth of every stance, no other")
    lengths = {len(side[k]) for s in stances.values() for p in s.values() for side in p.values()
               for k in ("frequencyHz", "levelDb", "phaseDeg")}
    report.line(len(lengths) == 1, f"practice: truth in step ({lengths})")
    seen, broken = [], []
    for take in document["takes"]:
        place = os.path.join(trial, "takes", take["id"])
        card = read_json(os.path.join(place, "capture.json"))
        broken += faults_of(card) + faults_of(read_json(os.path.join(place, "analysis.json")))
        seen.append((card, place))
    report.line(not broken, f"practice: {len(seen)} takes fit their schemas"
                + "".join("; " + f for f in broken[:4]))
    for card, place in seen:
        against_truth(program, report, folder, card, place, stances)


def single(program, report, folder):
    """A scenario of one monitor: the left alone, in every file."""
    trial, truth_path = os.path.join(folder, "trial"), os.path.join(folder, "truth.json")
    done = program.run("practice", SCENARIO.parent / "clean-wire.json", "--out", trial, "--clean",
                       "--set-ups", 1, "--takes", 1, "--truth", truth_path)
    report.line(done.code == 0, f"practice with a single monitor {ending(done)}")
    document = fits(report, "single: trial.json", os.path.join(trial, "trial.json"))
    truth = fits(report, "single: truth.json", truth_path)
    stances = {s["name"]: {p["name"]: p["sides"] for p in s["positions"]} for s in truth["stances"]}
    place = os.path.join(trial, "takes", document["takes"][0]["id"])
    card = fits(report, "single: capture.json", os.path.join(place, "capture.json"))
    analysis = fits(report, "single: analysis.json", os.path.join(place, "analysis.json"))
    kinds = [m["kind"] for m in document["monitors"]], card["stimulus"]["channels"], list(analysis["sides"])
    report.line(kinds == (["single"], ["left"], ["left"]), f"single: kind, channels and sides are {kinds}")
    against_truth(program, report, folder, card, place, stances)


def against_truth(program, report, folder, card, place, stances):
    loop = ("--reference-channel", card["referenceChannel"]) if card["referenceChannel"] else ()
    if card["calibration"]:
        microphone = os.path.join(folder, "microphone.txt")
        with open(microphone, "w", encoding="ascii") as f:
            f.writelines(" ".join(repr(v) for v in row if v is not None) + "\n"
                         for row in card["calibration"]["points"])
        loop += ("--calibration", microphone)
    result = analyse(program, os.path.join(place, "capture.wav"), os.path.join(place, "capture.json"), *loop,
                     *UNGATED, out=os.path.join(folder, "exact-" + card["id"]), allow=(0, 4))
    shifts = []
    for side, found in result["sides"].items():
        exact, response = stances[card["stance"]][card["position"]][side], found["response"]
        if not np.allclose(exact["frequencyHz"], response["frequencyHz"], rtol=1e-9):
            raise RuntimeError("truth and analysis have different frequencies")
        f = np.array(exact["frequencyHz"])
        off = np.max(np.abs(known(response["levelDb"]) - np.array(exact["levelDb"])))
        moved = found["travelTimeSeconds"] - exact["travelTimeSeconds"]
        shifts.append(moved * card["sampleRateHz"])
        turned = known(response["phaseDeg"]) - np.array(exact["phaseDeg"]) - 360 * f * moved
        turned = np.max(np.abs(wrapped(turned)))
        report.line(off <= 0.001 and turned <= 0.01,
                    f"{card['stance']}, {side}: within {off:.5f} dB (0.001),"
                    f" {turned:.4f} degrees (0.01) of the truth")
    # The scenario's two units of a pair differ in their response, and a response's own delay is part of its first peak: left
    # against right is exact only for like units (rates_and_bands.py asks that), so here only a fortieth of a sample is asked.
    report.line(np.ptp(shifts) <= 0.025 and np.max(np.abs(shifts)) <= 0.5,
                f"{card['stance']}: travel times {np.round(shifts, 4).tolist()} samples from the truth"
                " (0.5; 0.025 between unlike units)")


def german(folder):
    """A locale with a decimal comma, compiled into a folder of our own: (environment, its name)."""
    if shutil.which("localedef"):
        done = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8",
                               os.path.join(folder, "de_DE.UTF-8")], capture_output=True, check=False)
        setting = {"LOCPATH": folder, "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
        mark = subprocess.run([sys.executable, "-c",
                               "import locale; locale.setlocale(locale.LC_ALL, ''); print(locale.str(0.5))"],
                              capture_output=True, text=True, env={**os.environ, **setting},
                              check=False).stdout.strip()
        if done.returncode in (0, 1) and mark == "0,5":
            return setting, "de_DE"
    return {"LC_ALL": "C.UTF-8"}, "C.UTF-8"


def locales(program, report, folder):
    played, recording = make_recording(program, folder, 0.001)
    texts = {}
    setting, name = german(folder)
    if name != "de_DE":
        report.remark("no German locale can be compiled here (package locales): only C.UTF-8 is shown")
    for which, environment in (("plain", {"LC_ALL": "C"}), (name, setting)):
        program.environment = environment
        out = os.path.join(folder, "out-" + which)
        done = program.run("stimulus", "--out", os.path.join(folder, f"{which}.wav"), "--seconds", 1.5,
                           "--level", -20.5)
        analyse(program, recording, played.path, "--reference-channel", 2, "--temperature", 20.5, "--window",
                250.5, out=out, allow=(0, 4))
        texts[which] = [open(os.path.join(out, n), encoding="utf-8").read()
                        for n in ("analysis.json", "response.csv", "response.svg")]
        texts[which].append(open(os.path.join(folder, f"{which}.json"), encoding="utf-8").read()
                            if done.code == 0 else done.err)
    report.line(texts["plain"] == texts[name], f"under {name} every file is the same as under C")
    report.line(json.loads(texts[name][0])["temperatureC"] == 20.5
                and json.loads(texts[name][3])["levelDbfs"] == -20.5,
                f"under {name} options are read with a point")


if __name__ == "__main__":
    main(outputs, filed, practised, single, locales)
