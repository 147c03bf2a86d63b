#!/usr/bin/env python3
"""Judges a take that a real host made over a wire, from its files alone.

usage: check_take.py TRIALS --takes N --lag SAMPLES [--loopback] [--level -40] [--rate 48000]

TRIALS holds exactly one trial, whose trial.json names N takes; the last of them is judged:
  - capture.wav, channel 1, is the stimulus as capture.json describes it (made again here, with NumPy), SAMPLES
    late, with gain 1, and nothing else (cross-correlation, least squares)
  - channel 2 is the same with --loopback, and silent without
  - the curve is known and flat within 0.05 dB from 25 Hz to 19 kHz; no fault casts doubt on it
  - the travel time is 0 with --loopback, and SAMPLES without
What could pass here for the wrong reason: a judge that sees nothing. So the take is then damaged in memory, in each
way in turn, and each must be seen. Prints "holds: ..." or "falls short: ..." and ends with 1 if anything fell short.
"""
import argparse
import glob
import json
import os
import sys
import warnings

try:
    import numpy as np
    from scipy.io import wavfile
except ImportError as missing:
    sys.exit(f"falls short: {missing}; install the packages python3-numpy and python3-scipy")

LOW, HIGH, FLAT_DB = 25.0, 19000.0, 0.05


class Take:
    """The files of one take, as they are."""

    def __init__(self, folder):
        with open(os.path.join(folder, "capture.json"), encoding="utf-8") as file:
            self.capture = json.load(file)
        with open(os.path.join(folder, "analysis.json"), encoding="utf-8") as file:
            self.analysis = json.load(file)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", wavfile.WavFileWarning)
            self.rate, audio = wavfile.read(os.path.join(folder, "capture.wav"))
        self.channels = np.atleast_2d(audio.astype(float).T)


def last_take(trials, count):
    """The newest take of the only trial, once the trial names as many as it should."""
    found = glob.glob(os.path.join(trials, "*", "trial.json"))
    if len(found) != 1:
        raise ValueError(f"{len(found)} trials in {os.path.basename(trials)}, not one")
    with open(found[0], encoding="utf-8") as file:
        takes = json.load(file)["takes"]
    if len(takes) != count:
        raise ValueError(f"the trial names {len(takes)} takes, not {count}")
    folders = [os.path.join(os.path.dirname(found[0]), "takes", take["id"]) for take in takes]
    return Take(max(folders, key=lambda folder: os.path.getmtime(os.path.join(folder, "capture.json"))))


def played(stimulus):
    """What both sides play together, from capture.json: x(t) = sin(2 pi f1 L exp(t / L)), half-cosine fades."""
    sweep, layout = stimulus["sweep"], stimulus["layout"]
    k = np.arange(sweep["samples"])
    seconds = k / stimulus["sampleRateHz"]
    cycles = round(sweep["startHz"] * sweep["rateSeconds"])
    x = np.sin(2 * np.pi * cycles * np.exp(seconds / sweep["rateSeconds"]))
    for count, place in ((sweep["fadeInSamples"], k), (sweep["fadeOutSamples"], k[::-1])):
        x *= np.where(place < count, 0.5 - 0.5 * np.cos(np.pi * (place + 0.5) / max(count, 1)), 1.0)
    x *= 10 ** (stimulus["levelDbfs"] / 20)
    stream = np.zeros(layout["totalSamples"])
    for start in (layout["leftStartSample"], layout.get("rightStartSample")):
        if start is not None:
            stream[start:start + len(x)] += x
    return stream


def lag_of(sent, got):
    """Samples that `got` is late: the peak of the cross-correlation."""
    n = 1 << (len(sent) + len(got)).bit_length()
    c = np.fft.irfft(np.fft.rfft(got, n) * np.conj(np.fft.rfft(sent, n)), n)
    lag = int(np.argmax(np.abs(c)))
    return lag if lag < n // 2 else lag - n


def wire_faults(sent, got, lag, name):
    if not np.any(got):
        return [f"{name} is silent"]
    found = lag_of(sent, got)
    if found != lag:
        return [f"{name} is {found} samples late, not {lag}"]
    x, y = sent[:len(got) - lag], got[lag:lag + len(sent)]
    n = min(len(x), len(y))
    x, y = x[:n], y[:n]
    gain = float(x @ y / (x @ x))
    rest = 10 * np.log10(max(float(np.sum((y - gain * x) ** 2)), 1e-300) / float(y @ y))
    faults = []
    if abs(gain - 1) > 1e-6:
        faults.append(f"{name} has gain {gain:.7f}, not 1")
    if rest > -120:
        faults.append(f"{name} holds something else, {rest:.1f} dB below the stimulus")
    return faults


def curve_faults(side, name):
    response = side["response"]
    f = np.array(response["frequencyHz"])
    within = (f >= LOW) & (f <= HIGH)
    known = np.array(response["known"])[within]
    level = np.array([np.nan if v is None else v for v in response["levelDb"]], float)[within]
    if len(level) < 400:
        return [f"{name} has only {len(level)} frequencies"]
    if not np.all(known):
        return [f"{name} has {np.sum(~known)} unknown frequencies from {LOW:g} Hz to {HIGH:g} Hz"]
    worst = float(np.max(np.abs(level)))
    return [] if worst <= FLAT_DB else [f"{name} is off by {worst:.4f} dB"]


def faults_of(take, wanted):
    """Sentences; none if the take is what a wire gives."""
    stimulus = take.capture["stimulus"]
    faults = []
    if take.rate != wanted.rate or stimulus["sampleRateHz"] != wanted.rate:
        faults.append(f"the rate is {take.rate}, not {wanted.rate}")
    if stimulus["levelDbfs"] != wanted.level:
        faults.append(f"the level is {stimulus['levelDbfs']} dBFS, not {wanted.level}")
    start = take.capture["stimulusStartSample"] or 0
    sent = np.r_[np.zeros(max(start, 0)), played(stimulus)]
    faults += wire_faults(sent, take.channels[0], wanted.lag, "the microphone's channel")
    second = take.channels[1] if len(take.channels) > 1 else np.zeros(1)
    if wanted.loopback:
        faults += wire_faults(sent, second, wanted.lag, "the loopback's channel")
    elif np.any(second):
        faults.append("the loopback's channel is not silent, though nothing is connected to it")
    arrival = 0.0 if wanted.loopback else wanted.lag / wanted.rate
    for name, side in take.analysis["sides"].items():
        faults += curve_faults(side, name)
        seconds = side["travelTimeSeconds"]
        if seconds is None or abs(seconds - arrival) > 1e-9:
            faults.append(f"{name}: the travel time is {seconds} s, not {arrival}")
    if set(take.analysis["sides"]) != {"left", "right"}:
        faults.append("there are not two sides")
    faults += [f"it is doubtful: {f['words']}" for f in take.analysis["faults"] if f["severity"] == "doubt"]
    return faults


def late_by_one(take):
    take.channels = np.roll(take.channels, 1, axis=1)


def bent(take):
    level = take.analysis["sides"]["right"]["response"]["levelDb"]
    level[len(level) // 2] += 0.06


def hummed(take):
    n = take.channels.shape[1]
    take.channels[0] += 1e-4 * np.sin(2 * np.pi * 50 / take.rate * np.arange(n))


def silenced(take):
    take.channels[0] = 0


def travelled(take):
    take.analysis["sides"]["left"]["travelTimeSeconds"] += 1 / take.rate


DAMAGES = {"one sample later": late_by_one, "0.06 dB off at one frequency": bent, "a hum": hummed,
           "silence": silenced, "a travel time one sample off": travelled}


def main():
    parser = argparse.ArgumentParser(description="Judges a take made over a wire.")
    parser.add_argument("trials")
    parser.add_argument("--takes", type=int, required=True)
    parser.add_argument("--lag", type=int, required=True)
    parser.add_argument("--loopback", action="store_true")
    parser.add_argument("--level", type=float, default=-40.0)
    parser.add_argument("--rate", type=int, default=48000)
    wanted = parser.parse_args()
    try:
        take = last_take(wanted.trials, wanted.takes)
        faults = faults_of(take, wanted)
        if not faults:
            print(f"holds: stimulus {wanted.lag} samples late with gain 1, curve within {FLAT_DB} dB")
            for name, damage in DAMAGES.items():
                take = last_take(wanted.trials, wanted.takes)
                damage(take)
                if not faults_of(take, wanted):
                    faults.append(f"the judge does not see {name}")
    except (OSError, KeyError, TypeError, ValueError) as fault:
        faults = [f"the files cannot be judged: {type(fault).__name__}: {fault}"]
    for fault in faults:
        print(f"falls short: {fault}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
